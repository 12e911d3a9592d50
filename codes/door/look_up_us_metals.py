"""Look-ups of AWS D1.1 and ASME IX: groups of steels, matching filler, P- and F-numbers, open time of electrodes."""

from decimal import Decimal

from codes.asme_ix_tables import F_ROWS, f_number, p_row
from codes.aws_d1_1.base_metals import Entry, entry_of
from codes.aws_d1_1.fillers import classify
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_look_ups import exposure_hours
from codes.aws_d1_1_look_ups.matching import EXCLUDED, match, matching_classes
from codes.aws_d1_1_people_2020.f_numbers import TABLE_6_13, smaw_group
from codes.calc.calculation import Kind, asked, choice, optional, yes_no
from codes.door.calculation import Answer
from codes.door.look_up_us_sizes import BOOKS, EDITION, FILLER, GRADE, OTHER_GRADE
from codes.door.looking import LookUp, cited, figure_answer
from codes.parse import BadField
from codes.us_terms import UNASSIGNED
from codes.values import Steel


def _group(field: str, grade: str, thickness: Decimal | None, unit_system: str) -> str:
    entry = _entry(field, grade)
    if len(entry.rows) > 1 and not unit_system:
        raise BadField("unit_system", f"must be stated: the thickness at which {entry.name} changes its group differs")
    found = entry.group(thickness, Units(unit_system or "us"))
    if found is None:
        raise BadField("thickness", f"must be stated: {entry.name} changes its group with its thickness")
    return found


def _entry(field: str, grade: str) -> Entry:
    entry = entry_of(Steel(grade=grade))
    if entry is None:
        raise BadField(field, f'"{grade}" is listed neither in Table 5.3 nor in Table 6.9 of AWS D1.1')
    return entry


def look_up_base_metal_group(
    grade: str, thickness: Decimal | None = None, unit_system: str = "", edition: str = "2020"
) -> Answer:
    """The group of a grade. Example: A36 of 3/4 in is of Group I, of 1 in of Group II; A514 needs a test."""
    group = _group("grade", grade, thickness, unit_system)
    entry = _entry("grade", grade)
    row = next(row for row in entry.rows if row.group == group)
    clause = BOOKS[edition].clause("prequalified metals", row.mark, row.source)
    return {
        "value": group,
        "grade": entry.name,
        "prequalified": group != "by test",
        "fy_ksi_mpa": row.fy,
        "fu_ksi_mpa": row.fu,
        "note": row.note,
    } | cited(clause)


def look_up_matching_filler(
    group: str = "",
    grade: str = "",
    other_grade: str = "",
    thickness: Decimal | None = None,
    unit_system: str = "",
    filler_designation: str = "",
    edition: str = "2020",
) -> Answer:
    """Classes that match, and whether a stated one does. Example: E71T-1C matches A572-50, not A572-65."""
    if bool(group) == bool(grade):
        raise BadField("grade", "state either a grade or a group (I to IV)")
    stated = [("grade", grade), ("other_grade", other_grade)]
    groups = (group.upper().removeprefix("GROUP").strip(),) if group else tuple(
        dict.fromkeys(_group(field, name, thickness, unit_system) for field, name in stated if name)
    )  # fmt: skip
    field, book = ("group" if group else "grade"), BOOKS[edition]
    try:
        found = {name: matching_classes(name, book) for name in groups}
    except ValueError as error:
        raise BadField(field, str(error)) from None
    classes = {name: row for name, (row, _) in found.items()}
    result: Answer = {"value": list(groups), "classes": classes, "excluded": EXCLUDED}
    if filler_designation:
        try:
            judged = match(filler_designation, groups, book)
        except ValueError as error:
            raise BadField("filler_designation", str(error)) from None
        result |= {"matches": judged.matches, "because": judged.serves}
    return result | cited(next(iter(found.values()))[1])


def look_up_p_number(grade: str) -> Answer:
    """The P-number and group. Example: SA-516 Gr 70 is P1, group 2; A992 is unassigned until the code is read."""
    row = p_row(grade)
    if row is None:
        return {
            "value": UNASSIGNED,
            "group": None,
            "because": f"{grade} stands in no row held here: nothing is guessed, read QW/QB-422",
            "verified": False,
        }
    return {"value": row.p_number, "group": row.group or None, "verified": row.verified} | cited(row.clause)


def look_up_f_number(filler_designation: str) -> Answer:
    """F-numbers of both codes. Example: E7018 is F4 in both; ER70S-6 is F6 in ASME IX and has none in AWS D1.1."""
    asme, aws = f_number(filler_designation), smaw_group(filler_designation)
    if not asme and not aws:
        raise BadField("filler_designation", f'"{filler_designation}" stands in no row of QW-432 held here')
    row = next((row for row in F_ROWS if row.f_number == asme), None)
    result: Answer = {"value": asme or None, "aws_d1_1": aws or None, "aws_d1_1_clause": str(TABLE_6_13)}
    return result | (cited(row.clause) if row else {})


def look_up_exposure_hours(
    filler_designation: str = "",
    strength_ksi: Decimal | None = None,
    moisture_resistant: bool = False,
    edition: str = "2020",
) -> Answer:
    """Hours that a low-hydrogen electrode may lie open. Example: E7018 4 h, E7018-H4R 9 h, E8018-C3 2 h."""
    filler = classify(filler_designation) if filler_designation else None
    if filler_designation and (filler is None or filler.family != "SMAW" or not filler.low_hydrogen):
        raise BadField("filler_designation", f'"{filler_designation}" is no low-hydrogen covered electrode known here')
    if filler is None and strength_ksi is None:
        raise BadField("filler_designation", "must be stated, or strength_ksi")
    resistant = moisture_resistant or filler_designation.upper().endswith("R")
    ksi = filler.strength_ksi if filler is not None else int(strength_ksi or 0)
    return figure_answer(exposure_hours(ksi, resistant, BOOKS[edition]), "si", "h")


BY_THICKNESS = (
    optional("thickness", "Thickness", "mm", needed="a grade that changes its group"),
    choice("unit_system", "Set of figures", {"us": "inch, °F", "si": "mm, °C"}, "a grade that changes its group"),
)
METAL_LOOK_UPS = (
    LookUp(
        "matching_filler",
        "Matching filler, AWS D1.1",
        look_up_matching_filler,
        (
            optional("group", "Group of the steel", kind=Kind.TEXT, needed="no grade"),
            optional("grade", "Grade as written", kind=Kind.TEXT, needed="no group"),
            OTHER_GRADE,
            *BY_THICKNESS,
            FILLER,
            EDITION,
        ),
    ),
    LookUp(
        "base_metal_group",
        "Group of a steel, AWS D1.1",
        look_up_base_metal_group,
        (
            GRADE,
            *BY_THICKNESS,
            EDITION,
        ),
    ),
    LookUp("p_number", "P-number of a metal, ASME IX", look_up_p_number, (GRADE,)),
    LookUp(
        "f_number",
        "F-number of a filler, ASME IX and AWS D1.1",
        look_up_f_number,
        (asked("filler_designation", "AWS class of the filler", kind=Kind.TEXT),),
    ),
    LookUp(
        "exposure_hours",
        "Hours that a low-hydrogen electrode may lie open, AWS D1.1",
        look_up_exposure_hours,
        (
            FILLER,
            optional("strength_ksi", "Strength class in ksi", needed="no filler"),
            yes_no("moisture_resistant", "Moisture-resistant (suffix R)"),
            EDITION,
        ),
    ),
)
