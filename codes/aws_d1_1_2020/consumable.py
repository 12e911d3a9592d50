"""AWS D1.1, Table 6.5 [4.5], lines 1 to 11 and 19 to 21: filler, electrodes, flux and gas."""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.book import TABLE_4_5, line
from codes.aws_d1_1.fillers import Filler, FillerTest
from codes.aws_d1_1.gases import SameMixture, mixture
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Size
from codes.aws_d1_1_2020.switches import FILLER_CLASS, lenient
from codes.aws_d1_1_2020.tolerance import Percent, around
from codes.clauses import Mark
from codes.limits import Limit, OneOf, Within
from codes.values import Interval, number

UNKNOWN, STRENGTH = line("1 to 4", Mark.PART, TABLE_4_5), line("1", Mark.PART, TABLE_4_5)
HYDROGEN, SPECIFICATION = line("2", Mark.CONFIRMED, TABLE_4_5), line("4", Mark.CONFIRMED, TABLE_4_5)
CLASS, CLASS_BLANK = line("3", Mark.PART, TABLE_4_5), line("3", Mark.DOUBT, TABLE_4_5)
DIAMETER = line("10", Mark.CONFIRMED, TABLE_4_5)
ELECTRODES = line("11", Mark.PART, TABLE_4_5)
EXTRA_SAW, EXTRA_GTAW = line("7 to 9", Mark.PART, TABLE_4_5), line("6", Mark.PART, TABLE_4_5)
EXTRA_RATIO = line("8", Mark.PART, TABLE_4_5)
GAS = line("19", Mark.CONFIRMED, "public explainer of D1.1:2025; AWS Forum, Oct 2009")
FLOW = line("20", Mark.MEMORY)

SPECIFICATIONS: dict[str, tuple[str, ...]] = {
    "SMAW": ("A5.1", "A5.5"),
    "SAW": ("A5.17", "A5.23"),
    "GMAW": ("A5.18", "A5.28"),
    "FCAW": ("A5.20", "A5.29"),
    "GTAW": ("A5.18", "A5.28"),
}
"""Line 4. A5.36, which 2015 and 2020 also name, is not entered: its classes are not known here."""

GAS_FLOW = Percent(Decimal(20), Decimal(50))
LARGER_ROD, OTHER_ROD = Size("1/32", "0.8"), Size("1/16", "1.6")


@dataclass(frozen=True, slots=True)
class OfSpecification(FillerTest):
    """Fillers of the A5 specifications of a process."""

    names: tuple[str, ...]

    def fits(self, filler: Filler) -> bool:
        return filler.specification in self.names

    def __str__(self) -> str:
        return f"fillers to {', '.join(self.names)}"


@dataclass(frozen=True, slots=True)
class StrengthUpTo(FillerTest):
    """Fillers of no higher strength class [ksi]."""

    ksi: int

    def fits(self, filler: Filler) -> bool:
        return filler.strength_ksi <= self.ksi

    def __str__(self) -> str:
        return f"fillers up to the {self.ksi} ksi class"


@dataclass(frozen=True, slots=True)
class LowHydrogen(FillerTest):
    """Low-hydrogen covered electrodes."""

    def fits(self, filler: Filler) -> bool:
        return filler.low_hydrogen

    def __str__(self) -> str:
        return "low-hydrogen electrodes"


