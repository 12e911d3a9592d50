"""QW-403.11 with QW-424 (P-numbers) and QW-403.5 (group numbers, where toughness is required).

A metal is known by its P-number, or by its own grade where it has none: an unassigned metal covers only itself.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_2021.piece import TOUGH, Piece
from codes.asme_ix_2021.sources import OWN_RULE, P_PAIRS, SMAW_LIST, Rule
from codes.asme_ix_2021.switches import LOOKED_UP, lenient
from codes.asme_ix_metals import base_metal, metal_key
from codes.clauses import Mark
from codes.limits import Free, Limit, Nothing, When
from codes.values import Atom, Steel, SteelPair

PAIRS = Rule("QW-403.11, QW-424", Mark.CONFIRMED, P_PAIRS)
PAIRS_MEMORY = Rule("QW-403.11, QW-424 (rows from memory)", Mark.MEMORY, "from memory")
GROUPS = Rule("QW-403.5", Mark.CONFIRMED, SMAW_LIST)
LOOK_UP = Rule("QW/QB-422", Mark.DOUBT, "look-up rows of mixed certainty")
NOT_ENTERED = Rule("QW-410.11, QW-410.64, QW-408.10", Mark.OWN, OWN_RULE)

LOWER: dict[tuple[str, str], tuple[tuple[str, str], ...]] = {
    ("P15E", "P15E"): (("P15E", "P5B"), ("P5B", "P5B")),
    ("P3", "P3"): (("P3", "P1"),),
    ("P4", "P4"): (("P4", "P3"), ("P4", "P1")),
    ("P5A", "P5A"): (("P5A", "P4"), ("P5A", "P3"), ("P5A", "P1")),
    ("P5A", "P4"): (("P5A", "P3"), ("P5A", "P1")),
    ("P5A", "P3"): (("P5A", "P4"), ("P5A", "P1")),
    ("P5A", "P1"): (("P5A", "P4"), ("P5A", "P3")),
    ("P4", "P3"): (("P4", "P1"),),
    ("P4", "P1"): (("P4", "P3"),),
}
"""QW-424: what a coupon pair covers beyond itself. P-15E to another P-number also covers P-5B to it."""
ROWS_FROM_MEMORY = (("P4", "P3"), ("P4", "P1"))

# Variables of their own that are not entered: chamber welding of titanium and zirconium, thermal cutting of P-11.
NOT_JUDGED = ("P11A", "P11B", "P51", "P52", "P53", "P61", "P62")

Key = tuple[str, str]


def key_of(steel: Steel) -> str:
    """What a metal counts as: P-number token, its own grade, or "" where nothing is stated. Example: "P5A"."""
    known = base_metal(steel)
    if known:
        return known.p_number
    name = metal_key(steel.grade)
    return f"={name}" if name else ""


def group_of(steel: Steel) -> str:
    """P-number and group. Example: "P1/2"; an unassigned metal is its own grade; "" where the group is open."""
    known = base_metal(steel)
    if known:
        return f"{known.p_number}/{known.group}" if known.group else ""
    return key_of(steel)


def _pair(first: str, second: str) -> Key:
    return (max(first, second), min(first, second))


@dataclass(frozen=True, slots=True)
class PNumbers:
    """Pairs of parent metals by P-number, in no particular order."""

    pairs: frozenset[Key]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and _pair(key_of(atom.first), key_of(atom.second)) in self.pairs

    def unstated(self, atom: Atom) -> str:
        """A metal of which neither P-number nor grade is stated leaves the question open."""
        blank = isinstance(atom, SteelPair) and not all(map(key_of, atom))
        return "P-number or grade of the parent metal not stated" if blank else ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return ", ".join(f"{_dashed(one)} to {_dashed(other)}" for one, other in sorted(self.pairs))


@dataclass(frozen=True, slots=True)
class Groups:
    """Pairs of parent metals by P-number and group, or of the same grades as tested."""

    pairs: frozenset[Key]
    grades: frozenset[Key]

    def admits(self, atom: Atom) -> bool:
        if not isinstance(atom, SteelPair):
            return False
        grades = _pair(metal_key(atom.first.grade), metal_key(atom.second.grade))
        if all(grades) and grades in self.grades:
            return True
        return _pair(group_of(atom.first), group_of(atom.second)) in self.pairs

    def unstated(self, atom: Atom) -> str:
        """A group that is not stated leaves the question open."""
        blank = isinstance(atom, SteelPair) and not all(map(group_of, atom))
        return "group number of the parent metal not stated" if blank else ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return ", ".join(f"{_dashed(one)} to {_dashed(other)}" for one, other in sorted(self.pairs))


def _dashed(key: str) -> str:
    if key.startswith("="):
        return key[1:].upper()
    return f"P-{key[1:]}".replace("/", " Gr ")


@dataclass(frozen=True, slots=True)
class NotVerified:
    """Pairs with a P-number that was looked up in a row nobody has checked yet."""

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and any_not_verified(atom)

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return "looked up in a row not yet verified"


def any_not_verified(pair: SteelPair) -> bool:
    """True where a P-number of the pair comes from a general or remembered row of the look-up table."""
    return any(known and not known.verified for known in map(base_metal, pair))


def limits(piece: Piece) -> tuple[Limit, ...]:
    """P-numbers; group numbers where toughness is required; the warning of looked-up P-numbers."""
    if not piece.steels or not all(key_of(steel) for pair in piece.steels for steel in pair):
        return (piece.unrecorded("steels", PAIRS, "p_number", field="P-number or grade of the parent metals"),)
    if piece.p_numbers & set(NOT_JUDGED):
        because = "this P-number has essential variables of its own that are not entered"
        return (Limit("steels", Nothing(), piece.at(NOT_ENTERED), because, reason="p_number"),)
    return (_p_numbers(piece), _groups(piece), *_warning(piece))


def _p_numbers(piece: Piece) -> Limit:
    tested = {_pair(*map(key_of, pair)) for pair in piece.steels}
    covered = frozenset(covered_pairs(tested))
    memory = bool(tested & set(ROWS_FROM_MEMORY)) or any("=" in one + other for one, other in tested)
    words = str(PNumbers(frozenset(tested)))
    because = f"tested {words}: that pair and the lower pairs of the table; a grade without P-number covers itself"
    rule = PAIRS_MEMORY if memory else PAIRS
    readings = (LOOKED_UP.used(piece.settings),) if any(map(any_not_verified, piece.steels)) else ()
    return Limit("steels", PNumbers(covered), piece.at(rule), because, (), readings, "p_number", tested=words)


def covered_pairs(tested: Iterable[Key]) -> set[Key]:
    """The pairs that coupon pairs cover by QW-424. Example: P-3 to P-3 covers itself and P-3 to P-1, not P-1 to P-1."""
    found: set[Key] = set()
    for one, other in tested:
        found.add((one, other))
        found.update(_pair(*lower) for lower in LOWER.get((one, other), LOWER.get((other, one), ())))
        if "P15E" in (one, other) and one != other:
            found.add(_pair("P5B", other if one == "P15E" else one))
    return found


def _groups(piece: Piece) -> Limit:
    pairs = [_pair(group_of(pair.first), group_of(pair.second)) for pair in piece.steels]
    if not all(all(pair) for pair in pairs):
        return piece.unrecorded("steels", GROUPS, "group_number", (TOUGH,), "the group numbers")
    return group_limit(piece, pairs, _grades(piece.steels))


def group_limit(piece: Piece, pairs: Iterable[Key], grades: frozenset[Key] = frozenset()) -> Limit:
    """The limit of tested pairs of groups: one coupon of two metals covers each to itself and to the other."""
    tested = tuple(pairs)
    covered = {_pair(*pair) for pair in tested} | {(one, one) for pair in tested for one in pair}
    words = str(Groups(frozenset(tested), frozenset()))
    because = f"tested {words}: these groups of the P-number, where toughness is required"
    allowed = Groups(frozenset(covered), grades)
    return Limit("steels", allowed, piece.at(GROUPS), because, (TOUGH,), (), "group_number", tested=words)


def _grades(pairs: Iterable[SteelPair]) -> frozenset[Key]:
    return frozenset(_pair(metal_key(pair.first.grade), metal_key(pair.second.grade)) for pair in pairs)


def _warning(piece: Piece) -> tuple[Limit, ...]:
    if lenient(LOOKED_UP, piece.settings):
        return ()
    because = "P-Number not verified: looked up by the grade in a row not yet checked against the code"
    when = (When("steels", NotVerified()),)
    used = (LOOKED_UP.used(piece.settings),)
    return (Limit("steels", Free(), piece.at(LOOK_UP), because, when, used, "p_number"),)
