"""Rows of a log file to entries in plain form, with a message for every row and field that cannot be taken."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime

from django.utils import timezone
from django.utils.translation import gettext

from codes.words import listed
from qualifications.weld_log import cells, columns
from qualifications.weld_log.cells import Known
from qualifications.weld_log.columns import Columns
from register.lists.cells import BadCell, formula_in
from register.lists.table import Cell, Table

MAX_PROBLEMS = 500
Values = dict[str, str]
Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in one cell or row, and what to do. A note does not keep the file from being taken in."""

    row: int
    column: str
    message: str
    is_note: bool = False

    def plain(self) -> dict[str, object]:
        """The JSON form."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Setting:
    """What a file is read against: people and the clock."""

    people: Sequence[Known]
    now: datetime


@dataclass(slots=True)
class Reading:
    """A whole file as read: rows in plain form, problems, and what to know of the file."""

    rows: list[dict[str, object]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def errors(self) -> list[Problem]:
        """The problems that keep the file from being taken in."""
        return [problem for problem in self.problems if not problem.is_note]


def key_of(values: Values) -> Key:
    """What makes two rows the same weld: who, when, with what, which joint."""
    return tuple(values.get(name, "") for name in ("person", "at", "on", "process", "joint", "wps"))


def read_rows(table: Table, setting: Setting) -> Reading:
    """All rows of a table. Raises Refusal where the headings do not do."""
    (_, head), *body = table.rows
    found = columns.columns(head)
    reading = Reading(notes=[*table.notes, *columns.notes(found)])
    seen: dict[Key, int] = {}
    for number, row in body:
        values, problems = _row(number, row, found, table.comma_decimal, setting)
        if not problems:
            problems = _again(number, values, found, seen)
        reading.problems += problems
        reading.rows.append({"row": number, "values": values, "unread": _unread(row, found, problems)})
    if len(reading.problems) > MAX_PROBLEMS:
        reading.notes.append(f"{len(reading.problems):,} messages in all; the first {MAX_PROBLEMS} are shown.")
        del reading.problems[MAX_PROBLEMS:]
    return reading


def _unread(row: Sequence[Cell], found: Columns, problems: Sequence[Problem]) -> Values:
    """The cells that could not be taken, as they stand in the file, so that the preview shows what it is about."""
    named = {problem.column for problem in problems}
    cells = {name: str(row[at])[:40] for at, name in found.fields.items() if at < len(row)}
    return {name: cell for name, cell in cells.items() if cell and found.heading(name) in named}


def leave_out(reading: Reading, known: frozenset[Key]) -> None:
    """Note which welds of a file without errors are on file already: controllers send overlapping spans."""
    twice = [str(row["row"]) for row in reading.rows if key_of(row["values"]) in known]  # type: ignore[arg-type]
    if twice:
        rows = twice if len(twice) < 12 else [*twice[:10], f"{len(twice) - 10} more"]
        many = len(twice) > 1
        reading.notes.append(
            f"Row{'s' if many else ''} {listed(rows)} {'are' if many else 'is'} on file already and left out."
        )


def _row(
    number: int, row: Sequence[Cell], found: Columns, comma_decimal: bool, setting: Setting
) -> tuple[Values, list[Problem]]:
    values: Values = {}
    problems: list[Problem] = []
    for index, name in found.fields.items():
        cell = row[index] if index < len(row) else ""
        try:
            values |= _values(name, cell, comma_decimal, setting)
        except BadCell as bad:
            problems.append(Problem(number, found.headings[index], f"{bad}."))
    return values, problems + _left(number, values, found, setting)


def _values(name: str, cell: Cell, comma_decimal: bool, setting: Setting) -> Values:
    if why := formula_in(cell):
        raise BadCell(why)
    if cell == "":
        if name in columns.NEEDED:
            raise BadCell(gettext("is empty; every weld of the log needs it"))
        return {}
    if name == "moment":
        day, at = cells.moment(cell, setting.now)
        return {"on": day.isoformat()} | ({"at": timezone.localtime(at).isoformat()} if at else {})
    if name == "person":
        who = cells.person(cell, setting.people)
        return {"person": str(who.pk), "name": who.name}
    return {name: cells.value(name, cell, comma_decimal)}


def _left(number: int, values: Values, found: Columns, setting: Setting) -> list[Problem]:
    """A weld after somebody's last day of work."""
    who = next((p for p in setting.people if str(p.pk) == values.get("person")), None)
    if who is None or who.left_on is None or values.get("on", "") <= who.left_on.isoformat():
        return []
    message = f"{who.name}'s last day of work was {who.left_on.isoformat()}; correct the stamp or the day."
    return [Problem(number, found.heading("person"), message)]


def _again(number: int, values: Values, found: Columns, seen: dict[Key, int]) -> list[Problem]:
    """The same weld twice in one file."""
    first = seen.setdefault(key_of(values), number)
    if first == number:
        return []
    message = f"row {first} states the same weld: delete one of the two, or give each its own time or joint."
    return [Problem(number, found.heading("moment"), message)]
