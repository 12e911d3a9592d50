"""What keeps a demand from being covered, without a word said: the quick half of every verdict.

Equal to the explained verdict in outcome, reasons and nearness; tests hold the two together.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from codes.check import outcome_of
from codes.limits import Limit
from codes.values import Value
from codes.verdict import Outcome

Key = tuple[bool, int, int]
Failing = tuple[tuple[Outcome, str, str], ...]
"""The limits that fail, as (outcome, variable, reason) in their order."""
NONE: frozenset[str] = frozenset()


def _nothing() -> Failing:
    return ()


@dataclass(frozen=True, slots=True)
class Misses:
    """The variables that are outside and those not stated; `covered` as the verdict would say; `failing` when asked."""

    covered: bool
    outside: frozenset[str] = NONE
    unstated: frozenset[str] = NONE
    failing: Callable[[], Failing] = field(default=_nothing, repr=False, compare=False)

    @property
    def key(self) -> Key:
        """Sort key, nearest first, as codes.check.nearness."""
        return not self.covered, len(self.outside), len(self.unstated - self.outside)

    @property
    def outcome(self) -> Outcome:
        """The answer."""
        if self.covered:
            return Outcome.COVERED
        return Outcome.OUTSIDE if self.outside else Outcome.NOT_STATED

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reason keys, worst first, each once."""
        ordered = sorted(self.failing(), key=lambda miss: miss[0].rank)
        return tuple(dict.fromkeys(reason for _, _, reason in ordered))


COVERED = Misses(True)


def misses(demand: Mapping[str, Value], limits: Iterable[Limit], open_if_none: bool = False) -> Misses:
    """What fails of these limits. Where none of them counts, nothing is covered, unless `open_if_none` (gates)."""
    failing: list[tuple[Outcome, str, str]] = []
    counted = open_if_none
    for limit in limits:
        outcome = outcome_of(demand, limit)
        if outcome is None:
            continue
        counted = True
        if outcome is not Outcome.COVERED:
            failing.append((outcome, limit.variable, limit.reason or limit.variable))
    if not failing:
        return COVERED if counted else Misses(False)
    return _of(tuple(failing))


def miss(outcome: Outcome, variable: str, reason: str) -> Misses:
    """One miss that no limit speaks of, such as a missing record."""
    return _of(((outcome, variable, reason),))


def _of(failing: Failing) -> Misses:
    outside = frozenset(variable for outcome, variable, _ in failing if outcome is Outcome.OUTSIDE)
    unstated = frozenset(variable for outcome, variable, _ in failing if outcome is Outcome.NOT_STATED)
    return Misses(False, outside, unstated, lambda: failing)


def joined_misses(parts: Iterable[Misses]) -> Misses:
    """Several that must all hold."""
    each = tuple(parts)
    if all(part is COVERED for part in each):
        return COVERED
    return Misses(
        all(part.covered for part in each),
        NONE.union(*(part.outside for part in each)),
        NONE.union(*(part.unstated for part in each)),
        lambda: tuple(one for part in each for one in part.failing()),
    )
