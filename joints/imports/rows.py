"""Rows of a list to joints in plain form, with a message for every row and field that cannot be taken."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from decimal import Decimal

from joints.imports import cells
from joints.imports.columns import Columns, columns, near_headings
from joints.imports.table import Cell, Table
from joints.sizes import contradict, throat_of_leg
from register.lists.cells import figure, written
from register.lists.headings import plain

MAX_PROBLEMS = 500
"""Messages kept; a list with more is wrong as a whole."""
BOTH = {"t_both": ("t1_mm", "t2_mm"), "grade_both": ("grade_1", "grade_2")}
NEEDED = ("assembly", "number", "weld_type", "t1_mm")
NEEDED_OF_MODELS = ("assembly", "number")
"""A model seldom says more of every weld; what is missing is asked by the check of the weld data."""
MAX_KNOWN = 100_000
"""Different cells of a column that are remembered."""
GUARDED = re.compile(r"'+[=+\-@\t\r]")
"""A text with an apostrophe before what a spreadsheet would run."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in one cell (or row), and what to do. A note does not keep the list from being taken in.

    `field` and `cell` say what a correction on the page is about; without a field it is made in the list.
    """

    row: int
    column: str
    message: str
    is_note: bool = False
    field: str = ""
    cell: str = ""

    def plain(self) -> dict[str, object]:
        """The JSON form."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Row:
    """One weld as read. `values`: what it states, defaults and corrections included; `stated`: what the sender wrote,
    as text by field, also where it could not be read.
    """

    number: int
    values: dict[str, str]
    stated: dict[str, str]
    problems: tuple[Problem, ...] = ()

    @property
    def key(self) -> tuple[str, str]:
        """Assembly and number."""
        return self.values.get("assembly", ""), self.values.get("number", "")


@dataclass(frozen=True, slots=True)
class Reading:
    """A whole list as read: rows in plain form, problems in order of row, and what to know of the file."""

    rows: tuple[dict[str, object], ...]
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]

    @property
    def errors(self) -> tuple[Problem, ...]:
        """The problems that keep the list from being taken in."""
        return tuple(problem for problem in self.problems if not problem.is_note)


@dataclass(frozen=True, slots=True)
class Setting:
    """What a list is read against: workstations by name, values for cells left empty, cells corrected on the page.

    `corrections`: "row:field" -> what stands there instead. `is_model`: only a place and a number are needed.
    """

    stations: Mapping[str, int]
    defaults: Mapping[str, str] | None = None
    corrections: Mapping[str, str] = field(default_factory=dict)
    is_model: bool = False


class _Column:
    """One column of a table: its field, the fields it speaks of, and what its cells said before."""

    __slots__ = ("fields", "index", "is_text", "known", "name")

    def __init__(self, index: int, name: str) -> None:
        self.index, self.name, self.fields = index, name, BOTH.get(name, (name,))
        self.is_text = name in cells.TEXTS
        self.known: dict[Cell, tuple[str, str]] = {}


