"""ASME IX: parent metals by P-number and group as stated or looked up, and A-numbers of deposits (QW-442, from memory).

The rows of P-numbers and F-numbers stand in `codes.asme_ix_tables`. A metal whose specification and grade stand in no
row has no P-number here: nothing is guessed from a similar grade or its strength.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_tables import p_row
from codes.clauses import Clause, Mark
from codes.values import Interval, Steel, bare
from codes.vocabulary import TERMS


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
    row = p_row(steel.grade) if steel.grade else None
    if row is None:
        return None
    return BaseMetal(row.p_number, str(row.group) if row.group else "", row.clause.mark, row.clause.source)


def metal_key(grade: str) -> str:
    """A specification and grade without the spellings that carry nothing. Example: "SA-106 Gr. B" is "a106b"."""
    text = re.sub(r"\b(astm|asme|grade|gr|type)\b\.?", " ", grade.casefold().replace("a/sa", "a"))
    return re.sub(r"(?<=\d)gr(?=[a-z0-9])", "", re.sub(r"^sa(?=\d)", "a", bare(text)))


QW_442 = Clause("ASME IX", "QW-442", Mark.MEMORY, "from memory")
QW_442_MOVED = Clause("ASME IX", "QW-442", Mark.DOUBT, "from memory; the bounds moved between editions")

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
    clause: Clause = QW_442

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
    DepositRow("A4", "0.15 2.00-4.00 0.40-1.50 0.50 1.60 2.00", QW_442_MOVED),
    DepositRow("A5", "0.15 4.00-10.50 0.40-1.50 0.80 1.20 2.00", QW_442_MOVED),
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
