"""Look-ups of EN 1090-2: what an execution class asks of the shop, its coordinator, its welds and their testing."""

from decimal import Decimal

from codes.calc.calculation import Kind, asked, choice, optional
from codes.clauses import Clause, Mark
from codes.door.calculation import Answer
from codes.door.looking import LookUp, cited
from codes.en_1090_2_2018 import (
    coordinator_level_needed,
    execution_class_for,
    first_joints_share,
    hold_hours,
    iso_3834_part,
    ndt_share,
    quality_level,
)
from codes.en_1090_2_2018.coordinator import REF
from codes.en_1090_2_2018.figures import FORUM
from codes.en_1090_2_2018.inspection import NDT_ROWS, fillet_kind
from codes.parse import BadField
from codes.steels import UnknownGrade, steel_of

CLASSES = {one: one for one in ("EXC1", "EXC2", "EXC3", "EXC4")}
CLASS = choice("execution_class", "Execution class", CLASSES, "always")
KNOWLEDGE = Clause("EN 1090-2:2018", REF, Mark.PART, f"{FORUM}; rest from memory")
LARGE, SMALL, FILLET = "fillet_large", "fillet_small", "fillet"
WELDS = {row.key: row.weld for row in NDT_ROWS if not row.editions or "EN 1090-2:2018" in row.editions}


def look_up_quality_level(execution_class: str) -> Answer:
    """The level of ISO 5817. Example: EXC2 gives C, EXC4 B with extra limits."""
    found = quality_level(execution_class)
    return {"value": found.level, "by_level_d": list(found.milder), "on_top": found.stricter} | cited(found.clause)


def look_up_iso_3834_part(execution_class: str) -> Answer:
    """The part of ISO 3834. Example: EXC2 gives ISO 3834-3."""
    found = iso_3834_part(execution_class)
    return {"value": found.value} | cited(found.clause)


def look_up_coordinator_level(execution_class: str, grade: str, thickness: Decimal) -> Answer:
    """The coordinator's knowledge. Example: EXC2, S355, 25 mm gives B, 25.1 mm S; EXC1 asks for none."""
    try:
        level = coordinator_level_needed(execution_class, steel_of(grade), thickness)
    except UnknownGrade as error:
        raise BadField("grade", str(error)) from None
    return {"value": level or "none", "because": "" if level else "supervision suffices in EXC1"} | cited(KNOWLEDGE)


def look_up_execution_class(consequence_class: str, action: str) -> Answer:
    """The usual execution class; the designer names it. Example: CC2 under fatigue gives EXC3."""
    found = execution_class_for(consequence_class, action != "static")
    return {"value": found.value} | cited(found.clause)


def look_up_ndt_share(
    execution_class: str, weld: str, throat: Decimal | None = None, thickness: Decimal | None = None
) -> Answer:
    """Per cent of supplementary NDT. Example: a butt weld across in EXC3 20 %, the first five joints 40 %."""
    if weld == FILLET:
        if throat is None or thickness is None:
            raise BadField("throat", "state throat and thickness of the fillet, or fillet_large or fillet_small")
        weld = fillet_kind(throat, thickness)
    found = ndt_share(weld, execution_class)
    first = first_joints_share(found.percent)
    said: Answer = {"value": str(found.percent), "unit": "%", "weld": found.weld, "first_five_joints": str(first)}
    return said | cited(found.clause)


def look_up_hold_hours(size: Decimal, heat_input: Decimal, yield_mpa: Decimal) -> Answer:
    """Hours before supplementary NDT. Example: 6 mm, S355: until cooled; 6.1 mm at 3 kJ/mm 8 h."""
    found = hold_hours(size, heat_input, yield_mpa)
    because = "" if found.hours else "until the weld has cooled"
    return {"value": str(found.hours), "unit": "h", "because": because} | cited(found.clause)


EN_LOOK_UPS = (
    LookUp("quality_level", "Weld quality level, EN 1090-2", look_up_quality_level, (CLASS,)),
    LookUp("iso_3834_part", "Part of ISO 3834, EN 1090-2", look_up_iso_3834_part, (CLASS,)),
    LookUp(
        "coordinator_level",
        "Knowledge of the welding coordinator, EN 1090-2",
        look_up_coordinator_level,
        (
            CLASS,
            asked("grade", "Grade as written", kind=Kind.TEXT),
            asked("thickness", "Thickness of the thicker part", "mm"),
        ),
    ),
    LookUp(
        "execution_class",
        "Usual execution class, EN 1993-1-1",
        look_up_execution_class,
        (
            choice("consequence_class", "Consequence class", {one: one for one in ("CC1", "CC2", "CC3")}, "always"),
            choice("action", "Action", {"static": "static", "fatigue": "fatigue", "seismic": "seismic"}, "always"),
        ),
    ),
    LookUp(
        "ndt_share",
        "Share of supplementary NDT, EN 1090-2",
        look_up_ndt_share,
        (
            CLASS,
            choice("weld", "Kind of weld", {FILLET: "fillet by throat and thickness"} | WELDS, "always"),
            optional("throat", "Throat", "mm", needed="fillet"),
            optional("thickness", "Thickness", "mm", needed="fillet"),
        ),
    ),
    LookUp(
        "hold_hours",
        "Hold time before supplementary NDT, EN 1090-2",
        look_up_hold_hours,
        (
            asked("size", "Throat or thickness", "mm"),
            asked("heat_input", "Heat input", "kJ/mm"),
            asked("yield_mpa", "Specified yield strength", "MPa"),
        ),
    ),
)
