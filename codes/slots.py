"""Numbers that no limit tells apart: between two ends of ranges every value has the same answer.

The ends are kept as whole micrometres (thousandths of any unit), so a limit is met exactly and never by rounding: a
value lies below, at, or above an end. A value that is not a whole number of thousandths stands for itself.
"""

from bisect import bisect_right
from collections.abc import Hashable, Iterable, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import lru_cache

from codes.limits import Free, Limit, Nothing, OneOf, Unrecorded, Within
from codes.values import Atom, Value

THOUSANDTHS = Decimal(1000)
_BLIND = (OneOf, Free, Nothing, Unrecorded)
"""Sets that hold no number, or all."""


class Slots:
    """The ends of ranges by variable. `None` in place of ends: some set judges numbers in a way of its own."""

    def __init__(self, ends: Mapping[str, frozenset[int] | None] | None = None) -> None:
        self._ends = dict(ends or {})
        self._sorted = {name: sorted(found) for name, found in self._ends.items() if found is not None}

    def joined(self, limits: Iterable[Limit]) -> "Slots":
        """These, and what some limits tell apart; itself where they tell nothing more apart."""
        found: dict[str, set[int]] = {name: set(ends) for name, ends in self._ends.items() if ends is not None}
        alone = {name for name, ends in self._ends.items() if ends is None}
        for limit in limits:
            for name, allowed in ((limit.variable, limit.allowed), *((w.variable, w.allowed) for w in limit.when)):
                ends = found.setdefault(name, set())
                if isinstance(allowed, Within):
                    stated = (allowed.interval.lo, allowed.interval.hi)
                    ends.update(whole for end in stated if end is not None for whole in _around(end))
                elif not isinstance(allowed, _BLIND):
                    alone.add(name)
        whole = {name: None if name in alone else frozenset(ends) for name, ends in found.items()}
        whole |= dict.fromkeys(alone)
        return self if whole == self._ends else Slots(whole)

    @property
    def read(self) -> frozenset[str]:
        """The variables that some limit reads."""
        return frozenset(self._ends)

    def ends(self, name: str) -> list[int] | None:
        """The ends of a variable [thousandths], each the least number above a gap; None where values stand alone."""
        return self._sorted.get(name)

    def of(self, name: str, value: Value) -> Hashable:
        """What stands for the value: values with the same have the same answer from every limit."""
        ends = self._sorted.get(name)
        if ends is None:
            return value
        if isinstance(value, tuple):
            return frozenset(_slot(ends, atom) for atom in value)
        return _slot(ends, value)


def _slot(ends: list[int], atom: Atom) -> Hashable:
    if not isinstance(atom, Decimal):
        return atom
    whole = thousandths(atom)
    return atom if whole is None else bisect_right(ends, whole)


def thousandths(value: Decimal) -> int | None:
    """A number in whole thousandths, None where it is none. Example: 6.5 mm are 6500 micrometres."""
    scaled = value * THOUSANDTHS
    return int(scaled) if scaled == scaled.to_integral_value() else None


@lru_cache(maxsize=4096)
def _around(end: Decimal) -> tuple[int, int]:
    """The least whole number of thousandths at or above an end, and the least one above it."""
    scaled = end * THOUSANDTHS
    return int(scaled.to_integral_value(ROUND_CEILING)), int(scaled.to_integral_value(ROUND_FLOOR)) + 1
