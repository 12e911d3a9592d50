"""AWS D1.1: from a steel as people write it to its entry: specification, grade and group by thickness."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from codes.aws_d1_1.base_metal_rows import ROWS, SteelRow
from codes.aws_d1_1.unit_sets import Size, Units
from codes.values import Steel, bare

CHANGES = {"<= 3/4": Size("3/4", "20"), "> 3/4": Size("3/4", "20"), "<= 2": Size("2", "50"), "> 2": Size("2", "50")}
UNLISTED = "unlisted"
GRADES_ALIKE = ("a588", "a514", "a517")
"""Specifications whose grades (a letter) share one entry."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One grade of one specification, with the rows of the table that hold it (two where thickness decides)."""

    name: str
    rows: tuple[SteelRow, ...]

    @property
    def groups(self) -> tuple[str, ...]:
        """The groups it can be in."""
        return tuple(row.group for row in self.rows)

    def group(self, thickness: Decimal | None, units: Units) -> str | None:
        """Its group at a thickness [mm]; None where thickness decides and is not stated.

        Example: A36 at 20 mm is of Group I in SI, of Group II in US figures (more than 3/4 in).
        """
        if len(self.rows) == 1:
            return self.rows[0].group
        if thickness is None:
            return None
        return next(row.group for row in self.rows if _holds(row, thickness, units))


def _holds(row: SteelRow, thickness: Decimal, units: Units) -> bool:
    limit = CHANGES[row.changes].mm(units)
    return thickness > limit if row.changes.startswith(">") else thickness <= limit


def entry_of(steel: Steel) -> Entry | None:
    """The entry of a steel by its grade, None where the table does not list it. Example: "ASTM A572 Gr. 50"."""
    key = key_of(steel.grade)
    found = _index().get(key)
    alike = re.fullmatch(f"({'|'.join(GRADES_ALIKE)})[a-z]", key)
    return _index()[alike[1]] if found is None and alike else found


def key_of(text: str) -> str:
    """A grade without case, blanks, punctuation and words that carry nothing. Example: "A572-50" gives "a57250"."""
    # Shape and delivery condition do not change specification and grade: "A500 Gr B round", "A572 Gr 50+N".
    named = re.sub(r"\b(round|shaped)\b|\+.*$", "", text.casefold())
    plain = re.sub(r"\bgr(ade)?\b", "", named.replace("class", "cl"))
    plain = re.sub(r"^astm", "", bare(plain)).replace("grade", "")
    return re.sub(r"(?<=\d)gr(?=[a-z0-9])", "", plain)


def same_steel(one: Steel, other: Steel) -> bool:
    """True for the same specification, grade and minimum yield, as far as both state them."""
    yields = (one.yield_mpa, other.yield_mpa)
    differ = None not in yields and yields[0] != yields[1]
    return key_of(one.grade) == key_of(other.grade) != "" and not differ


def entries() -> Iterable[Entry]:
    """Every steel listed, in the order of the table."""
    return _entries().values()


@cache
def _entries() -> dict[str, Entry]:
    found: dict[str, Entry] = {}
    for row in ROWS:
        for grade in row.grades:
            name = f"{row.specification} {grade}".strip()
            known = found.get(name)
            found[name] = Entry(name, (*(known.rows if known else ()), row))
    return found


@cache
def _index() -> dict[str, Entry]:
    index = {key_of(name): entry for name, entry in _entries().items()}
    # "A709 Gr 36" and "A709 36" are one; the words SS and HSLAS stand before the grade in the table only.
    return index | {key_of(_swapped(name)): entry for name, entry in _entries().items() if " SS " in name}


def _swapped(name: str) -> str:
    specification, grade = name.split(" SS ")
    return f"{specification} {grade} SS"
