"""AWS D1.1, Table 6.8 [4.8]: base metals that a procedure test covers."""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.base_metal_rows import BY_TEST
from codes.aws_d1_1.base_metals import CHANGES, UNLISTED, entry_of, same_steel
from codes.aws_d1_1.book import GROUP_FORUM, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_2020.switches import GRADE_GROUPS, GROUP_PAIR, lenient
from codes.clauses import Mark
from codes.limits import Limit, When, Within
from codes.values import Atom, Interval, Steel, SteelPair

PAIRS = rule("base metals", Mark.MEMORY, GROUP_FORUM)

Groups = tuple[str, str]

# Tested groups -> pairs of groups covered whatever the steel. All other tests cover named steels only.
GROUP_ROWS: dict[Groups, tuple[Groups, ...]] = {
    ("I", "I"): (("I", "I"),),
    ("II", "II"): (("I", "I"), ("I", "II"), ("II", "II")),
    ("I", "II"): (("I", "I"),),
}
# A specific steel of Group III or of Table 6.9 tested to this group -> the groups its partner may be of.
PARTNER_ROWS: dict[str, tuple[str, ...]] = {"I": ("I",), "II": ("I", "II")}
SPECIFIC = ("III", BY_TEST)
THICKNESSES = tuple(dict.fromkeys(CHANGES.values()))


@dataclass(frozen=True, slots=True)
class Metals:
    """The steels that a tested pair covers, at a thickness [mm] that stands for a band (A36 changes group)."""

    tested: SteelPair
    groups: Groups
    thickness: Decimal
    units: Units
    any_mixed_pair: bool
    any_group: bool

    def admits(self, atom: Atom) -> bool:
        if not isinstance(atom, SteelPair):
            return False
        groups = in_order(self._group(atom.first), self._group(atom.second))
        mixed = self.any_mixed_pair and groups == ("I", "II") == self._row
        # A36 that has changed its group with its thickness is no longer the tested pair, read strictly.
        same = (groups == self._row or self.any_group) and self._same_pair(atom)
        return groups in self._covered or mixed or same or self._partner(atom)

    @property
    def from_tables(self) -> tuple[object, ...]:
        """What the tables make of it (codes.facts)."""
        return self._covered, self.admits(self.tested)

    @property
    def _row(self) -> Groups:
        return in_order(*self.groups)

    @property
    def _covered(self) -> tuple[Groups, ...]:
        return GROUP_ROWS.get(self._row, ())

    def _group(self, steel: Steel) -> str:
        return group_of(steel, self.thickness, self.units)

    def _same_pair(self, pair: SteelPair) -> bool:
        one, other = self.tested
        return any(
            same_steel(first, one) and same_steel(second, other)
            for first, second in ((pair.first, pair.second), (pair.second, pair.first))
        )

    def _partner(self, pair: SteelPair) -> bool:
        """The tested steel of Group III or Table 6.9 to any steel of its tested partner's groups."""
        for index, specific in enumerate(self.tested):
            if self.groups[index] not in SPECIFIC:
                continue
            partners = PARTNER_ROWS.get(self.groups[1 - index], ())
            for first, second in ((pair.first, pair.second), (pair.second, pair.first)):
                if same_steel(first, specific) and self._group(second) in partners:
                    return True
        return False

    def unstated(self, atom: Atom) -> str:
        if isinstance(atom, SteelPair) and not all(steel.grade for steel in atom):
            return f"the grade of {atom} is not stated, AWS groups go by grade"
        return ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        pairs = ", ".join(f"Group {one} to {other}" for one, other in self._covered)
        own = f"{self.tested.first.grade} to {self.tested.second.grade}"
        if not self.admits(self.tested):
            return pairs or "no steel of this thickness"
        return f"{pairs}, or {own}" if pairs else own


def group_of(steel: Steel, thickness: Decimal | None, units: Units) -> str:
    """The group of a steel at a thickness [mm], "unlisted" where the tables do not name it.

    Where thickness decides and is not stated, the group that asks for more. Example: A36 without thickness is "II".
    """
    entry = entry_of(steel)
    if entry is None:
        return UNLISTED
    return entry.group(thickness, units) or entry.groups[-1]


def limits(piece: Piece) -> tuple[Limit, ...]:
    """One limit for each band of thickness in which every steel has one group."""
    clause = PAIRS.of(piece.book)
    pairs = piece.pairs()
    thickness = piece.least("parent_t")
    if len(pairs) != 1 or not all(steel.grade for steel in pairs[0]):
        return (unrecorded("steels", clause, "the grades of both parts", reason="base_metal"),)
    # The thinner reading of a tested A36 is the smaller cover.
    one, other = (group_of(steel, thickness, piece.units) for steel in pairs[0])
    groups = (one, other)
    mixed = in_order(*groups) == ("I", "II")
    readings = (*((GROUP_PAIR.used(piece.settings),) if mixed else ()), *group_readings(piece))
    named = " to ".join(f"{steel.grade} ({_words(group_of(steel, thickness, piece.units))})" for steel in pairs[0])
    found = []
    for band in bands(piece.units):
        wide, grade = (lenient(switch, piece.settings) for switch in (GROUP_PAIR, GRADE_GROUPS))
        allowed = Metals(pairs[0], groups, inside(band), piece.units, mixed and wide, grade)
        when = (When("parent_t", Within(band)),)
        because = f"tested {named}{changed(pairs[0], groups, inside(band), piece.units)}"
        found.append(Limit("steels", allowed, clause, because, when, readings, "base_metal", tested=named))
    return tuple(found)


def group_readings(piece: Piece) -> tuple[str, ...]:
    """The reading for grades whose group changes with their thickness, where one was tested."""
    entries = [entry_of(steel) for pair in piece.pairs() for steel in pair]
    several = any(entry is not None and len(entry.rows) > 1 for entry in entries)
    return (GRADE_GROUPS.used(piece.settings),) if several else ()


def changed(tested: SteelPair, groups: Groups, thickness: Decimal, units: Units) -> str:
    """What is to be said of a tested grade that is of another group at a thickness. Example: A36 over 3/4 in."""
    now = {s.grade: group_of(s, thickness, units) for s, was in zip(tested, groups, strict=True)
           if group_of(s, thickness, units) != was}  # fmt: skip
    return "".join(f"; {grade} of the joint's thickness is {_words(group)}" for grade, group in now.items())


def in_order(one: str, other: str) -> Groups:
    """Two groups, the lower first."""
    return (min(one, other), max(one, other))


def _words(group: str) -> str:
    if group == BY_TEST:
        return "approved by test only"
    return "not listed" if group == UNLISTED else f"Group {group}"


def bands(units: Units) -> tuple[Interval, ...]:
    """The bands of thickness between the figures at which a steel changes its group. Example: up to 20 mm."""
    ends = sorted(size.mm(units) for size in THICKNESSES)
    lower: list[Decimal | None] = [None, *ends]
    upper: list[Decimal | None] = [*ends, None]
    return tuple(Interval(lo, hi, "mm", lo_open=lo is not None) for lo, hi in zip(lower, upper, strict=True))


def inside(band: Interval) -> Decimal:
    """A thickness of the band: its upper end, of a band without one the first figure past its lower end."""
    return (band.lo or Decimal(0)).next_plus() if band.hi is None else band.hi
