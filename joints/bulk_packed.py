"""The bit masks of codes.columns for very many demands at once, packed in machine words (numpy, the extra `fast`).

A demand is a row of small numbers, one for each variable; equal numbers stand for values that no limit tells apart.
For every combination of numbers that some limits read, the one checker says once which rows refuse it; what is left is
an AND over words. Without numpy the same is asked demand by demand.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray

from codes.columns import Columns, Part, Sorted
from codes.limits import LimitSet
from codes.masks import any_of
from codes.slots import THOUSANDTHS, Slots
from codes.values import Value

Words = NDArray[np.uint64]
Numbers = NDArray[np.int64]
CHUNK = 4096
"""Demands answered at a time: their words stay near the processor."""
LEAD = ("process", "mechanisation")
"""What few limit sets have in common: those that share it lie side by side, and of the rest no word is looked at."""
ROWS = 1024
"""Tables are put together up to so many rows."""
ALL = np.uint64(2**64 - 1)
SMALL = 1 << 22
"""Combinations that are marked in a table; more of them are sorted."""


@dataclass(frozen=True, slots=True)
class Coded:
    """Demands by variable: the different values (None: not stated), and for each demand the place of its own.

    All arrays have the same length.
    """

    values: Mapping[str, Sequence[Value | None]]
    places: Mapping[str, Numbers]

    @property
    def size(self) -> int:
        """How many demands."""
        return len(next(iter(self.places.values()))) if self.places else 0

    def distinct(self) -> "tuple[Coded, Numbers]":
        """Every different demand once, and for each demand which of them it is."""
        which, first = _together(list(self.places.values()), self.size)
        return Coded(self.values, {name: places[first] for name, places in self.places.items()}), which


class Packed:
    """Limit sets ready for very many demands. Bit i of a row of words stands for `sets[i]`, in an order of its own."""

    def __init__(self, sets: Iterable[LimitSet]) -> None:
        self.sets = tuple(sorted(sets, key=_lead))
        limits = Sorted((1 << i, limits.limits) for i, limits in enumerate(self.sets))
        self._columns, self.slots = Columns(limits), Slots().joined(limits.limits)
        self.words = max(1, -(-len(self.sets) // 64))
        self._able = any_of(1 << i for i, limits in enumerate(self.sets) if limits.limits)

    def coded(self, terms: Mapping[str, Sequence[Value | None]], numbers: Mapping[str, Numbers]) -> Coded:
        """Demands from plain columns of one length: values as they are, and numbers in whole thousandths.

        Numbers that no limit tells apart get the same place.
        """
        values: dict[str, Sequence[Value | None]] = {}
        places: dict[str, Numbers] = {}
        for name, column in terms.items():
            known: dict[Value | None, int] = {}
            places[name] = np.fromiter((known.setdefault(one, len(known)) for one in column), np.int64, len(column))
            values[name] = list(known)
        for name, measured in numbers.items():
            ends = self.slots.ends(name)
            slots = measured if ends is None else np.searchsorted(np.asarray(ends, np.int64), measured, side="right")
            places[name], first = _numbered(np.asarray(slots, np.int64), None)
            values[name] = [Decimal(int(one)) / THOUSANDTHS for one in measured[first]]
        return Coded(values, places)

    def covering(self, asked: Coded, workers: int = 2) -> Words:
        """(demands, words): the limit sets that cover each demand."""
        found = np.zeros((asked.size, self.words), np.uint64)

        def keep(chunk: Numbers, low: int, words: Words) -> None:
            found[chunk, low : low + words.shape[1]] = words

        self._each(asked, keep, workers)
        return found

    def counts(self, asked: Coded, workers: int = 2) -> Numbers:
        """How many limit sets cover each demand."""
        found = np.zeros(asked.size, np.int64)

        def keep(chunk: Numbers, low: int, words: Words) -> None:
            found[chunk] = np.bitwise_count(words).sum(axis=1, dtype=np.int64)

        self._each(asked, keep, workers)
        return found

    def _each(self, asked: Coded, keep: Callable[[Numbers, int, Words], None], workers: int) -> None:
        """Hand over chunk by chunk the demands, the first word that may hold something, and the words from there."""
        tables = self.tables(asked)
        lead = [(table, places) for names, table, places in tables if set(names) <= set(LEAD)]
        open_ = (np.full((1, self.words), ALL, np.uint64), np.zeros(asked.size, np.int64))
        rest = _joined([open_, *((table, places) for names, table, places in tables if not set(names) <= set(LEAD))])
        which, firsts = _together([places for _, places in lead], asked.size)
        order = np.argsort(which, kind="stable")
        ends = np.cumsum(np.bincount(which, minlength=len(firsts)))
        jobs: list[tuple[Numbers, int, list[tuple[Words, Numbers]]]] = []
        for number, first in enumerate(firsts):
            able = packed([self._able], self.words)[0]
            for table, places in lead:
                able = able & table[places[first]]
            held = np.flatnonzero(able)
            if len(held) == 0:
                continue
            low, high = int(held[0]), int(held[-1]) + 1
            mine = order[ends[number - 1] if number else 0 : ends[number]]
            (smallest, at), *more = [(np.ascontiguousarray(table[:, low:high]), places) for table, places in rest]
            parts = [(smallest & able[low:high], at), *more]
            jobs += [(mine[i : i + CHUNK], low, parts) for i in range(0, len(mine), CHUNK)]
        with ThreadPoolExecutor(workers) as pool:
            list(pool.map(lambda job: keep(job[0], job[1], _anded(job[0], job[2])), jobs))

    def tables(self, asked: Coded) -> list[tuple[tuple[str, ...], Words, Numbers]]:
        """For each group of variables that limits read together: their names, the words of every combination that
        occurs, and for each demand the place of its own. The answer is the AND of all of them.
        """
        return [(part.names, *self._table(part, asked)) for part in self._columns.parts(frozenset(asked.places))]

    def _table(self, part: Part, asked: Coded) -> tuple[Words, Numbers]:
        if len(part.names) == 1:
            (name,) = part.names
            stated_alone = ({} if value is None else {name: value} for value in asked.values[name])
            return self._words(part, stated_alone), asked.places[name]
        key, room = np.zeros(asked.size, np.int64), 1
        for name in part.names:
            key = key * len(asked.values[name]) + asked.places[name]
            room *= len(asked.values[name])
        places, first = _numbered(key, room)
        each = ({name: asked.values[name][asked.places[name][one]] for name in part.names} for one in first)
        demands = ({name: value for name, value in stated.items() if value is not None} for stated in each)
        return self._words(part, demands), places

    def _words(self, part: Part, demands: Iterable[Mapping[str, Value]]) -> Words:
        """The limit sets that the columns of a part leave, for each of some demands."""
        return packed((self._able & ~self._columns.judged_part(part, one).bad for one in demands), self.words)


def packed(masks: Iterable[int], words: int) -> Words:
    """Masks as rows of words. Example: packed([0b101], 1) is [[5]]."""
    held = b"".join(mask.to_bytes(words * 8, "little") for mask in masks)
    return np.frombuffer(held, "<u8").reshape(-1, words).astype(np.uint64)


def masks_of(found: Words) -> list[int]:
    """Rows of words as masks again."""
    return [int.from_bytes(row.astype("<u8").tobytes(), "little") for row in found]


def _lead(limits: LimitSet) -> list[str]:
    return [str(one.allowed) for name in LEAD for one in limits.limits if one.variable == name]


def _joined(tables: Sequence[tuple[Words, Numbers]]) -> list[tuple[Words, Numbers]]:
    """Fewer tables that say the same, the smallest first: every row of one with every row of another, once and for all
    demands, as long as they stay near the processor.
    """
    found: list[tuple[Words, Numbers]] = []
    for table, places in sorted(tables, key=lambda one: len(one[0])):
        if found and len(found[-1][0]) * len(table) <= ROWS:
            before, at = found.pop()
            both = before[:, None, :] & table[None, :, :]
            table, places = both.reshape(-1, table.shape[1]), at * len(table) + places
        found.append((table, places))
    return found


def _anded(chunk: Numbers, tables: Sequence[tuple[Words, Numbers]]) -> Words:
    (first, at), *more = tables
    found = np.take(first, at[chunk], axis=0)
    held = np.empty_like(found)
    for table, places in more:
        np.take(table, places[chunk], axis=0, out=held)
        np.bitwise_and(found, held, out=found)
    return found


def _together(places: Sequence[Numbers], size: int) -> tuple[Numbers, Numbers]:
    """One number for each combination of places, and the first demand that has it."""
    key = np.zeros(size, np.int64)
    for one in places:
        key, _ = _numbered(key * (int(one.max(initial=0)) + 1) + one, None)
    return _numbered(key, None)


def _numbered(key: Numbers, room: int | None) -> tuple[Numbers, Numbers]:
    """Small numbers in place of large ones, and for each small number the first demand that has it."""
    top = room if room is not None else int(key.max(initial=0)) + 1
    if top > SMALL:
        _, first, places = np.unique(key, return_index=True, return_inverse=True)
        return places.astype(np.int64), first
    first_of = np.full(top, -1, np.int64)
    # The last one written stays: written backwards, that is the first.
    first_of[key[::-1]] = np.arange(len(key) - 1, -1, -1)
    held = first_of >= 0
    number = np.cumsum(held) - 1
    return number[key], first_of[held]
