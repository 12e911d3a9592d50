"""A look-up as a question: {"look_up": "grade", "grade": "S355J2+N"}. Add one by a row of LOOK_UPS,
those of EN 1090-2 and of the US codes in the files beside this one.

What is looked up may stand beside the key or under `inputs`.
"""

from collections.abc import Mapping
from decimal import Decimal

from codes.calc.calculation import Kind, asked, optional, process, yes_no
from codes.calc.heat import EFFICIENCY, efficiency
from codes.calc.inputs import arguments
from codes.clauses import Clause, Mark
from codes.door.calculation import ANSWERED, Answer, inputs_schema
from codes.door.look_up_en import EN_LOOK_UPS
from codes.door.look_up_us_metals import METAL_LOOK_UPS
from codes.door.look_up_us_sizes import SIZE_LOOK_UPS
from codes.door.looking import LookUp, cited
from codes.en_1090_2_2018.tacks import REF, SOURCE, tack_minimum_length
from codes.parse import BadField, Plain
from codes.steels import UnknownGrade, grade_of, steel_of
from codes.terms import UnknownTerm, parse_term, term
from codes.values import number
from codes.vocabulary import TERMS

TACKS = Clause("EN 1090-2:2018", REF, Mark.PART, SOURCE)


def look_up_grade(grade: str, thickness: Decimal | None = None, by_band: bool = False, tested: bool = False) -> Answer:
    """Group (ISO/TR 15608) and specified minimum yield [MPa] of a grade. Raises BadField for an unknown grade."""
    if thickness is not None and thickness <= 0:
        raise BadField("thickness", "must be above 0 mm")
    if by_band and thickness is None:
        raise BadField("thickness", "must be stated for the yield by band of thickness")
    try:
        steel, entry = steel_of(grade, thickness, by_band, tested=tested), grade_of(grade)
    except UnknownGrade as error:
        raise BadField("grade", str(error)) from None
    strength = None if steel.yield_mpa is None else number(steel.yield_mpa)
    return {
        "grade": steel.grade,
        "standard": entry.standard,
        "group": steel.group,
        "yield_mpa": strength,
        "bands": [{"thickness": str(band.thickness), "yield_mpa": number(band.yield_mpa)} for band in entry.bands],
        "note": entry.note,
        "group_source": cited(entry.group_clause),
        "yield_source": cited(entry.yield_clause),
    }


def look_up_tack_length(thicker_t: Decimal) -> Answer:
    """The shortest tack [mm]. Example: 10 mm gives 40 mm, 12.5 mm and more 50 mm."""
    try:
        value = tack_minimum_length(thicker_t)
    except ValueError as error:
        raise BadField("thicker_t", str(error)) from None
    return {"value": number(value), "unit": "mm"} | cited(TACKS)


def look_up_thermal_efficiency(process: str) -> Answer:
    """The factor k of a process. Raises BadField where none is on file."""
    k = efficiency(process)
    if k is None:
        raise BadField("process", f"no thermal efficiency is on file for process {process}")
    return {"value": number(k), "unit": ""} | cited(EFFICIENCY)


def look_up_term(vocabulary: str, word: str) -> Answer:
    """The canonical token of a word of the trade, with its ISO and AWS names."""
    if vocabulary not in TERMS:
        raise BadField("vocabulary", f'"{vocabulary}" is not known; use one of: {", ".join(TERMS)}')
    try:
        found = term(vocabulary, parse_term(vocabulary, word))
    except UnknownTerm as error:
        raise BadField("word", str(error)) from None
    return {"value": found.token, "iso": found.iso, "aws": found.aws, "words": found.words}


LOOK_UPS = {
    one.name: one
    for one in (
        LookUp(
            "grade",
            "Group and yield of a steel grade",
            look_up_grade,
            (
                asked("grade", "Grade as written", kind=Kind.TEXT),
                optional("thickness", "Thickness", "mm", needed="by band"),
                yes_no("by_band", "Yield of the band of thickness"),
                yes_no("tested", "As the material of a test piece"),
            ),
        ),
        LookUp(
            "tack_length",
            "Shortest tack weld, EN 1090-2",
            look_up_tack_length,
            (asked("thicker_t", "Thickness of the thicker part", "mm"),),
        ),
        LookUp(
            "thermal_efficiency",
            "Thermal efficiency k of a process",
            look_up_thermal_efficiency,
            (process(needed="always"),),
        ),
        LookUp(
            "term",
            "ISO and AWS names of a term",
            look_up_term,
            (asked("vocabulary", "Vocabulary", kind=Kind.TEXT), asked("word", "Word", kind=Kind.TEXT)),
        ),
        *EN_LOOK_UPS,
        *SIZE_LOOK_UPS,
        *METAL_LOOK_UPS,
    )
}


def answer_look_up(plain: Mapping[str, Plain]) -> Answer:
    """The answer to one look-up. Raises BadField where it cannot be read or nothing is found."""
    name = str(plain["look_up"])
    if name not in LOOK_UPS:
        raise BadField("look_up", f'"{name}" is not known; use one of: {", ".join(LOOK_UPS)}')
    beside = {key: value for key, value in plain.items() if key not in ("id", "look_up", "inputs")}
    inputs = plain.get("inputs", {})
    if not isinstance(inputs, Mapping):
        raise BadField("inputs", "must be an object")
    stated = arguments(name, LOOK_UPS[name].inputs, beside | dict(inputs))
    try:
        found = LOOK_UPS[name].function(**stated)
    except BadField:
        raise
    except ValueError as error:
        # These messages begin with the size they speak of.
        first = str(error).split(" ", 1)[0].rstrip(",")
        raise BadField(first if first in stated else "inputs", str(error)) from None
    head: Answer = {"id": str(plain["id"])} if plain.get("id") else {}
    return head | {"look_up": name, "outcome": ANSWERED} | found


def look_up_schemas() -> Answer:
    """The schema of a look-up question, the inputs beside the key."""
    schemas: list[Plain] = []
    for one in LOOK_UPS.values():
        inputs = inputs_schema(one.inputs)
        properties, required = inputs["properties"], inputs["required"]
        assert isinstance(properties, dict) and isinstance(required, list)
        beside: Answer = {"id": {"type": "string"}, "look_up": {"const": one.name}}
        schemas.append(
            inputs | {"title": one.label, "properties": beside | properties, "required": ["look_up", *required]}
        )
    return {"oneOf": schemas}
