"""The same answer in bulk: many demands against many limit sets, each value judged once per variable.

For every variable the limit sets' answers to one combination of values (the variable itself and those its conditions
look at) are worked out once by the explaining checker and kept as bit masks (codes.columns). A demand is then answered
by an AND over its variables. Equal to `check` by construction; a property test holds it to that.
"""

from collections.abc import Sequence

from codes.check import Demand
from codes.columns import Columns, Judged, Sorted, merged
from codes.limits import LimitSet
from codes.masks import bits
from codes.slots import Slots
from codes.values import Value


class Compiled:
    """Limit sets ready for many questions. Bit i of a mask stands for limit set i."""

    def __init__(self, sets: Sequence[LimitSet]) -> None:
        self.sets = tuple(sets)
        # A limit set without limits covers nothing.
        self.all = sum(1 << i for i, limits in enumerate(self.sets) if limits.limits)
        self.everything = (1 << len(self.sets)) - 1
        limits = Sorted((1 << i, limits.limits) for i, limits in enumerate(self.sets))
        self._columns, self._slots = Columns(limits), Slots().joined(limits.limits)
        self._codes: dict[str, dict[Value, int]] = {}
        self._numbers: dict[object, int] = {}

    def masks(self, demand: Demand) -> tuple[int, int]:
        """(covered, outside) as bit masks; a set in neither answers 'not stated'."""
        judged, outside = self._judged(demand), 0
        for _, out, _ in judged.failing:
            outside |= out
        return self.all & ~judged.bad, outside

    def covering(self, demand: Demand) -> list[int]:
        """The indexes of the limit sets that cover the demand."""
        return bits(self.all & ~self._judged(demand).bad)

    def failing(self, demand: Demand) -> list[tuple[str, int, int]]:
        """(variable, outside, not stated) as bit masks, by name, for every variable that keeps a set from covering."""
        found = merged(self._judged(demand).failing)
        return [(name, outside, unstated & ~outside) for name, (outside, unstated) in sorted(found.items())]

    def _judged(self, demand: Demand) -> Judged:
        codes = {name: self._code(name, value) for name, value in demand.items() if name in self._slots.read}
        return self._columns.judged(demand, codes)

    def _code(self, name: str, value: Value) -> int:
        known = self._codes.setdefault(name, {})
        if value not in known:
            known[value] = self._numbers.setdefault((name, self._slots.of(name, value)), len(self._numbers))
        return known[value]
