"""What keeps a demand from being covered, without a word said: the quick half of every verdict.

Equal to the explained verdict in outcome, reasons and nearness; tests hold the two together.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from codes.check import outcome_of
from codes.limits import Limit
from codes.values import Value
from codes.verdict import Outcome

Key = tuple[bool, int, int]


@dataclass(frozen=True)
class Misses:
    """The limits that fail, as (outcome, variable, reason) in their order; `covered` as the verdict would say."""

    covered: bool
    failing: tuple[tuple[Outcome, str, str], ...] = ()

    @cached_property
    def outside(self) -> frozenset[str]:
        """The variables that are outside."""
        return frozenset(variable for outcome, variable, _ in self.failing if outcome is Outcome.OUTSIDE)

    @cached_property
    def key(self) -> Key:
        """Sort key, nearest first, as codes.check.nearness."""
        unstated = {variable for outcome, variable, _ in self.failing if outcome is Outcome.NOT_STATED}
        return not self.covered, len(self.outside), len(unstated - self.outside)

    @property
    def outcome(self) -> Outcome:
        """The answer."""
        if self.covered:
            return Outcome.COVERED
        return Outcome.OUTSIDE if self.outside else Outcome.NOT_STATED

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reason keys, worst first, each once."""
        ordered = sorted(self.failing, key=lambda miss: miss[0].rank)
        return tuple(dict.fromkeys(reason for _, _, reason in ordered))


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
    return Misses(counted and not failing, tuple(failing))


def miss(outcome: Outcome, variable: str, reason: str) -> Misses:
    """One miss that no limit speaks of, such as a missing record."""
    return Misses(False, ((outcome, variable, reason),))


def joined_misses(parts: Iterable[Misses]) -> Misses:
    """Several that must all hold."""
    each = tuple(parts)
    return Misses(all(part.covered for part in each), tuple(one for part in each for one in part.failing))
