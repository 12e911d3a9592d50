"""ISO 15614-1:2017, 8.4.4 and 8.4.5: filler designation, hydrogen class, make and size.

Level 1 has its own grouping of designations (Annex A, not entered): the level-2 rules are used, which are stricter.
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.designation import equivalent, hydrogen_class, read
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import MAKE_ARTICLE, clause
from codes.limits import Free, Limit, OneOf, When, Within, when_is
from codes.terms import tokens
from codes.values import Atom, Interval

DESIGNATION = clause("8.4.4, designation", Mark.MEMORY)
HYDROGEN = clause("8.4.4, hydrogen class", Mark.MEMORY)
MAKE = clause("8.4.4, make", Mark.PART, MAKE_ARTICLE)
SIZE = clause("8.4.5", Mark.MEMORY)

WITHOUT_FILLER = ("142",)
SLAG_PROCESSES = ("111", "114", "121", "122", "124", "125", "126", "132", "136", "137")
"""Covered electrodes, flux-cored wires and submerged arc: hydrogen class and, below -20 degC, make matter."""

COLDEST_FREE = Decimal(-20)
COLD: tuple[When, ...] = (
    when_is("impact_required", "yes"),
    When("impact_temperature", Within(Interval(None, COLDEST_FREE, "°C", hi_open=True))),
)


@dataclass(frozen=True, slots=True)
class SameText:
    """The same words; case and blanks do not matter."""

    tested: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, str) and _plain(atom) in {_plain(one) for one in self.tested}

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return " or ".join(self.tested)


@dataclass(frozen=True, slots=True)
class EquivalentFiller:
    """The tested designation, or one of the same kind, strength and composition with an equal or colder impact test."""

    tested: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        if SameText(self.tested).admits(atom):
            return True
        wanted = read(atom) if isinstance(atom, str) else None
        pairs = ((known, wanted) for known in map(read, self.tested))
        return any(known and wanted and equivalent(known, wanted) for known, wanted in pairs)

    def unstated(self, atom: Atom) -> str:
        """Designations of systems that are not read here leave the question to the coordinator."""
        if not isinstance(atom, str) or (read(atom) and any(map(read, self.tested))):
            return ""
        return f"whether {atom} is equivalent to {self} cannot be read from the designations"

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return f"{' or '.join(self.tested)}, or equivalent"


def _plain(word: str) -> str:
    return "".join(word.casefold().split())


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Kind and designation, hydrogen class, make; the size is free while the heat input holds."""
    if piece.process in WITHOUT_FILLER:
        return (Limit("filler_designation", Free(), DESIGNATION, "welded without filler"),)
    size = Limit("filler_diameter", Free(), SIZE, "free while the heat input stays in its range")
    return (*_kind(piece), _designation(piece), *_hydrogen(piece), *_make(piece), size)


def _kind(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.words("filler_type")
    if not tested:
        return ()  # the designation then says it
    because = "same kind of covering, core or wire as tested"
    return (Limit("filler_type", OneOf(tested), DESIGNATION, because, tested=", ".join(tested)),)


def _designation(piece: Piece) -> Limit:
    tested = piece.words("filler_designation")
    if not tested:
        return unrecorded("filler_designation", DESIGNATION)
    because = "same kind, mechanical properties and composition as tested"
    return Limit("filler_designation", EquivalentFiller(tested), DESIGNATION, because, tested=", ".join(tested))


def _hydrogen(piece: Piece) -> tuple[Limit, ...]:
    """Same or lower class. Solid wires and rods have none; metal-cored wires only where the record states one."""
    stated = piece.words("hydrogen_class") or tuple(
        filter(None, map(hydrogen_class, piece.words("filler_designation")))
    )
    if not stated:
        missing = piece.process in SLAG_PROCESSES
        return (unrecorded("hydrogen_class", HYDROGEN),) if missing else ()
    if piece.process not in (*SLAG_PROCESSES, "133", "138"):
        return ()
    most = min(int(one[1:]) for one in stated)
    covered = tuple(one for one in tokens("hydrogen_class") if int(one[1:]) <= most)
    because = f"tested H{most}: same or lower class"
    return (Limit("hydrogen_class", OneOf(covered), HYDROGEN, because, tested=f"H{most}"),)


def _make(piece: Piece) -> tuple[Limit, ...]:
    """Fixed for slag-bearing fillers where impact is required below -20 degC; else free."""
    if piece.process not in SLAG_PROCESSES:
        return (Limit("filler_make", Free(), MAKE, "solid and metal-cored wires and rods: the make is free"),)
    tested = piece.words("filler_make")
    if not tested:
        return (unrecorded("filler_make", MAKE, when=COLD),)
    because = "impact below -20 °C: another make needs an extra piece with weld-metal impact tests"
    return (Limit("filler_make", SameText(tested), MAKE, because, COLD, tested=", ".join(tested)),)
