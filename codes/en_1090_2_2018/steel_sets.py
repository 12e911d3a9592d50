"""Sets of steels that the gates speak of. A pair lies in a set by the strength or group of either side or of both."""

from dataclasses import dataclass
from decimal import Decimal

from codes.limits import When
from codes.values import Atom, Steel, SteelPair, number

LOW_GROUPS = ("1.1", "1.2", "1.4")
"""S235 to S355: the groups of the lower rows of Table 14."""
HIGH_MAIN_GROUPS = ("1", "2", "3")
LOW_YIELD = Decimal(360)
"""Upper yield of group 1.2 [MPa]: serves where a steel states its yield but no group."""


class SteelSet:
    """What all sets of steels share: no measure of distance, and only pairs of steels belong."""

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and self.holds(atom)

    def holds(self, pair: SteelPair) -> bool:
        """True where the pair belongs."""
        raise NotImplementedError

    def margin(self, atom: Atom) -> Decimal | None:
        return None


@dataclass(frozen=True, slots=True)
class UpTo(SteelSet):
    """Both sides of a specified yield up to a figure [MPa]. Example: UpTo(355) holds S355 to S235, not S420."""

    mpa: Decimal

    def holds(self, pair: SteelPair) -> bool:
        return all(steel.yield_mpa is not None and steel.yield_mpa <= self.mpa for steel in pair)

    def __str__(self) -> str:
        return f"grades up to and including {number(self.mpa)} MPa"


@dataclass(frozen=True, slots=True)
class Above(SteelSet):
    """Either side of a specified yield above a figure [MPa], or from it where `included`."""

    mpa: Decimal
    included: bool = False

    def holds(self, pair: SteelPair) -> bool:
        return any(self._high(steel) for steel in pair)

    def _high(self, steel: Steel) -> bool:
        if steel.yield_mpa is None:
            return False
        return steel.yield_mpa > self.mpa or (self.included and steel.yield_mpa == self.mpa)

    def __str__(self) -> str:
        return f"a grade {'from' if self.included else 'above'} {number(self.mpa)} MPa"


@dataclass(frozen=True, slots=True)
class Known(SteelSet):
    """Both sides state their specified yield."""

    def holds(self, pair: SteelPair) -> bool:
        return all(steel.yield_mpa is not None for steel in pair)

    def __str__(self) -> str:
        return "steels with a stated yield strength"


@dataclass(frozen=True, slots=True)
class Structural(SteelSet):
    """Both sides are structural carbon steels: groups 1 to 3, or a yield and no group."""

    @property
    def from_tables(self) -> tuple[str, ...]:
        """What the tables make of it (codes.facts)."""
        return HIGH_MAIN_GROUPS

    def holds(self, pair: SteelPair) -> bool:
        return all(self._structural(steel) for steel in pair)

    def _structural(self, steel: Steel) -> bool:
        if not steel.group:
            return steel.yield_mpa is not None
        return steel.main_group in HIGH_MAIN_GROUPS

    def __str__(self) -> str:
        return "structural carbon steels (groups 1 to 3)"


@dataclass(frozen=True, slots=True)
class Low(SteelSet):
    """Both sides in the lower rows of Table 14: S235 to S355."""

    @property
    def from_tables(self) -> tuple[object, ...]:
        """What the tables make of it (codes.facts)."""
        return LOW_GROUPS, LOW_YIELD

    def holds(self, pair: SteelPair) -> bool:
        return all(is_low(steel) for steel in pair)

    def __str__(self) -> str:
        return "S235 to S355 (groups 1.1, 1.2, 1.4)"


@dataclass(frozen=True, slots=True)
class InGroups(SteelSet):
    """Either side lies in one of the groups ("3" holds 3.1)."""

    groups: tuple[str, ...]
    both: bool = False

    def holds(self, pair: SteelPair) -> bool:
        found = [steel.group in self.groups or steel.main_group in self.groups for steel in pair]
        return all(found) if self.both else any(found)

    def __str__(self) -> str:
        return f"group {', '.join(self.groups)}"


def is_low(steel: Steel) -> bool:
    """True for S235 to S355, by group or, where it states none, by yield."""
    if steel.group:
        return steel.group in LOW_GROUPS
    return steel.yield_mpa is not None and steel.yield_mpa <= LOW_YIELD


def steels(allowed: SteelSet) -> When:
    """The condition that the parent materials lie in a set."""
    return When("steels", allowed)


def not_steels(allowed: SteelSet) -> When:
    """The condition that the parent materials do not lie in a set."""
    return When("steels", allowed, negate=True)
