"""The same answer in bulk: many demands against many limit sets, each value judged once per variable.

For every variable the limit sets' answers to one combination of values (the variable itself and those its conditions
look at) are worked out once by the explaining checker and kept as two bit masks: covered, and outside. A demand is
then answered by an AND over its variables. Equal to `check` by construction; a property test holds it to that.
"""

from collections.abc import Sequence

from codes.check import Demand, outcome_of
from codes.limits import Free, Limit, LimitSet
from codes.values import Value
from codes.verdict import Outcome

Key = tuple[Value | None, ...]


class Compiled:
    """Limit sets ready for many questions. Bit i of a mask stands for limit set i."""

    def __init__(self, sets: Sequence[LimitSet]) -> None:
        self.sets = tuple(sets)
        # A limit set without limits covers nothing.
        self.all = sum(1 << i for i, limits in enumerate(self.sets) if limits.limits)
        self.everything = (1 << len(self.sets)) - 1
        self._columns = [_Column(name, self.sets) for name in _variables(self.sets)]

    def masks(self, demand: Demand) -> tuple[int, int]:
        """(covered, outside) as bit masks; a set in neither answers 'not stated'."""
        covered, outside = self.all, 0
        for column in self._columns:
            fits, misses = column.masks(demand)
            covered &= fits
            outside |= misses
        return covered, outside

    def covering(self, demand: Demand) -> list[int]:
        """The indexes of the limit sets that cover the demand."""
        covered, _ = self.masks(demand)
        return [i for i in range(len(self.sets)) if covered >> i & 1]

    def failing(self, demand: Demand) -> list[tuple[str, int, int]]:
        """(variable, outside, not stated) as bit masks, for every variable that keeps a limit set from covering."""
        found: list[tuple[str, int, int]] = []
        for column in self._columns:
            fits, misses = column.masks(demand)
            if fits != self.everything:
                found.append((column.name, misses, self.everything & ~fits & ~misses))
        return found


class _Column:
    """All limits on one variable, over all limit sets."""

    def __init__(self, name: str, sets: Sequence[LimitSet]) -> None:
        self.name = name
        self._limits = [(i, limit) for i, ls in enumerate(sets) for limit in ls.limits if limit.variable == name]
        self._free = sum(1 << i for i in range(len(sets)))
        reads = {name: None} | {when.variable: None for _, limit in self._limits for when in limit.when}
        self._reads = tuple(reads)
        self._known: dict[Key, tuple[int, int]] = {}

    def masks(self, demand: Demand) -> tuple[int, int]:
        key = tuple(map(demand.get, self._reads))
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._judge(demand)
        return known

    def _judge(self, demand: Demand) -> tuple[int, int]:
        covered, outside = self._free, 0
        for i, limit in self._limits:
            outcome = outcome_of(demand, limit)
            if outcome is None or outcome is Outcome.COVERED:
                continue
            covered &= ~(1 << i)
            if outcome is Outcome.OUTSIDE:
                outside |= 1 << i
        return covered, outside


def _variables(sets: Sequence[LimitSet]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(limit.variable for ls in sets for limit in ls.limits if not _always(limit)))


def _always(limit: Limit) -> bool:
    return isinstance(limit.allowed, Free)
