"""Rows of a list to joints in plain form, with a message for every row and field that cannot be taken."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from decimal import Decimal

from joints.imports import cells
from joints.imports.columns import Columns, columns, near_headings
from joints.imports.table import Cell, Table
from joints.sizes import contradict, throat_of_leg

MAX_PROBLEMS = 500
"""Messages kept; a list with more is wrong as a whole."""
BOTH = {"t_both": ("t1_mm", "t2_mm"), "grade_both": ("grade_1", "grade_2")}
NEEDED = ("assembly", "number", "weld_type", "t1_mm")


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in one cell (or row), and what to do. A note does not keep the list from being taken in."""

    row: int
    column: str
    message: str
    is_note: bool = False

    def plain(self) -> dict[str, object]:
        """The JSON form."""
        return asdict(self)


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
    """What a list is read against: workstations by name, joints on file, and values for cells left empty."""

    stations: Mapping[str, int]
    on_file: frozenset[tuple[str, str]] = frozenset()
    defaults: Mapping[str, str] | None = None


def read_rows(table: Table, setting: Setting) -> Reading:
    """All rows of a table. Raises Refusal where the headings do not do."""
    (_, head), *body = table.rows
    found = columns(head)
    rows: list[dict[str, object]] = []
    problems: list[Problem] = []
    for number, row in body:
        values, wrong = _row(number, row, found, table, setting)
        rows.append({"row": number, "values": values})
        problems += wrong
    problems += _twice(rows, found) + _on_file(rows, found, setting.on_file)
    ordered = sorted(problems, key=lambda problem: (problem.is_note, problem.row))
    return Reading(tuple(rows), tuple(ordered[:MAX_PROBLEMS]), (*table.notes, *_notes(found, len(ordered))))


def _row(
    number: int, row: Sequence[Cell], found: Columns, table: Table, setting: Setting
) -> tuple[dict[str, str], list[Problem]]:
    values: dict[str, str] = dict(setting.defaults or {})
    problems: list[Problem] = []
    for index, field in found.fields.items():
        cell = row[index] if index < len(row) else ""
        why = table.refused.get((number, index)) or cells.formula_in(cell)
        if why:
            problems.append(Problem(number, found.headings[index], f"{why}."))
            continue
        if cell == "":
            continue
        if cells.looks_like_formula(cell) and field in cells.TEXTS:
            problems.append(Problem(number, found.headings[index], f"“{str(cell)[:30]}” is taken as text.", True))
        try:
            said = cells.reader(field, table.comma_decimal, setting.stations)(cell)
        except cells.BadCell as bad:
            problems.append(Problem(number, found.headings[index], f"{bad}."))
            continue
        values |= dict.fromkeys(BOTH.get(field, (field,)), said)
    return values, problems + _whole_row(number, values, found, problems)


def _whole_row(number: int, values: Mapping[str, str], found: Columns, problems: Sequence[Problem]) -> list[Problem]:
    """What only shows in several cells together."""
    complained = {problem.column for problem in problems}
    wrong = []
    for field in NEEDED:
        column = found.heading("t_both" if field == "t1_mm" and "t_both" in found.fields.values() else field)
        if field not in values and column not in complained:
            wrong.append(Problem(number, column, "is empty; every weld needs it."))
    throat, leg = (Decimal(values[f]) if f in values else None for f in ("throat_mm", "leg_mm"))
    if throat is not None and leg is not None and contradict(throat, leg):
        wrong.append(
            Problem(
                number,
                found.heading("throat_mm"),
                f"throat a = {throat} mm and leg z = {leg} mm contradict: that leg gives a = {throat_of_leg(leg)} mm. "
                "Keep the one that is meant.",
            )
        )
    return wrong


def _identity(values: Mapping[str, object]) -> tuple[str, str]:
    return str(values.get("assembly", "")), str(values.get("number", ""))


def _twice(rows: Sequence[dict[str, object]], found: Columns) -> list[Problem]:
    seen: dict[tuple[str, str], object] = {}
    wrong = []
    for row in rows:
        key = _identity(row["values"])  # type: ignore[arg-type]
        if "" in key:
            continue
        if key in seen:
            message = f"joint {key[1]} of assembly {key[0]} stands in row {seen[key]} already; delete one of the two."
            wrong.append(Problem(int(str(row["row"])), found.heading("number"), message))
        else:
            seen[key] = row["row"]
    return wrong


def _on_file(rows: Sequence[dict[str, object]], found: Columns, known: frozenset[tuple[str, str]]) -> list[Problem]:
    return [
        Problem(
            int(str(row["row"])),
            found.heading("number"),
            f"joint {key[1]} of assembly {key[0]} is on file already; change it on its page, or leave the row out.",
        )
        for row in rows
        if (key := _identity(row["values"])) in known  # type: ignore[arg-type]
    ]


def _notes(found: Columns, problems: int) -> list[str]:
    notes = []
    for both, what in (("t_both", "thickness"), ("grade_both", "steel grade")):
        if both in found.fields.values():
            notes.append(f"The column “{found.heading(both)}” is read as the {what} of both parts.")
    if found.ignored:
        named = [f"“{h}”{f' (did you mean “{near}”?)' if (near := near_headings(h)) else ''}" for h in found.ignored]
        notes.append(f"Not read: {', '.join(named)}.")
    if problems > MAX_PROBLEMS:
        notes.append(f"{problems:,} messages in all; the first {MAX_PROBLEMS} are shown.")
    return notes
