"""Look-ups of AWS D1.1: smallest and largest welds, legs over a gap, least preheat."""

from decimal import Decimal

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, Book
from codes.aws_d1_1.fillers import classify
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_look_ups import (
    leg_with_gap,
    maximum_edge_fillet,
    minimum_fillet,
    minimum_length,
    minimum_pjp_size,
)
from codes.aws_d1_1_prequalified import minimum_preheat
from codes.calc.calculation import Input, Kind, asked, choice, optional, process, yes_no
from codes.door.calculation import Answer
from codes.door.looking import LookUp, cited, figure_answer, listed
from codes.parse import BadField
from codes.values import Steel, SteelPair

BOOKS: dict[str, Book] = {"2020": BOOK_2020, "2015": BOOK_2015}
UNITS = choice("unit_system", "Set of figures", {"us": "inch, °F", "si": "mm, °C"}, "always")
EDITION = choice("edition", "Edition of AWS D1.1", {key: book.standard for key, book in BOOKS.items()})
THICKNESS = asked("thickness", "Thickness of a part", "mm")
OTHER = optional("other_thickness", "Thickness of the other part", "mm", "like the first where not stated")
GRADE, OTHER_GRADE = (
    asked("grade", "Grade as written", kind=Kind.TEXT),
    optional("other_grade", "Grade of the other part", kind=Kind.TEXT),
)
FILLER = optional("filler_designation", "AWS class of the filler", kind=Kind.TEXT)
LOW = yes_no("low_hydrogen", "Low-hydrogen process or electrode", needed="no filler, and no process but SMAW, stated")
HYDROGEN: tuple[Input, ...] = (process(), FILLER, LOW)
SMAW = "111"


def _low_hydrogen(process: str, filler_designation: str, low_hydrogen: bool | None) -> bool:
    """As stated, else by the class of the filler, else by the process: only covered electrodes may not be."""
    if low_hydrogen is not None:
        return low_hydrogen
    filler = classify(filler_designation) if filler_designation else None
    if filler_designation and filler is None:
        raise BadField("filler_designation", f'"{filler_designation}" is not an AWS classification known here')
    if filler is not None:
        return filler.low_hydrogen
    if process and process != SMAW:
        return True
    raise BadField("low_hydrogen", "must be stated, or the filler, or a process other than SMAW")


def look_up_minimum_fillet(
    thickness: Decimal,
    unit_system: str,
    other_thickness: Decimal | None = None,
    process: str = "",
    filler_designation: str = "",
    low_hydrogen: bool | None = None,
    cyclic: bool = False,
    preheat_worked_out: bool = False,
    edition: str = "2020",
) -> Answer:
    """The smallest leg. Example: 1/4 in and 1 in, E7018, "us": 1/8 in."""
    low = _low_hydrogen(process, filler_designation, low_hydrogen)
    parts = listed(thickness, other_thickness)
    found = minimum_fillet(
        parts, unit_system, low, cyclic=cyclic, preheat_worked_out=preheat_worked_out, book=BOOKS[edition]
    )
    return figure_answer(found, unit_system)


def look_up_maximum_edge_fillet(
    thickness: Decimal, unit_system: str, built_out: bool = False, edition: str = "2020"
) -> Answer:
    """The largest leg along an edge. Example: 1/4 in gives 3/16 in."""
    return figure_answer(
        maximum_edge_fillet(thickness, unit_system, built_out=built_out, book=BOOKS[edition]), unit_system
    )


def look_up_minimum_fillet_length(
    leg: Decimal, unit_system: str, intermittent: bool = False, edition: str = "2020"
) -> Answer:
    """The least effective length. Example: a leg of 5/16 in asks for 1-1/4 in."""
    return figure_answer(minimum_length(leg, unit_system, intermittent=intermittent, book=BOOKS[edition]), unit_system)


def look_up_leg_with_gap(
    leg: Decimal, gap: Decimal, unit_system: str, thickness: Decimal | None = None, edition: str = "2020"
) -> Answer:
    """The leg to be made over an open root. Example: 1/4 in and a gap of 1/8 in give 3/8 in."""
    return figure_answer(leg_with_gap(leg, gap, unit_system, thickness=thickness, book=BOOKS[edition]), unit_system)