@dataclass(frozen=True, slots=True)
class OfClass(FillerTest):
    """One class, or (where allowed) one of a lower strength. Optional marks such as H4R are no part of a class."""

    tested: Filler
    or_weaker: bool = False

    def fits(self, filler: Filler) -> bool:
        weaker = filler.family == self.tested.family and filler.strength_ksi < self.tested.strength_ksi
        return filler.name == self.tested.name or (self.or_weaker and weaker)

    def __str__(self) -> str:
        return f"{self.tested.name}{' or a lower strength' if self.or_weaker else ''}"


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Filler, its diameter, number of electrodes, extra filler of submerged arc, and gas."""
    return (*_filler(piece), _diameter(piece), *_electrodes(piece), *_extra(piece), *_gas(piece))


def _filler(piece: Piece) -> tuple[Limit, ...]:
    name, filler = "filler_designation", piece.filler
    tested = piece.word(name)
    if filler is None:
        clause = UNKNOWN.of(piece.book)
        field = "the AWS class of the filler" + (f" ({tested} is none known here)" if tested else "")
        return (unrecorded(name, clause, field, reason="filler_class"),)
    specs = OfSpecification(SPECIFICATIONS[piece.family])
    found = [Limit(name, specs, SPECIFICATION.of(piece.book), reason="filler_specification", tested=tested)]
    if piece.family in ("SMAW", "FCAW"):
        clause = STRENGTH.of(piece.book)
        because = f"tested {filler.name}: no higher strength class"
        allowed = StrengthUpTo(filler.strength_ksi)
        found.append(Limit(name, allowed, clause, because, reason="filler_strength", tested=tested))
    if piece.family == "SMAW" and filler.low_hydrogen:
        clause = HYDROGEN.of(piece.book)
        because = f"tested {filler.name}, low-hydrogen"
        found.append(Limit(name, LowHydrogen(), clause, because, reason="low_hydrogen", tested=tested))
    return (*found, *_class(piece, filler))


def _class(piece: Piece, filler: Filler) -> tuple[Limit, ...]:
    """Line 3: another class needs a test, a lower strength does not.

    For SMAW and FCAW the copy shows a blank, which counts as essential unless the firm reads it otherwise.
    """
    listed = piece.family in ("SAW", "GMAW", "GTAW")
    if not listed and lenient(FILLER_CLASS, piece.settings):
        return ()
    readings = () if listed else (FILLER_CLASS.used(piece.settings),)
    clause = (CLASS if listed else CLASS_BLANK).of(piece.book)
    because = f"tested {filler.name}; a lower strength is allowed"
    allowed = OfClass(filler, or_weaker=True)
    return (Limit("filler_designation", allowed, clause, because, (), readings, "filler_class", tested=filler.name),)


def _diameter(piece: Piece) -> Limit:
    clause = DIAMETER.of(piece.book)
    tested = piece.least("filler_diameter")
    if tested is None:
        return unrecorded("filler_diameter", clause)
    said = piece.said(tested)
    spans = {
        "SMAW": (Interval(None, tested + piece.mm(LARGER_ROD), "mm"), f"larger by {LARGER_ROD} at most"),
        "GMAW": (Interval(tested, tested, "mm"), "no other"),
        "GTAW": (
            Interval(max(tested - piece.mm(OTHER_ROD), Decimal(0)), tested + piece.mm(OTHER_ROD), "mm"),
            f"changed by {OTHER_ROD} at most",
        ),
    }
    span, words = spans.get(piece.family, (Interval(None, tested, "mm"), "not larger"))
    return Limit("filler_diameter", Within(span), clause, f"tested {said}: {words}", tested=said)


def _electrodes(piece: Piece) -> tuple[Limit, ...]:
    if piece.family == "SMAW":
        return ()
    clause = ELECTRODES.of(piece.book)
    tested = piece.least("electrodes")
    if tested is None:
        return (unrecorded("electrodes", clause),)
    because = f"tested with {number(tested)}"
    return (Limit("electrodes", Within(Interval(tested, tested)), clause, because, tested=number(tested)),)


def _extra(piece: Piece) -> tuple[Limit, ...]:
    """Lines 6 (GTAW: hot or cold wire) and 7 to 9 (SAW: powder, granular or cut-wire metal)."""
    if piece.family not in ("SAW", "GTAW"):
        return ()
    clause = (EXTRA_SAW if piece.family == "SAW" else EXTRA_GTAW).of(piece.book)
    tested = piece.words("extra_filler")
    if not tested:
        return (unrecorded("extra_filler", clause),)
    found = [Limit("extra_filler", OneOf(tested), clause, f"tested with {', '.join(tested)}")]
    if piece.family == "SAW" and "none" not in tested:
        found.append(_ratio(piece))
    return tuple(found)


def _ratio(piece: Piece) -> Limit:
    clause = EXTRA_RATIO.of(piece.book)
    ratio = piece.least("extra_filler_ratio")
    if ratio is None:
        return unrecorded("extra_filler_ratio", clause)
    allowed = Within(Interval(None, ratio, "%"))
    return Limit("extra_filler_ratio", allowed, clause, f"tested {number(ratio)} %, no increase")


def _gas(piece: Piece) -> tuple[Limit, ...]:
    """Lines 19 and 20. Line 21 (gas outside the filler's specification) adds nothing to a mixture that stays."""
    if piece.family not in ("GMAW", "FCAW", "GTAW"):
        return ()
    clause = GAS.of(piece.book)
    bare = piece.process == "114"
    written = piece.word("gas_mixture") or ("none" if bare else "")
    found = mixture(written)
    if found is None:
        field = f"a gas mixture that can be read, not {written}" if written else "the nominal gas mixture"
        missing = unrecorded("gas_mixture", clause, field, reason="gas")
        return (missing, around(piece, "gas_flow", GAS_FLOW, FLOW.of(piece.book)))
    assumed = "none" if bare else None
    limit = Limit("gas_mixture", SameMixture(found), clause, f"tested {written}", reason="gas", assumed=assumed)
    if not found:
        return (limit,)
    flow = FLOW.of(piece.book)
    return (limit, around(piece, "gas_flow", GAS_FLOW, flow))
