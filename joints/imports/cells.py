"""One cell to a value of its field. A bad one says what is wrong and what would be right."""

import re
from collections.abc import Callable, Mapping
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches

from codes.parse import BadField, parse_number
from codes.steels import UnknownGrade, steel_of
from codes.terms import UnknownTerm, parse_term, tokens
from joints.imports.table import Cell

VOCABULARIES: Mapping[str, str] = {
    "weld_type": "weld_type",
    "joint_type": "joint_type",
    "product": "product",
    "position": "position",
    "weld_detail": "weld_detail",
    "gouging": "gouging",
    "rotated": "yes_no",
}
SIZES = (
    "t1_mm", "t2_mm", "throat_mm", "leg_mm", "penetration_mm", "length_mm", "diameter_mm", "branch_angle_deg",
    "tack_length_mm", "tack_throat_mm",
)  # fmt: skip
TEXTS: Mapping[str, int] = {
    "assembly": 60,
    "assembly_title": 200,
    "assembly_kind": 60,
    "number": 40,
    "remarks": 500,
}
PROCESS_FIELDS = ("final_process", "tack_process")
STATION_FIELDS = ("final_workstation", "tack_workstation")
RUNS_AS_FORMULA = ("=", "@")
LOOKS_LIKE_FORMULA = ("+", "-")

THOUSANDS_COMMA = re.compile(r"\d{1,3}(,\d{3})+")
THOUSANDS_DOT = re.compile(r"\d{1,3}(\.\d{3})+")


class BadCell(ValueError):
    """A cell that cannot be taken; the message says what is wrong and what would be right."""


def formula_in(cell: Cell) -> str:
    """Why a text cannot be taken because a spreadsheet would run it, or ""."""
    if isinstance(cell, str) and cell.startswith(RUNS_AS_FORMULA):
        return f"“{cell[:30]}” is a formula; put its result in its place (copy, paste values)"
    return ""


def looks_like_formula(cell: Cell) -> bool:
    """True for a text that is taken as text although a spreadsheet might run it."""
    return isinstance(cell, str) and len(cell) > 1 and cell.startswith(LOOKS_LIKE_FORMULA)


def text(field: str, cell: Cell) -> str:
    """A text, or a whole number as people number things. Raises BadCell where it is too long."""
    said = _figure(cell) if isinstance(cell, Decimal) else cell
    if len(said) > TEXTS[field]:
        raise BadCell(f"“{said[:20]}…” is {len(said)} characters long; at most {TEXTS[field]} fit")
    return said


def term(vocabulary: str, cell: Cell) -> str:
    """The token of a word. Raises BadCell naming the nearest words."""
    said = _figure(cell) if isinstance(cell, Decimal) else cell
    try:
        return parse_term(vocabulary, said)
    except UnknownTerm as unknown:
        near = get_close_matches(said.casefold(), [t.casefold() for t in tokens(vocabulary)], n=3, cutoff=0.6)
        hint = f" (nearest: {', '.join(near)})" if near else ""
        raise BadCell(f"{unknown}{hint}") from None


def processes(cell: Cell) -> str:
    """One process, or several of one weld. Raises BadCell. Example: "141 / 135" gives "141+135"."""
    said = _figure(cell) if isinstance(cell, Decimal) else cell
    parts = [part for part in re.split(r"\s*[+/,;]\s*", said) if part]
    return "+".join(dict.fromkeys(term("process", part) for part in parts))


def size(cell: Cell, comma_decimal: bool) -> str:
    """A size above 0 as text, at most three decimals. Raises BadCell for figures that could be read two ways."""
    if isinstance(cell, str):
        cell = re.sub(r"\s*(mm|°|deg)$", "", cell.strip(), flags=re.IGNORECASE)
        if THOUSANDS_COMMA.fullmatch(cell) or (comma_decimal and THOUSANDS_DOT.fullmatch(cell)):
            bare = re.sub(r"[.,]", "", cell)
            raise BadCell(f"“{cell}” can be read two ways; write {bare}, or the decimals in one or two figures")
    try:
        value = parse_number("size", cell)
    except BadField as bad:
        raise BadCell(bad.problem) from None
    if value == 0:
        raise BadCell("0 is no size; leave the cell empty where it is not stated")
    if value != value.quantize(Decimal("0.001")):
        raise BadCell(f"{value} has more than three decimals; round it to 0.001")
    if value >= 10**6:
        raise BadCell(f"{value} is too large; sizes are in mm")
    return _figure(value)


def angle(cell: Cell, comma_decimal: bool) -> str:
    """A branch angle up to 180 degrees. Raises BadCell."""
    said = size(cell, comma_decimal)
    if Decimal(said) > 180:
        raise BadCell(f"{said}° is no branch angle; it lies above 0 and up to 180")
    return said


def grade(cell: Cell) -> str:
    """A steel grade as written, once the register knows it. Raises BadCell naming the nearest grades."""
    said = _figure(cell) if isinstance(cell, Decimal) else cell
    try:
        steel_of(said)
    except UnknownGrade as unknown:
        raise BadCell(str(unknown)) from None
    if len(said) > 40:
        raise BadCell(f"“{said[:20]}…” is longer than 40 characters")
    return said


def day(cell: Cell) -> str:
    """A date as YYYY-MM-DD; 31.03.2026 is read too. Raises BadCell."""
    said = str(cell).strip()
    for form in ("%Y-%m-%d", "%d.%m.%Y"):
        try:
            found = datetime.strptime(said, form).date()  # noqa: DTZ007 - a calendar day has no zone
        except ValueError:
            continue
        if date(1950, 1, 1) <= found <= date(2149, 12, 31):
            return found.isoformat()
        break
    raise BadCell(f"“{said[:20]}” is no date between 1950 and 2149; write it as 2026-03-31")


def station(cell: Cell, known: Mapping[str, int]) -> str:
    """The name of a workstation on file, whatever the case. Raises BadCell naming those on file."""
    said = str(cell).strip()
    names = {name.casefold(): name for name in known}
    if found := names.get(said.casefold()):
        return found
    near = [names[n] for n in get_close_matches(said.casefold(), names, n=3, cutoff=0.5)] or sorted(known)
    remedy = f"on file: {', '.join(near)}" if near else "no workstation is on file yet; enter it first"
    raise BadCell(f"“{said[:40]}” is no workstation on file; {remedy}")


def reader(field: str, comma_decimal: bool, stations: Mapping[str, int]) -> Callable[[Cell], str]:
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
    if field in SIZES or field == "t_both":
        return lambda cell: size(cell, comma_decimal)
    if field == "weld_date":
        return day
    return grade


def _figure(value: Decimal) -> str:
    """A number as people write it. Example: 12.50 gives "12.5", 1E+2 gives "100"."""
    said = format(value, "f")
    return said.rstrip("0").rstrip(".") if "." in said else said
