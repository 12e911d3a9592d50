"""One cell of a list of welds to a value of its field. A bad one says what is wrong and what would be right."""

import re
from collections.abc import Callable, Mapping
from decimal import ROUND_HALF_UP, Decimal
from difflib import get_close_matches

from django.utils.translation import gettext

from codes.amounts import amount
from codes.steels import UnknownGrade
from joints.imports.columns import LENGTHS
from joints.weld_data.steel import present_name
from register.held.grades import known_steel
from register.lists.cells import BadCell, day, figure, formula_in, looks_like_formula, short_text, size, term, written
from register.lists.table import Cell
from wps.preparation import KINDS

__all__ = [
    "TEXTS",
    "BadCell",
    "angle",
    "formula_in",
    "grade",
    "looks_like_formula",
    "preparation",
    "processes",
    "reader",
    "station",
]

VOCABULARIES: Mapping[str, str] = {
    "weld_type": "weld_type",
    "joint_type": "joint_type",
    "product": "product",
    "position": "position",
    "weld_detail": "weld_detail",
    "gouging": "gouging",
    "rotated": "yes_no",
    "intermittent": "yes_no",
}
TEXTS: Mapping[str, int] = {
    "assembly": 60,
    "assembly_title": 200,
    "assembly_kind": 60,
    "number": 40,
    "heat_1": 40,
    "heat_2": 40,
    "remarks": 500,
    "model_id": 64,
}
STEP = Decimal("0.001")
STATES_INCHES = re.compile(r"\d\s*(?:in\.?|inch|inches|\"|″)\s*$", re.IGNORECASE)
PROCESS_FIELDS = ("final_process", "tack_process")
STATION_FIELDS = ("final_workstation", "tack_workstation")


def text(field: str, cell: Cell) -> str:
    """A text of a field. Raises BadCell where it is too long."""
    return short_text(cell, TEXTS[field])


def processes(cell: Cell) -> str:
    """One process, or several of one weld. Raises BadCell. Example: "141 / 135" gives "141+135"."""
    said = written(cell)
    parts = [part for part in re.split(r"\s*[+/,;]\s*", said) if part]
    return "+".join(dict.fromkeys(term("process", part) for part in parts))


def angle(cell: Cell, comma_decimal: bool) -> str:
    """A branch angle up to 180 degrees. Raises BadCell."""
    said = size(cell, comma_decimal)
    if Decimal(said) > 180:
        raise BadCell(gettext("%(said)s° is no branch angle; it lies above 0 and up to 180") % {"said": said})
    return said


def grade(cell: Cell) -> str:
    """A steel grade as written, once the register knows it. Raises BadCell naming the present or the nearest grades."""
    said = written(cell)
    try:
        known_steel(said)
    except UnknownGrade as unknown:
        if now := present_name(said):
            former = gettext("“%(said)s” is the former name of %(now)s; check it against the material certificate")
            raise BadCell(former % {"said": said, "now": now}) from None
        raise BadCell(str(unknown)) from None
    if len(said) > 40:
        raise BadCell(gettext("“%(said)s…” is longer than 40 characters") % {"said": said[:20]})
    return said


def preparation(cell: Cell) -> str:
    """The token of a joint preparation, in our words or as people say it. Raises BadCell. Example: "Single V"."""
    said = re.sub(r"[\s_-]+", " ", written(cell)).strip().casefold()
    for token, words in KINDS:
        if said in (token.replace("_", " "), words.casefold(), words.partition(" (")[0].casefold()):
            return token
    raise BadCell(
        gettext("“%(said)s” is no preparation; use one of: %(kinds)s")
        % {"said": said[:30], "kinds": ", ".join(words for _, words in KINDS)}
    )


def station(cell: Cell, known: Mapping[str, int]) -> str:
    """The name of a workstation on file, whatever the case. Raises BadCell naming those on file."""
    said = str(cell).strip()
    names = {name.casefold(): name for name in known}
    if found := names.get(said.casefold()):
        return found
    near = [names[n] for n in get_close_matches(said.casefold(), names, n=3, cutoff=0.5)] or sorted(known)
    remedy = f"on file: {', '.join(near)}" if near else "no workstation is on file yet; enter it first"
    raise BadCell(gettext("“%(said)s” is no workstation on file; %(remedy)s") % {"said": said[:40], "remedy": remedy})


def inches(cell: Cell) -> str:
    """A size in inches as millimetres, to 0.001. Raises BadCell. Example: "3/16" gives "4.763"."""
    said = re.sub(r"(?<=\d)[\s-]+(?=\d+/)", " ", str(cell).strip())
    said = re.sub(r"\s*(in\.?|inch|inches|\"|″)$", "", said, flags=re.IGNORECASE)
    try:
        value = amount(f"{said} in", "mm")
    except ValueError as bad:
        raise BadCell(
            gettext("“%(cell)s” is no size in inches: %(bad)s") % {"cell": str(cell)[:20], "bad": bad}
        ) from None
    if not 0 < value < 10**6:
        raise BadCell(gettext("%(said)s in is no size; leave the cell empty where it is not stated") % {"said": said})
    return figure(value.quantize(STEP, ROUND_HALF_UP))


def length(cell: Cell, comma_decimal: bool, in_inches: bool) -> str:
    """A size in the unit of its column, or in inches where the cell says so. Raises BadCell."""
    return inches(cell) if in_inches or STATES_INCHES.search(str(cell)) else size(cell, comma_decimal)


def reader(
    field: str, comma_decimal: bool, stations: Mapping[str, int], in_inches: bool = False
) -> Callable[[Cell], str]:
    """The function that reads a cell of a field."""
    if field in TEXTS:
        return lambda cell: text(field, cell)
    if field in VOCABULARIES:
        return lambda cell: term(VOCABULARIES[field], cell)
    if field in PROCESS_FIELDS:
        return processes
    if field in STATION_FIELDS:
        return lambda cell: station(cell, stations)
    if field == "branch_angle_deg":
        return lambda cell: angle(cell, comma_decimal)
    if field in LENGTHS:
        return lambda cell: length(cell, comma_decimal, in_inches)
    if field == "weld_date":
        return day
    if field == "preparation":
        return preparation
    return grade
