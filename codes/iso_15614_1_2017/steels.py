"""ISO 15614-1:2017, 8.3.1: parent materials by Table 5, their yield strength, and permanent backing."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import FRENCH_PAGE, GROUPS_FAQ, TEXT, clause
from codes.iso_15614_1_2017.switches import LOWER_GROUP_YIELD, lenient
from codes.iso_15614_1_2017.table_5 import LOWER_SUB_GROUPS, PARTNERS, SAME_SUB_GROUP, YIELD_GROUPS
from codes.limits import Allowed, Limit, Unrecorded, When, when_is
from codes.parse import BadField
from codes.steels import YIELD_READING
from codes.values import Atom, Steel, SteelPair, number

GROUPS = clause("8.3.1, Table 5", Mark.PART, f"{GROUPS_FAQ}; {TEXT}")
YIELD = clause("8.3.1, Table 5 note a", Mark.PART, FRENCH_PAGE)
YIELD_OF_LOWER = clause("8.3.1, Table 5 note a", Mark.DOUBT, FRENCH_PAGE)
BACKING = clause("8.3.1.1", Mark.PART, TEXT)

Sides = tuple[tuple[Steel, Steel], tuple[Steel, Steel]]
"""(joint, tested) of the one side and of the other."""


def main_group(steel: Steel) -> int | None:
    """The number of the main group, or None. Example: group "10.1" gives 10; "11.1" gives 11."""
    return int(steel.main_group) if steel.main_group.isdecimal() else None


def _sub_group(steel: Steel) -> int | None:
    sub = steel.group.partition(".")[2]
    return int(sub) if sub.isdecimal() else None


def _row(pair: SteelPair) -> tuple[tuple[int, int], ...]:
    return PARTNERS.get(_key(pair), ())


def _key(pair: SteelPair) -> tuple[int, int]:
    one, other = (main_group(steel) or 0 for steel in pair)
    return (max(one, other), min(one, other))


def _orders(wanted: SteelPair, tested: SteelPair) -> Iterator[Sides]:
    yield (wanted.first, tested.first), (wanted.second, tested.second)
    yield (wanted.first, tested.second), (wanted.second, tested.first)


def _sub_group_fits(wanted: Steel, tested: Steel) -> bool | None:
    """Notes b and c for one side, its groups known; None where a sub-group they need is not stated."""
    group, test_group = int(wanted.main_group), int(tested.main_group)
    if group > test_group:
        return False
    if group < test_group or group not in (*LOWER_SUB_GROUPS, *SAME_SUB_GROUP):
        return True
    sub, test_sub = _sub_group(wanted), _sub_group(tested)
    if sub is None or test_sub is None:
        return None
    return sub == test_sub if group in SAME_SUB_GROUP else sub <= test_sub


def _all(answers: Iterator[bool | None]) -> bool | None:
    """False beats None beats True."""
    found = list(answers)
    return False if False in found else (None if None in found else True)


def _any(answers: Iterator[bool | None]) -> bool | None:
    """True beats None beats False."""
    found = list(answers)
    return True if True in found else (None if None in found else False)


@dataclass(frozen=True, slots=True)
class GroupPairs:
    """The pairs of groups that the tested pair covers, sub-groups included."""

    tested: SteelPair

    @property
    def from_tables(self) -> tuple[tuple[int, int], ...]:
        """What the tables make of it (codes.facts)."""
        return _row(self.tested)

    def fits(self, pair: SteelPair) -> bool | None:
        """True, False, or None where a group that decides is not stated."""
        if any(main_group(steel) is None for steel in pair):
            return None
        if _key(pair) not in _row(self.tested):
            return False
        return _any(_all(_sub_group_fits(*side) for side in sides) for sides in _orders(pair, self.tested))

    def orders(self, pair: SteelPair) -> Iterator[Sides]:
        """The ways to lay the joint's sides to the tested ones that the groups allow or leave open."""
        for sides in _orders(pair, self.tested):
            if _all(_sub_group_fits(*side) for side in sides) is not False:
                yield sides

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and self.fits(atom) is True

    def unstated(self, atom: Atom) -> str:
        if isinstance(atom, SteelPair) and self.fits(atom) is None:
            return f"the group of {atom} is not stated in full"
        return ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        pairs = ", ".join(f"{one}-{other}" for one, other in _row(self.tested))
        notes = {group for group in _key(self.tested) if group in (*LOWER_SUB_GROUPS, *SAME_SUB_GROUP)}
        words = {g: "same sub-group" if g in SAME_SUB_GROUP else "same or lower sub-group" for g in sorted(notes)}
        return f"groups {pairs or 'none'}" + "".join(f"; group {g}: {text}" for g, text in words.items())


