"""The weld log: read, and written by the controllers of cells. An entry is evidence; it signs nothing."""

from decimal import Decimal
from hashlib import sha256
from typing import Annotated, Any

from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from ninja import Query, Router, Status
from pydantic import Field

from qualifications.api.schemas import LogLine, LogPage, LogTaken
from qualifications.models import WeldLogBatch, WeldLogEntry
from qualifications.weld_log.columns import LABELS
from qualifications.weld_log.files import confirm, take_in_table
from register.api.entries import Day, Key, Sent, Text
from register.api.paging import Changing, page_of
from register.api.problems import Problem
from register.api.service import answers
from register.api.tokens import Needs, asked_by
from register.lists.table import Cell, Refusal, Table
from register.systems.scopes import Scope

router = Router(tags=["Weld log"])
MOST = 1000
"""Welds in one sending."""
Measured = Annotated[Decimal | None, Field(gt=0, le=99_999, allow_inf_nan=False)]
FIELD_OF = {label: field for field, label in LABELS.items()}


class LogQuestion(Changing):
    """Which welds."""

    person: Key | None = None
    since: Day | None = Field(None, description="welded on this day or later")
    until: Day | None = Field(None, description="welded on this day or earlier")


class WeldIn(Sent):
    """One weld. `moment`: a day, or a day and time (ISO 8601; without a zone it is the shop's own).

    `person`: the stamp or the name, as on file. Processes and positions in ISO or AWS terms.
    """

    moment: Text
    person: Text
    process: Text
    mechanisation: Text
    workstation: Text = ""
    wps: Text = ""
    joint: Text = ""
    weld_type: Text = ""
    position: Text = ""
    current_a: Measured = None
    voltage_v: Measured = None
    travel_mm_min: Measured = None
    note: Text = ""


class WeldsIn(Sent):
    """Welds to be written, all or none."""

    entries: list[WeldIn] = Field(min_length=1, max_length=MOST)


@router.get(
    "/weld-log", auth=Needs(Scope.READ_PEOPLE), response=answers(LogPage), summary="Read the weld log", url_name="log"
)
def log(request: HttpRequest, asked: Query[LogQuestion]) -> dict[str, Any]:
    """Who welded what, on which day. Entries that were struck out say so."""
    rows = asked.narrowed(WeldLogEntry.objects.select_related("person"))
    if asked.person:
        rows = rows.filter(person_id=asked.person)
    if asked.since:
        rows = rows.filter(on__gte=asked.since)
    if asked.until:
        rows = rows.filter(on__lte=asked.until)
    return page_of(request, asked, rows, _line)


@router.post(
    "/weld-log",
    auth=Needs(Scope.WRITE_LOG),
    response=answers(LogTaken, 201, 409, 413),
    summary="Write welds into the log",
    url_name="log",
)
def write(request: HttpRequest, data: WeldsIn) -> Status:
    """All of them or none. What is on file already is left out; the same body again is refused with 409."""
    by, sha = asked_by(request), sha256(request.body).hexdigest()
    name = f"{by.token.name}, {len(data.entries)} welds"
    try:
        with transaction.atomic():
            batch = take_in_table(name, sha, _table(data.entries), by, timezone.now())
            _refuse_problems(batch)
            written = confirm(batch.pk, by)
    except Refusal as refusal:
        raise Problem(409, str(refusal)) from None
    notes = [problem["message"] for problem in batch.problems if problem.get("is_note")]
    return Status(201, {"batch": batch.pk, "written": written, "known": len(data.entries) - written, "notes": notes})


def _table(entries: list[WeldIn]) -> Table:
    """The welds as the rows of a log file, under the columns that any of them uses."""
    fields = [field for field in LABELS if any(_cell(weld, field) != "" for weld in entries)]
    fields += [field for field in ("moment", "person", "process", "mechanisation") if field not in fields]
    rows = [(number, tuple(_cell(weld, field) for field in fields)) for number, weld in enumerate(entries, start=1)]
    return Table(((0, tuple(LABELS[field] for field in fields)), *rows))


def _cell(weld: WeldIn, field: str) -> Cell:
    value = getattr(weld, field)
    return "" if value is None else value


def _refuse_problems(batch: WeldLogBatch) -> None:
    wrong = [problem for problem in batch.problems if not problem.get("is_note")]
    if wrong:
        errors = [
            {"field": FIELD_OF.get(one["column"], one["column"]), "message": one["message"], "row": one["row"]}
            for one in wrong[:100]
        ]
        raise Problem(422, "Nothing was written. Correct the entries named and send all of them again.", errors)


def _line(row: WeldLogEntry) -> dict[str, Any]:
    named = LogLine.model_fields.keys() - {"person_name", "entered_by"}
    plain = {name: getattr(row, name) for name in named}
    return plain | {"person_name": row.person.name, "entered_by": row.entered_by_name}