def look_up_minimum_pjp_size(
    thickness: Decimal,
    unit_system: str,
    other_thickness: Decimal | None = None,
    process: str = "",
    filler_designation: str = "",
    low_hydrogen: bool | None = None,
    reading: str = "strict",
    edition: str = "2020",
) -> Answer:
    """The least prequalified weld size E. Example: 1 in to 1 in gives 5/16 in."""
    low = _low_hydrogen(process, filler_designation, low_hydrogen)
    settings = {"aws_d1_1_prequalified_pjp_thickness": reading}
    parts = listed(thickness, other_thickness)
    found = minimum_pjp_size(parts, unit_system, low, book=BOOKS[edition], settings=settings)
    return figure_answer(found, unit_system)


def look_up_preheat(
    grade: str,
    thickness: Decimal,
    unit_system: str,
    other_grade: str = "",
    process: str = "",
    filler_designation: str = "",
    low_hydrogen: bool | None = None,
    hydrogen_ml: Decimal | None = None,
    parent_temperature: Decimal | None = None,
    reading: str = "strict",
    edition: str = "2020",
) -> Answer:
    """The least preheat and interpass temperature. Example: A572-65 of 1 in, E8018-C3, "us": 150 °F."""
    low = _low_hydrogen(process, filler_designation, low_hydrogen)
    filler = classify(filler_designation) if filler_designation else None
    if hydrogen_ml is None and filler is not None and filler.hydrogen_ml:
        hydrogen_ml = Decimal(filler.hydrogen_ml)
    pair = SteelPair(Steel(grade=grade), Steel(grade=other_grade or grade))
    found = minimum_preheat(
        pair, thickness, process or SMAW, low, unit_system, hydrogen_ml=hydrogen_ml,
        parent_temperature=parent_temperature, book=BOOKS[edition],
        settings={"aws_d1_1_prequalified_a913": reading},
    )  # fmt: skip
    if found.figure is None:
        raise BadField("grade", found.because)
    us = Units(unit_system) is Units.US
    return {
        "value": str(found.figure.f if us else found.figure.c),
        "unit": "°F" if us else "°C",
        "shown": str(found.figure),
        "category": found.category,
        "because": found.because,
        "readings": list(found.readings),
    } | cited(found.clause)


READING = choice("reading", "Reading of what is doubtful", {"strict": "strict", "lenient": "lenient"})
LEG = asked("leg", "Leg", "mm")
SIZE_LOOK_UPS = (
    LookUp(
        "minimum_fillet",
        "Smallest fillet, AWS D1.1",
        look_up_minimum_fillet,
        (
            THICKNESS,
            UNITS,
            OTHER,
            *HYDROGEN,
            yes_no("cyclic", "Cyclic load"),
            yes_no("preheat_worked_out", "Preheat worked out to prevent cracking"),
            EDITION,
        ),
    ),
    LookUp(
        "maximum_edge_fillet",
        "Largest fillet along an edge, AWS D1.1",
        look_up_maximum_edge_fillet,
        (asked("thickness", "Thickness of the edge", "mm"), UNITS, yes_no("built_out", "Shown as built out"), EDITION),
    ),
    LookUp(
        "minimum_fillet_length",
        "Shortest fillet, AWS D1.1",
        look_up_minimum_fillet_length,
        (LEG, UNITS, yes_no("intermittent", "Segment of an intermittent weld"), EDITION),
    ),
    LookUp(
        "leg_with_gap",
        "Leg of a fillet over an open root, AWS D1.1",
        look_up_leg_with_gap,
        (LEG, asked("gap", "Root gap", "mm"), UNITS, optional("thickness", "Thickness of the parts", "mm"), EDITION),
    ),
    LookUp(
        "minimum_pjp_size",
        "Smallest prequalified PJP weld, AWS D1.1",
        look_up_minimum_pjp_size,
        (THICKNESS, UNITS, OTHER, *HYDROGEN, READING, EDITION),
    ),
    LookUp(
        "preheat",
        "Least preheat and interpass temperature, AWS D1.1",
        look_up_preheat,
        (
            GRADE,
            asked("thickness", "Thickness of the thickest part", "mm"),
            UNITS,
            OTHER_GRADE,
            *HYDROGEN,
            optional("hydrogen_ml", "Diffusible hydrogen of the filler", "", "ml/100 g; from the class where it says"),
            optional("parent_temperature", "Temperature of the parent metal", "°C", "before heating"),
            READING,
            EDITION,
        ),
    ),
)
