"""Numbers that no limit tells apart: between two ends of ranges every value has the same answer.

The ends are kept as whole micrometres (thousandths of any unit), so a limit is met exactly and never by rounding: a
value lies below, at, or above an end. A value that is not a whole number of thousandths stands for itself.
"""

from bisect import bisect_right
from collections.abc import Hashable, Iterable, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.limits import Allowed, Free, Limit, Nothing, OneOf, Unrecorded, Within
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
        found = dict(self._ends)
        for limit in limits:
            for name, allowed in ((limit.variable, limit.allowed), *((w.variable, w.allowed) for w in limit.when)):
                known = found.get(name, frozenset())
                more = _ends_of(allowed)
                found[name] = None if known is None or more is None else known | more
        return self if found == self._ends else Slots(found)

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


def _ends_of(allowed: Allowed) -> frozenset[int] | None:
    """The least whole number at or above each end, and the least one above it."""
    if isinstance(allowed, Within):
        stated = [end for end in (allowed.interval.lo, allowed.interval.hi) if end is not None]
        scaled = [end * THOUSANDTHS for end in stated]
        at = {int(end.to_integral_value(ROUND_CEILING)) for end in scaled}
        above = {int(end.to_integral_value(ROUND_FLOOR)) + 1 for end in scaled}
        return frozenset(at | above)
    return frozenset() if isinstance(allowed, _BLIND) else None