@dataclass(frozen=True, slots=True)
class YieldCap:
    """Specified yield strength not above that of the test steel, for sides of groups 1 to 3."""

    tested: SteelPair
    cap_lower_groups: bool

    def fits(self, pair: SteelPair) -> bool | None:
        """True, False or None; a pair that the groups refuse is the groups' matter and passes here."""
        groups = GroupPairs(self.tested)
        if groups.fits(pair) is not True:
            return True
        return _any(_all(self._side_fits(*side) for side in sides) for sides in groups.orders(pair))

    def _side_fits(self, wanted: Steel, tested: Steel) -> bool | None:
        if main_group(wanted) not in YIELD_GROUPS:
            return True
        if not self.cap_lower_groups and main_group(wanted) != main_group(tested):
            return True
        if wanted.yield_mpa is None or tested.yield_mpa is None:
            return None
        return wanted.yield_mpa <= tested.yield_mpa

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and self.fits(atom) is True

    def unstated(self, atom: Atom) -> str:
        if isinstance(atom, SteelPair) and self.fits(atom) is None:
            whose = "the test steel" if any(s.yield_mpa is None for s in self.tested) else str(atom)
            return f"the specified yield strength of {whose} is not stated"
        return ""

    def margin(self, atom: Atom) -> Decimal | None:
        caps = [steel.yield_mpa for steel in self.tested if steel.yield_mpa is not None]
        wanted = [steel.yield_mpa for steel in atom if steel.yield_mpa] if isinstance(atom, SteelPair) else []
        return max(caps) - max(wanted) if caps and wanted else None

    def __str__(self) -> str:
        figures = dict.fromkeys(s.yield_mpa for s in self.tested)
        # Each figure keeps its "up to" and its unit: readers in other units have it turned over.
        caps = ["not stated" if figure is None else f"up to {number(figure)} MPa" for figure in figures]
        return f"specified yield {' and '.join(caps)}, side by side"


@dataclass(frozen=True, slots=True)
class BackingSteels:
    """Permanent backing: each of its steels is reached from one tested side, group and yield."""

    tested: SteelPair
    cap_lower_groups: bool

    @property
    def from_tables(self) -> tuple[tuple[int, int], ...]:
        """What the tables make of it (codes.facts)."""
        return _row(self.tested)

    def _fits(self, steel: Steel) -> bool | None:
        if main_group(steel) is None:
            return None
        if not any(main_group(steel) in pair for pair in _row(self.tested)):
            return False
        cap = YieldCap(self.tested, self.cap_lower_groups)
        return _any(_all(iter((_sub_group_fits(steel, t), cap._side_fits(steel, t)))) for t in self.tested)

    def fits(self, pair: SteelPair) -> bool | None:
        return _all(self._fits(steel) for steel in pair)

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and self.fits(atom) is True

    def unstated(self, atom: Atom) -> str:
        if isinstance(atom, SteelPair) and self.fits(atom) is None:
            return "group or specified yield strength of the backing is not stated"
        return ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return f"backing of the groups and yield that {self.tested} covers"


@dataclass(frozen=True, slots=True)
class AnySteels:
    """Reached from one of several tested pairs (the parent pair, or the backing that was tested)."""

    choices: tuple[BackingSteels, ...]

    def admits(self, atom: Atom) -> bool:
        return any(choice.admits(atom) for choice in self.choices)

    def unstated(self, atom: Atom) -> str:
        return next((text for text in (choice.unstated(atom) for choice in self.choices) if text), "")

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return " or ".join(str(choice) for choice in self.choices)


PERMANENT: tuple[When, ...] = (
    when_is("weld_type", "butt_cjp", "butt_pjp", "branch"),
    when_is("weld_detail", "ss_mb"),
    when_is("backing_stays", "yes"),
)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Groups, yield and permanent backing. A record without its steels answers 'not stated'."""
    pairs = piece.steel_pairs("steels")
    if not pairs:
        return (
            unrecorded("steels", GROUPS, reason="material_group"),
            Limit("backing_steel", Unrecorded("parent materials"), BACKING, "", PERMANENT, reason="backing_steel"),
        )
    if len(pairs) > 1:
        raise BadField("steels", "one test piece joins one pair of steels; state each further pair as its own piece")
    tested = pairs[0]
    capped = not lenient(LOWER_GROUP_YIELD, piece.settings)
    readings = (LOWER_GROUP_YIELD.used(piece.settings), YIELD_READING.used(piece.settings))
    words = str(tested)
    return (
        _limit(GroupPairs(tested), GROUPS, words, "material_group", ()),
        _limit(YieldCap(tested, capped), _yield_clause(tested), words, "yield", readings),
        Limit(
            "backing_steel",
            AnySteels(tuple(BackingSteels(pair, capped) for pair in (tested, *piece.steel_pairs("backing_steel")))),
            BACKING,
            "permanent backing counts as a parent material",
            PERMANENT,
            readings,
            "backing_steel",
            tested=str(tested),
        ),
    )


def _yield_clause(tested: SteelPair) -> Clause:
    """Groups 2 and 3 reach lower groups, where the cap is a doubtful reading; group 1 reaches itself only."""
    return YIELD if _key(tested) == (1, 1) else YIELD_OF_LOWER


def _limit(allowed: Allowed, where: Clause, tested: str, reason: str, readings: tuple[str, ...]) -> Limit:
    return Limit("steels", allowed, where, f"tested {tested}", readings=readings, reason=reason, tested=tested)
