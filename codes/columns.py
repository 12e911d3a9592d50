"""Limits of many rows, a bit mask for each variable: which rows refuse, which leave the question open.

A row is a record, a procedure's own range or a gate. Every combination of values that some limits of a variable read
is judged once by the one checker, and alike limits of several rows once for all of them; what was judged is looked up.
A row may fill in what the demand leaves to it.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from itertools import chain
from operator import itemgetter
from typing import NamedTuple

from codes.check import Demand, outcome_of
from codes.cover import may_cut
from codes.limits import Free, Limit
from codes.masks import any_of
from codes.slots import Slots
from codes.values import Value
from codes.verdict import Outcome

Codes = Mapping[str, int]
"""What stands for each value of a demand: equal numbers mean equal answers from every limit."""
Fill = Callable[[Value | None], Sequence[tuple[Mapping[str, Value], int]]]
"""What rows fill in for a process: each different filling, and the rows that fill in so. Each row stands in one."""
Counts = Callable[[str, Demand], bool]
"""True where the rows' limits on a variable say something about a demand."""
Failing = tuple[str, int, int]
"""A variable, and the rows in which it is outside and not stated."""
Masks = tuple[int, int, int, int]
"""Rows: outside, not stated, speaking, and never covering a part."""


class Judged:
    """What some limits say to a demand, as masks of rows. `whole`: rows of which no part of the demand is covered."""

    __slots__ = ("_parts", "bad", "speaks", "whole")

    def __init__(self, bad: int, speaks: int, whole: int, parts: Sequence[tuple[Failing, ...]]) -> None:
        self.bad, self.speaks, self.whole, self._parts = bad, speaks, whole, parts

    @property
    def failing(self) -> tuple[Failing, ...]:
        """The variables that keep rows from covering; put together when asked, for most demands nobody asks."""
        return tuple(chain.from_iterable(self._parts))


def no_fill(process: Value | None) -> Sequence[tuple[Mapping[str, Value], int]]:
    """Rows that fill in nothing."""
    return [({}, -1)]


Row = tuple[int, Sequence[Limit]]
"""The bits that some limits stand for. Rows that fill in the same may share them."""


class Alike:
    """Limits that say the same: one of them, and the masks of the rows."""

    def __init__(self, limit: Limit) -> None:
        self.limit = limit
        self.rows: list[int] = []

    @cached_property
    def mask(self) -> int:
        """All rows."""
        return any_of(self.rows)


class Sorted:
    """The limits of all rows, those that say the same put together, by variable and by what else they read."""

    def __init__(self, rows: Iterable[Row], free: bool = False, more: Mapping[str, str] | None = None) -> None:
        """`free`: what is not restricted counts too. `more`: variable -> one that is read besides."""
        self.found: dict[tuple[str, frozenset[str]], dict[Hashable, Alike]] = {}
        decides = more or {}
        for mask, limits in rows:
            for limit in limits:
                if not free and isinstance(limit.allowed, Free):
                    continue
                name = limit.variable
                read = _read_by(name, tuple([when.variable for when in limit.when]), decides.get(name))
                _same(limit, self.found.setdefault((name, read), {})).rows.append(mask)

    @property
    def limits(self) -> Iterator[Limit]:
        """One of each kind."""
        return (one.limit for alike in self.found.values() for one in alike.values())


