"""The steel grades that a firm adds to those held here. They travel with its readings, so that everything that is
judged by the same settings knows the same grades. Units: thickness mm, yield MPa.
"""

import json
import re
from collections.abc import Mapping
from decimal import ROUND_FLOOR, Decimal
from functools import lru_cache

from codes.amounts import amount
from codes.readings import Settings
from codes.steels import GROUPING, Grade, UnknownGrade, addition, grade_of, name_key
from codes.values import number

PREFIX = "steel grade "
"""Before the name of a grade in the settings; no switch of an edition begins so."""
_460 = Decimal(460)
MOST_OF_GROUP = {"1.1": Decimal(275), "1.2": Decimal(360), "1": _460, "1.3": _460, "1.4": _460, "2.1": _460}
"""Highest specified yield [MPa] of a group (ISO/TR 15608:2017, Table 1, from memory). Not of 3.1, that ends at 690 MPa:
some mills put plates of 700 MPa there (common practice)."""
_LINE = re.compile(
    r"(?:up to|to|≤|<=)?\s*(?P<to>any|-|[\d.,](?:[\d.,/ -]*\d)?(?:\s*(?:mm|in\.?|\"))?)\s*[:=;]\s*(?P<yield>.+)"
)


def setting_of(grade: Grade, bands: str) -> tuple[str, str]:
    """A grade as one entry of the settings; `bands` as `codes.steels.addition` takes them."""
    return f"{PREFIX}{grade.name}", json.dumps([grade.group, bands, grade.source, grade.standard, grade.note])


def own_grades(settings: Settings) -> tuple[Grade, ...]:
    """The grades that the settings bring along."""
    found = entries_of(settings)
    return _grades(found) if found else ()


def entries_of(settings: Settings) -> tuple[tuple[str, str], ...]:
    """Their entries, to keep something known under."""
    return tuple(sorted(one for one in settings.items() if one[0].startswith(PREFIX)))


@lru_cache(maxsize=64)
def _grades(entries: tuple[tuple[str, str], ...]) -> tuple[Grade, ...]:
    found = []
    for key, text in entries:
        group, bands, source, standard, note = json.loads(text)
        found.append(addition(key.removeprefix(PREFIX), group, bands, source, standard, note))
    return tuple(found)


def checked(name: str, group: str, bands: str, source: str, standard: str = "", note: str = "") -> Grade:
    """The grade that a firm states, as `codes.steels.addition`, once it is one that will be found and makes sense.

    Raises ValueError: without group; a name of signs only, or one that is not found again as it is written (delivery
    condition, year); bands out of order, or a yield that is higher in thicker material or than the group has.
    """
    ends = [Decimal(end) for end in re.findall(r"<?(\d+(?:\.\d+)?):", bands)]
    if ends != sorted(set(ends)) or (ends and ends[0] == 0):
        raise ValueError("the bands must stand in order, the thinnest first and above 0 mm, each thickness once")
    grade = addition(name, group.strip(), bands, source, standard, note.strip())
    if not name_key(grade.name):
        raise ValueError("a grade needs a name with letters or figures")
    if not grade.group:
        raise ValueError("a grade needs a group, for example 1.2")
    if not _is_found(grade):
        raise ValueError(f'"{grade.name}": leave out delivery condition and year, they change neither yield nor group')
    yields = [band.yield_mpa for band in grade.bands]
    if min(yields) <= 0 or yields != sorted(yields, reverse=True):
        raise ValueError("a yield strength lies above 0 and is not higher in thicker material")
    most = MOST_OF_GROUP.get(grade.group)
    if most is not None and yields[0] > most:
        raise ValueError(
            f"group {grade.group} of {GROUPING} ends at {number(most)} MPa, and this grade has {number(yields[0])}"
        )
    return grade


def _is_found(grade: Grade) -> bool:
    try:
        return "+" not in grade.name and grade_of(grade.name, [grade]) is grade
    except UnknownGrade:
        return False


def bands_of(text: str) -> str:
    """Bands as people write them, one a line, in the form of `codes.steels`. Raises ValueError naming the line.

    Inches and ksi are converted: thickness exactly, yield down to a whole MPa. Example: "up to 16 mm: 355 MPa" and
    "any: 345" give "16:355 -:345"; "3/4 in: 50 ksi" gives "19.05:344".
    """
    found = []
    for number_of, line in enumerate(filter(str.strip, text.splitlines()), start=1):
        match = _LINE.fullmatch(line.strip().casefold())
        try:
            if match is None:
                raise ValueError("must be a thickness and a yield strength")
            up_to = "-" if match["to"] in ("any", "-") else number(amount(match["to"], "mm"))
            found.append(f"{up_to}:{_mpa(match['yield'])}")
        except ValueError as bad:
            raise ValueError(f'line {number_of}, "{line.strip()}": {bad}; write "up to 16 mm: 355 MPa"') from None
    return " ".join(found)


def _mpa(text: str) -> str:
    value = amount(text, "MPa")
    return number(value.to_integral_value(ROUND_FLOOR) if "ksi" in text else value)


def in_words(grade: Grade) -> tuple[str, ...]:
    """The bands of a grade, one a line. Example: ("up to 16 mm: 355 MPa", "up to 40 mm: 345 MPa")."""
    return tuple(
        f"{f'up to {number(band.thickness.hi)} mm' if band.thickness.hi is not None else 'any'}: "
        f"{number(band.yield_mpa)} MPa"
        for band in grade.bands
    )


def held_already(name: str) -> Grade | None:
    """The grade of the register's own table that has this name; a firm's grade takes another."""
    try:
        return grade_of(name)
    except ValueError:
        return None


def of_plain(grades: object) -> dict[str, str]:
    """Settings of grades stated in a question: a list of {"name", "group", "bands", "source"}. Raises ValueError."""
    if not isinstance(grades, list):
        raise ValueError("must be a list of grades")
    found: dict[str, str] = {}
    for one in grades:
        if not isinstance(one, Mapping) or not {"name", "group", "bands", "source"} <= set(one) <= _NAMES:
            raise ValueError(f"each states name, group, bands and source, and may state {', '.join(_MAY)}")
        said = {key: str(value) for key, value in one.items()}
        found |= dict([setting_of(checked(**said), said["bands"])])
    if len({name_key(key.removeprefix(PREFIX)) for key in found}) < len(grades):
        raise ValueError("names one grade twice: state each once")
    return found


_MAY = ("standard", "note")
_NAMES = {"name", "group", "bands", "source", *_MAY}
