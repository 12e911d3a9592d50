"""ASME IX, look-ups that procedures and persons share: P-numbers (QW/QB-422), F-numbers (QW-432), A-numbers (QW-442).

Working subsets. A metal whose exact specification and grade is not listed has no P-number here: nothing is guessed
from a similar grade or its strength. Rows marked "unsure" by our source are not entered (API 5L X80), nor are the
grades nobody has looked up for us yet (A588, A992, A913, A1085, A572 55 to 65, A709 W and HPS, EN 10025).
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from codes.clauses import Mark
from codes.values import Interval, Steel
from codes.vocabulary import TERMS

SEEN = "public upload of QW/QB-422, 2017 edition (fdocuments.us, studylib.net)"
GENERAL = "public notes on P-numbers (underfill.blogspot.com, document-sharing sites)"
MEMORY = "from memory, QW/QB-422"
EXAMPLE = "public WPS example of 2019 (weldinginspections.net)"
HEAT_NOTE = "public note on heat input, a weak source (industrialmonitordirect.com)"


@dataclass(frozen=True, slots=True)
class MetalRow:
    """Metals of one P-number and group ("" where the row leaves it open), written "spec grade,grade; spec grade"."""

    p_number: str
    group: str
    metals: str
    mark: Mark
    source: str


METALS = (
    MetalRow("P1", "1", "A36; A53 A,B; A106 A,B; A135 A,B; A139 A,B,C,D,E; 1015; 1018; 1020", Mark.CONFIRMED, SEEN),
    MetalRow("P1", "1", "A283 A,B,C,D; A285 A,B,C; A516 55,60,65; A515 60,65", Mark.MEMORY, MEMORY),
    MetalRow("P1", "1", "A500 B,C; A501; A572 42,50; A709 36,50; A234 WPB", Mark.MEMORY, MEMORY),
    MetalRow("P1", "1", "A333 1,6; A350 LF1; 5L B,X42,X46", Mark.MEMORY, MEMORY),
    MetalRow("P1", "1", "5L X52", Mark.CONFIRMED, EXAMPLE),
    MetalRow("P1", "2", "A105; A106 C", Mark.CONFIRMED, SEEN),
    MetalRow("P1", "2", "A516 70", Mark.PART, HEAT_NOTE),
    MetalRow("P1", "2", "A515 70; A537 Cl1; A350 LF2; A216 WCB,WCC; A234 WPC; 5L X56,X60,X65", Mark.MEMORY, MEMORY),
    MetalRow("P1", "3", "A537 Cl2; 5L X70", Mark.MEMORY, MEMORY),
    MetalRow("P3", "3", "8620", Mark.CONFIRMED, SEEN),
    MetalRow("P3", "3", "A302 B,C,D; A533 BCl1; A508 2Cl1,3Cl1", Mark.MEMORY, MEMORY),
    MetalRow("P3", "", "A204 A,B,C; A335 P1,P2; A387 2", Mark.MEMORY, MEMORY),
    MetalRow("P4", "1", "A335 P11,P12; A387 11,12; A182 F11,F12", Mark.MEMORY, MEMORY),
    MetalRow("P5A", "1", "A335 P21,P22; A387 21,22; A182 F21,F22Cl1", Mark.MEMORY, MEMORY),
    MetalRow("P5B", "1", "A335 P5,P9; A387 5,9", Mark.MEMORY, MEMORY),
    MetalRow("P6", "", "410; 415; 429", Mark.PART, GENERAL),
    MetalRow("P7", "1", "405; 409; 410S", Mark.MEMORY, MEMORY),
    MetalRow("P7", "2", "430", Mark.MEMORY, MEMORY),
    MetalRow("P8", "1", "304; 304L; 304H; 316; 316L; 316H; 317; 317L; 317H", Mark.PART, GENERAL),
    MetalRow("P8", "1", "321; 321H; 347; 347H", Mark.PART, GENERAL),
    MetalRow("P8", "2", "309; 310", Mark.PART, GENERAL),
    MetalRow("P8", "3", "201; XM19", Mark.PART, GENERAL),
    MetalRow("P8", "4", "S31254", Mark.PART, GENERAL),
    MetalRow("P10C", "1", "A612", Mark.PART, GENERAL),
    MetalRow("P10H", "1", "S31803; S32205; S32750", Mark.PART, GENERAL),
    MetalRow("P11A", "1", "A353; A553 I; A333 8", Mark.PART, GENERAL),
    MetalRow("P11B", "", "A514; A517", Mark.PART, GENERAL),
    MetalRow("P15E", "1", "91; 92", Mark.MEMORY, MEMORY),
)


@dataclass(frozen=True, slots=True)
class BaseMetal:
    """What a parent metal is to ASME IX: P-number token ("P5A"), group ("" where open), how sure, and from where."""

    p_number: str
    group: str
    mark: Mark
    source: str

    @property
    def verified(self) -> bool:
        """True where the P-number was stated outright or stands in the copy that was seen."""
        return self.mark in (Mark.CONFIRMED, Mark.OWN)

    def __str__(self) -> str:
        group = f" Gr {self.group}" if self.group else ""
        return f"P-{self.p_number[1:]}{group}"


# "P22" alone is a grade of pipe as often as a P-number, so a grade needs the dash or the word "No".
_NUMBER = r"(\d+[a-k]?)(?:[\s,/]*gr?(?:oup)?[.\s]*(?:no[.\s]*)?(\d+))?"
_STATED = re.compile(rf"p\s*(?:-\s*(?:no[.\s-]*)?|no[.\s-]*){_NUMBER}")
_STATED_GROUP = re.compile(rf"p[\s-]*(?:no[.\s-]*)?{_NUMBER}")


def base_metal(steel: Steel) -> BaseMetal | None:
    """P-number and group of a parent metal, None where it is not known here.

    Stated outright in group or grade ("P-1 Gr 2"), else looked up by the grade. Example: "SA-516 Gr. 70" is P-1 Gr 2.
    """
    # A bare "1.2" in the group is one of ISO/TR 15608; "P1" there can only be a P-number.
    group = steel.group if steel.group.casefold().startswith("p") else ""
    for pattern, words in ((_STATED_GROUP, group), (_STATED, steel.grade)):
        stated = pattern.fullmatch(words.casefold().strip())
        if stated and f"P{stated[1].upper()}" in TERMS["p_number"]:
            return BaseMetal(f"P{stated[1].upper()}", stated[2] or "", Mark.OWN, "stated")
    row = _metals().get(metal_key(steel.grade))
    return BaseMetal(row.p_number, row.group, row.mark, row.source) if row else None


def metal_key(grade: str) -> str:
    """A specification and grade without the spellings that carry nothing. Example: "SA-106 Gr. B" is "a106b"."""
    text = re.sub(r"\b(astm|asme|api|grade|gr|type|tp|uns|no)\b\.?", " ", grade.casefold().replace("a/sa", "a"))
    text = re.sub(r"\b(class|cl)\b\.?", "cl", text)
    text = re.sub(r"[^a-z0-9]", "", text)
    text = re.sub(r"^(astm|asme|tp)(?=[a-z0-9])", "", text)
    return re.sub(r"(?<=\d)gr(?:ade)?(?=[a-z0-9])", "", re.sub(r"^sa(?=\d)", "a", text))


@cache
def _metals() -> Mapping[str, MetalRow]:
    return {metal_key(name): row for row in METALS for name in metal_names(row)}


def metal_names(row: MetalRow) -> Iterator[str]:
    """The metals of a row one by one. Example: "A53 A,B" gives "A53 A" and "A53 B"."""
    for part in row.metals.split(";"):
        spec, _, grades = part.strip().rpartition(" ")
        for grade in grades.split(","):
            yield f"{spec} {grade}".strip()


@dataclass(frozen=True, slots=True)
class FillerRow:
    """Filler classifications of one F-number as a pattern over the designation without blanks and dashes."""

    f_number: str
    pattern: str
    words: str


# Order matters: the first row that fits decides. General meaning of F-1 to F-6 confirmed (public definitions on
# document-sharing sites, weldingdesign.com); members from memory. Patterns read the designation in capitals, no dashes.
FILLERS = (
    FillerRow("F1", r"E\d{2,3}2[02478][A-Z0-9]*", "EXX20, 22, 24, 27, 28"),
    FillerRow("F2", r"E\d{2,3}1[2349][A-Z0-9]*", "EXX12, 13, 14, 19"),
    FillerRow("F3", r"E\d{2,3}1[01][A-Z0-9]*", "EXX10, EXX11"),
    FillerRow("F1", r"E(?:[2345]\d\d)[A-Z]*26", "stainless electrodes ending in 26"),
    FillerRow("F4", r"E(?:410|430|5\d\d)[A-Z]*1[567]", "ferritic and martensitic stainless electrodes"),
    FillerRow("F5", r"E(?:2\d{2,3}|3\d\d)[A-Z]*1[567]", "austenitic and duplex stainless electrodes"),
    FillerRow("F4", r"E\d{2,3}(?:1[568]|48)[A-Z0-9]*", "EXX15, 16, 18, 48"),
    FillerRow("F6", r"ER?(?:6|7|8|9|10|11|12)0?\d?[SC]\w*", "solid and metal-cored wires for steel"),
    FillerRow("F6", r"E(?:6|7|8|9|10|11|12)\d?[01]?T\w*", "flux-cored wires for steel"),
    FillerRow("F6", r"E(?:[23]\d{2,3})\w*T\w*", "flux-cored stainless wires"),
    FillerRow("F6", r"(?:F\d+[APZ]\w*)?E[LMHC]\w*", "submerged-arc wires, with or without their flux"),
    FillerRow("F6", r"ERX?(?:2\d{2,3}|3\d\d|4[13]\d|5\d\d|6\d\d)[A-Z]*", "stainless wires and rods"),
    FillerRow("F21", r"ER1[01]\d\d", "aluminium 1xxx"),
    FillerRow("F22", r"ER5\d{3}", "aluminium 5xxx"),
    FillerRow("F23", r"ER4\d{3}", "aluminium 4xxx"),
    FillerRow("F25", r"ER2319", "aluminium 2319"),
    FillerRow("F34", r"ERCUNI", "copper-nickel"),
    FillerRow("F41", r"ERNI1", "nickel"),
    FillerRow("F42", r"ERNICU7", "nickel-copper"),
    FillerRow("F43", r"ERNICR3|ENICRFE3|ERNICRMO3", "nickel-chromium-iron, nickel-chromium-molybdenum"),
    FillerRow("F45", r"ERNIFECR1", "nickel-iron-chromium"),
)
FILLERS_SOURCE = "from memory, QW-432; general meaning: public definitions (scribd.com, weldingdesign.com)"


def f_number(designation: str) -> str | None:
    """The F-number token of an AWS classification, None where the table has none. Example: "E7018-1 H4R" is F4."""
    text = re.sub(r"^SFA5\d{1,2}M?(?=E)", "", re.sub(r"[^A-Z0-9]", "", designation.upper()))
    return next((row.f_number for row in FILLERS if re.fullmatch(row.pattern, text)), None)


USUAL_A_NUMBERS: Mapping[str, str] = {
    "E7018": "A1",
    "E6010": "A1",
    "ER70S-6": "A1",
    "E71T-1": "A1",
    "E7018-A1": "A2",
    "E8018-B2": "A3",
    "E9018-B3": "A4",
    "E308L": "A8",
    "E316L": "A8",
    "E309L": "A8",
    "E8018-C1": "A10",
    "E8018-C3": "A10",
    "E9018-D1": "A11",
}
"""Usual pairs, from memory, to show beside the field; the A-number itself is stated with its evidence."""

ELEMENTS = ("C", "Cr", "Mo", "Ni", "Mn", "Si")


@dataclass(frozen=True, slots=True)
class DepositRow:
    """One A-number: bounds in % of `ELEMENTS` in order; a single figure is the highest."""

    a_number: str
    bounds: str
    mark: Mark = Mark.MEMORY

    def holds(self, analysis: Mapping[str, Decimal]) -> bool:
        """True where every stated element lies in its bounds."""
        ranges = dict(zip(ELEMENTS, map(_bounds, self.bounds.split()), strict=True))
        return all(ranges[element].holds(share) for element, share in analysis.items() if element in ranges)


def _bounds(text: str) -> Interval:
    lo, dash, hi = text.partition("-")
    return Interval(Decimal(lo), Decimal(hi), "%") if dash else Interval(Decimal(0), Decimal(lo), "%")


DEPOSITS = (
    DepositRow("A1", "0.20 0.20 0.30 0.50 1.60 1.00"),
    DepositRow("A2", "0.15 0.50 0.40-0.65 0.50 1.60 1.00"),
    DepositRow("A3", "0.15 0.40-2.00 0.40-0.65 0.50 1.60 1.00"),
    DepositRow("A4", "0.15 2.00-4.00 0.40-1.50 0.50 1.60 2.00", Mark.DOUBT),
    DepositRow("A5", "0.15 4.00-10.50 0.40-1.50 0.80 1.20 2.00", Mark.DOUBT),
    DepositRow("A6", "0.15 11.00-15.00 0.70 0.80 2.00 1.00"),
    DepositRow("A7", "0.15 11.00-30.00 1.00 0.80 1.00 3.00"),
    DepositRow("A8", "0.15 14.50-30.00 4.00 7.50-15.00 2.50 1.00"),
    DepositRow("A9", "0.30 19.00-30.00 6.00 15.00-37.00 2.50 1.00"),
    DepositRow("A10", "0.15 0.50 0.55 0.80-4.00 1.70 1.00"),
    DepositRow("A11", "0.17 0.50 0.25-0.75 0.85 1.25-2.25 1.00"),
    DepositRow("A12", "0.15 1.50 0.25-0.80 1.25-2.80 0.75-2.25 1.00"),
)


def a_numbers(analysis: Mapping[str, Decimal]) -> tuple[str, ...]:
    """The A-numbers that an analysis [%] fits, to warn with and never to decide: the bounds moved between editions."""
    return tuple(row.a_number for row in DEPOSITS if row.holds(analysis))