class Columns:
    """The limits of all rows, ready for many questions."""

    def __init__(self, limits: Sorted, fill: Fill = no_fill, counts: Counts | None = None) -> None:
        """`fill` is asked once for each process; `counts` whether a variable counts for a demand."""
        self._counts = counts
        self._filled = fill is not no_fill
        self._columns = [_Column(*key, list(alike.values()), fill) for key, alike in limits.found.items()]
        self._plans: dict[frozenset[str], list[Part]] = {}
        self._parts: dict[tuple[tuple[str, ...], tuple[_Column, ...]], Part] = {}
        self._put_together: dict[tuple[Part, ...], Group] = {}
        self._grouped: dict[tuple[str, ...], list[Group]] = {}
        self._measured = frozenset(name for column in self._columns for name in column.measured)

    def parts(self, shape: frozenset[str]) -> "list[Part]":
        """The columns that read the same of a demand which states these variables, put together."""
        if shape not in self._plans:
            self._plans[shape] = self._plan(shape)
        return self._plans[shape]

    def judged(self, demand: Demand, codes: Codes) -> Judged:
        """What all limits say to the demand. A variable may stand in `failing` more than once."""
        bad = speaks = whole = 0
        failing: list[tuple[Failing, ...]] = []
        for group in self._groups(tuple(codes)):
            key = group.key(codes)
            known = group.known.get(key)
            if known is None:
                known = group.known[key] = self._together(group, demand, codes)
            speaks |= known.speaks
            if known.bad:
                bad |= known.bad
                whole |= known.whole
                failing.append(known.failing)
        return Judged(bad, speaks, whole, failing)

    def _together(self, group: "Group", demand: Demand, codes: Codes) -> "Said":
        """What all parts of a group say."""
        bad = speaks = whole = 0
        failing: list[Failing] = []
        for part in group.parts:
            key = part.key(codes)
            known = part.known.get(key)
            if known is None:
                known = part.known[key] = self.judged_part(part, demand)
            speaks |= known.speaks
            bad |= known.bad
            whole |= known.whole
            failing += known.failing
        return Said(bad, speaks, whole, tuple(failing))

    def _groups(self, order: tuple[str, ...]) -> "list[Group]":
        """The parts by the measured variables that they read; those that read none are one group.

        Terms occur in few combinations and sizes in many, so most of what is said is found in one look-up.
        """
        known = self._grouped.get(order)
        if known is None:
            groups: dict[frozenset[str], list[Part]] = {}
            for part in self.parts(frozenset(order)):
                groups.setdefault(self._measured.intersection(part.names), []).append(part)
            known = self._grouped[order] = [self._group(tuple(parts)) for parts in groups.values()]
        return known

    def _group(self, parts: "tuple[Part, ...]") -> "Group":
        known = self._put_together.get(parts)
        if known is None:
            known = self._put_together[parts] = Group(parts)
        return known

    def _plan(self, shape: frozenset[str]) -> "list[Part]":
        """Variables that read the same of such a demand are looked up together."""
        groups: dict[tuple[str, ...], list[_Column]] = {}
        for column in self._columns:
            names = column.reads & shape
            if self._filled and names != column.reads and "process" in shape:
                names |= {"process"}
            groups.setdefault(tuple(sorted(names)), []).append(column)
        return [self._part(names, tuple(columns)) for names, columns in groups.items()]

    def _part(self, names: tuple[str, ...], columns: "tuple[_Column, ...]") -> "Part":
        """One for all demands that state the same of what these columns read, whatever else they state."""
        known = self._parts.get((names, columns))
        if known is None:
            known = self._parts[names, columns] = Part(names, columns)
        return known

    def judged_part(self, part: "Part", demand: Demand) -> "Said":
        """What the columns of one part say."""
        bad = speaks = whole = 0
        failing: list[Failing] = []
        for column in part.columns:
            if self._counts is not None and not self._counts(column.name, demand):
                continue
            outside, unstated, says, never = column.judged(demand)
            speaks |= says
            whole |= never
            if outside | unstated:
                bad |= outside | unstated
                failing.append((column.name, outside, unstated))
        return Said(bad, speaks, whole, tuple(failing))


class Said(NamedTuple):
    """What a part says to a demand: the same as what all limits say."""

    bad: int
    speaks: int
    whole: int
    failing: tuple[Failing, ...]


class Part:
    """Columns that read the same variables, and what they said so far."""

    def __init__(self, names: tuple[str, ...], columns: "tuple[_Column, ...]") -> None:
        self.names, self.columns = names, columns
        self.known: dict[Hashable, Said] = {}
        self.key: Callable[[Codes], Hashable] = itemgetter(*names) if names else _nothing