class Reader:
    """Reads row after row of one table. A cell that came before in its column is not read again."""

    def __init__(self, table: Table, found: Columns, setting: Setting) -> None:
        self.table, self.found, self.setting = table, found, setting
        self._seen: dict[tuple[str, str], int] = {}
        self._readers = {
            index: cells.reader(name, table.comma_decimal, setting.stations, index in found.inches)
            for index, name in found.fields.items()
        }
        self._columns = [_Column(index, name) for index, name in found.fields.items()]
        both = "t_both" in found.fields.values()
        needed = NEEDED_OF_MODELS if setting.is_model else NEEDED
        asked = {name: "t_both" if name == "t1_mm" and both else name for name in needed}
        self._needed = [(name, field, found.heading(field)) for name, field in asked.items()]

    def rows(self) -> Iterator[Row]:
        """Every row below the headings."""
        for number, row in self.table.rows[1:]:
            yield self._row(number, row)

    def _row(self, number: int, row: Sequence[Cell]) -> Row:
        stated: dict[str, str] = {}
        given: dict[str, str] = {}
        problems: list[Problem] = []
        width, fixes, refused = len(row), self.setting.corrections, self.table.refused
        for column in self._columns:
            index = column.index
            cell = row[index] if index < width else ""
            fix = fixes.get(f"{number}:{column.name}") if fixes else None
            if cell == "" and fix is None:
                continue
            if refused and (number, index) in refused:
                value, why = "", refused[number, index]
            else:
                value, why = column.known.get(cell) or self._first(column, cell)
            for spoken_of in column.fields:
                stated[spoken_of] = value or str(cell)
            if fix is not None:
                value, why = self._corrected(index, column.name, fix)
            if value and not why:
                for spoken_of in column.fields:
                    given[spoken_of] = value
            if why or (value and column.is_text and cells.looks_like_formula(cell)):
                problems.append(self._problem(number, column, cell, why, fix))
        values = {**(self.setting.defaults or {}), **given}
        problems += self._pitch(number, values) + self._whole(number, values, problems)
        twice = self._twice(number, values)
        return Row(number, values, stated, (*problems, twice) if twice else tuple(problems))

    def _first(self, column: _Column, cell: Cell) -> tuple[str, str]:
        """The value of a cell that did not come before, or why there is none."""
        if len(column.known) > MAX_KNOWN:
            column.known.clear()
        found = column.known[cell] = self._fresh(column.index, cell)
        return found

    def _problem(self, number: int, column: _Column, cell: Cell, why: str, fix: str | None) -> Problem:
        """Why a cell cannot be taken; or, where nothing speaks against it, that it is taken as text."""
        heading = self.found.headings[column.index]
        if why:
            return Problem(number, heading, f"{why}.", False, column.name, str(fix or cell))
        return Problem(number, heading, f"“{str(cell)[:30]}” is taken as text.", True)

    def _fresh(self, index: int, cell: Cell) -> tuple[str, str]:
        if cell == "":
            return "", ""
        if isinstance(cell, str) and GUARDED.match(cell):
            cell = cell[1:]  # an apostrophe keeps a spreadsheet from running the text; ours are written so
        elif why := cells.formula_in(cell):
            return "", why
        try:
            return self._readers[index](cell), ""
        except cells.BadCell as bad:
            if self.setting.is_model and self.found.fields[index].startswith("grade"):
                return written(cell)[:40], ""
            return "", str(bad)

    def _corrected(self, index: int, name: str, fix: str) -> tuple[str, str]:
        """What was written on the page: read in mm, in the words of the list; "" takes the value away."""
        try:
            return (cells.reader(name, self.table.comma_decimal, self.setting.stations)(fix) if fix else ""), ""
        except cells.BadCell as bad:
            return "", str(bad)

    def _pitch(self, number: int, values: dict[str, str]) -> list[Problem]:
        """The clear gap from the pitch, which is what we keep."""
        pitch, element = values.pop("element_pitch", ""), values.get("element_length_mm", "")
        if not pitch:
            return []
        if not element or Decimal(pitch) <= Decimal(element):
            column = self.found.heading("element_pitch")
            why = f"is not longer than the element of {element} mm" if element else "has no element length beside it"
            remedy = "If the clear gap is meant, name the column so."
            return [Problem(number, column, f"A pitch of {pitch} mm {why}. {remedy}", False, "element_pitch", pitch)]
        values["element_gap_mm"] = figure(Decimal(pitch) - Decimal(element))
        return []

    def _whole(self, number: int, values: Mapping[str, str], problems: Sequence[Problem]) -> list[Problem]:
        """What only shows in several cells together."""
        wrong = []
        for name, asked, column in self._needed:
            if name not in values and not any(problem.column == column for problem in problems):
                wrong.append(Problem(number, column, "is empty; every weld needs it.", False, asked))
        if "throat_mm" not in values or "leg_mm" not in values:
            return wrong
        throat, leg = Decimal(values["throat_mm"]), Decimal(values["leg_mm"])
        if contradict(throat, leg):
            message = (
                f"throat a = {throat} mm and leg z = {leg} mm contradict: that leg gives a = {throat_of_leg(leg)} mm. "
                "Keep the one that is meant."
            )
            heading = self.found.heading("throat_mm")
            wrong.append(Problem(number, heading, message, self.setting.is_model, "throat_mm", str(throat)))
        return wrong

    def _twice(self, number: int, values: Mapping[str, str]) -> Problem | None:
        mark, joint = values.get("assembly", ""), values.get("number", "")
        first = self._seen.setdefault((mark, joint), number) if mark and joint else number
        if first == number:
            return None
        message = f"joint {joint} of assembly {mark} stands in row {first} already; delete one of the two."
        return Problem(number, self.found.heading("number"), message, False, "number", joint)


def read_rows(table: Table, setting: Setting, found: Columns | None = None) -> Reading:
    """All rows of a table. Raises Refusal where the headings do not do."""
    found = found or columns(table.rows[0][1])
    rows = list(Reader(table, found, setting).rows())
    problems = [problem for row in rows for problem in row.problems]
    ordered = sorted(problems, key=lambda problem: (problem.is_note, problem.row))
    plain = tuple({"row": row.number, "values": row.values} for row in rows)
    return Reading(plain, tuple(ordered[:MAX_PROBLEMS]), (*table.notes, *notes(found, len(ordered))))


def notes(found: Columns, problems: int = 0) -> list[str]:
    """What to know of the headings, and how many messages there are."""
    said = []
    for both, what in (("t_both", "thickness"), ("grade_both", "steel grade")):
        if both in found.fields.values():
            said.append(f"The column “{found.heading(both)}” is read as the {what} of both parts.")
    if found.inches:
        named = ", ".join(f"“{found.headings[i]}”" for i in sorted(found.inches))
        said.append(f"In inches, kept in mm to 0.001: {named}.")
    if found.ignored:
        # A heading that is one of ours was left out on purpose.
        named = ", ".join(
            f"“{h}”{f' (did you mean “{near}”?)' if (near := near_headings(h)) and near != plain(h) else ''}"
            for h in found.ignored
        )
        said.append(f"Not read: {named}.")
    if problems > MAX_PROBLEMS:
        said.append(f"{problems:,} messages in all; the first {MAX_PROBLEMS} are shown.")
    return said