class Group:
    """Parts that are looked up at once, and what they said so far."""

    def __init__(self, parts: tuple[Part, ...]) -> None:
        self.parts = parts
        names = sorted({name for part in parts for name in part.names})
        self.known: dict[Hashable, Said] = {}
        self.key: Callable[[Codes], Hashable] = itemgetter(*names) if names else _nothing


def _nothing(codes: Codes) -> Hashable:
    return ()


@lru_cache(maxsize=4096)
def _read_by(name: str, conditions: tuple[str, ...], decides: str | None) -> frozenset[str]:
    return frozenset({name, *conditions, *((decides,) if decides else ())})


class _Column:
    """All limits on one variable that read the same."""

    def __init__(self, name: str, reads: frozenset[str], limits: Sequence[Alike], fill: Fill) -> None:
        self.name, self.reads = name, reads
        self._limits, self._fill = limits, fill
        self._alike: dict[tuple[Value | None, tuple[str, ...]], list[tuple[Limit, Mapping[str, Value], int]]] = {}
        # These few limits tell less apart than all limits do together.
        self._slots = Slots().joined(one.limit for one in limits)
        self.measured = [one for one in reads if self._slots.ends(one)]
        self._known: dict[Hashable, Masks] = {}

    def judged(self, demand: Demand) -> Masks:
        """What the limits say."""
        stated = {name: demand[name] for name in self.reads if name in demand}
        process = demand.get("process") if len(stated) < len(self.reads) else None
        key = process, tuple((name, self._slots.of(name, value)) for name, value in stated.items())
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._judge(stated, process)
        return known

    def _judge(self, stated: Demand, process: Value | None) -> Masks:
        outside = unstated = speaks = never = 0
        for limit, filled, rows in self._groups(process, tuple(stated)):
            box = {**filled, **stated}
            outcome = outcome_of(box, limit)
            if outcome is None:
                continue
            speaks |= rows
            if outcome is Outcome.COVERED:
                continue
            if outcome is Outcome.OUTSIDE:
                outside |= rows
            else:
                unstated |= rows
            if not may_cut(box, limit):
                never |= rows
        return outside, unstated, speaks, never

    def _groups(self, process: Value | None, stated: tuple[str, ...]) -> list[tuple[Limit, Mapping[str, Value], int]]:
        """Limits that say the same with the same filled in: one of them, the filling, and their rows."""
        known = self._alike.get((process, stated))
        if known is None:
            open_ = [name for name in self.reads if name not in stated]
            known = self._alike[process, stated] = [
                (one.limit, filled, rows) for one in self._limits for filled, rows in self._filled(one, process, open_)
            ]
        return known

    def _filled(
        self, one: Alike, process: Value | None, open_: Sequence[str]
    ) -> Iterable[tuple[Mapping[str, Value], int]]:
        """What the rows fill in of what is open, and which rows fill in the same."""
        if not open_ or self._fill is no_fill:
            return [({}, one.mask)]
        found: dict[tuple[Value | None, ...], int] = {}
        for whole, rows in self._fill(process):
            if mask := one.mask & rows:
                values = tuple([whole.get(name) for name in open_])
                found[values] = found.get(values, 0) | mask
        return [
            ({name: value for name, value in zip(open_, values, strict=True) if value is not None}, mask)
            for values, mask in found.items()
        ]


def merged(failing: Iterable[Failing]) -> dict[str, tuple[int, int]]:
    """Variable -> (outside, not stated), each variable once."""
    whole: dict[str, tuple[int, int]] = {}
    for name, outside, unstated in failing:
        known = whole.get(name)
        whole[name] = (known[0] | outside, known[1] | unstated) if known is not None else (outside, unstated)
    return whole


def _same(limit: Limit, among: dict[Hashable, Alike]) -> Alike:
    """The one that says the same; itself where its set has no hash."""
    says = limit.says
    try:
        known = among.get(says)
    except TypeError:
        return among.setdefault(id(limit), Alike(limit))
    if known is None:
        known = among[says] = Alike(limit)
    return known
