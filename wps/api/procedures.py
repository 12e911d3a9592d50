"""Procedures, their revisions with windows and runs, and how a revision is judged on a day."""

from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from ninja import Path, Query, Router
from pydantic import Field

from register.api.entries import Day, Key, OnDay, Text
from register.api.paging import Changing, page_of
from register.api.service import answers
from register.api.tokens import Needs
from register.api.verdicts import finding_out, verdict_out
from register.held.firm import firm_settings
from register.systems.scopes import Scope
from wps.api.schemas import JudgementOut, ProcedureOut, Procedures, RevisionLine, RevisionOut, Revisions
from wps.combined import Combination
from wps.judgement import Gap, ProcessJudgement, VariableView, judge
from wps.models import Procedure, ProcedureRevision, Status
from wps.offers import in_force

router = Router(auth=Needs(Scope.READ_PROCEDURES), tags=["Procedures"])
OWN = ("number", "title")
"""What a revision has from its procedure."""


class ProcedureQuestion(Changing):
    """Which procedures."""

    q: Text = ""


class RevisionQuestion(Changing):
    """Which revisions."""

    procedure: Key | None = Field(None, description="key of a procedure")
    status: Status | None = None
    in_force_on: Day | None = Field(None, description="only those that were approved and had not ended on this day")


@router.get("/procedures", response=answers(Procedures), summary="List procedures", url_name="procedures")
def procedures(request: HttpRequest, asked: Query[ProcedureQuestion]) -> dict[str, Any]:
    """Procedures whose number or title holds `q`."""
    rows = asked.narrowed(Procedure.objects.all())
    if asked.q:
        rows = rows.filter(number__icontains=asked.q) | rows.filter(title__icontains=asked.q)
    return page_of(request, asked, rows)


@router.get(
    "/procedures/{key}", response=answers(ProcedureOut, 200, 404), summary="One procedure", url_name="procedure"
)
def procedure(request: HttpRequest, key: Path[Key]) -> dict[str, Any]:
    """The procedure with its revisions, newest first."""
    found = get_object_or_404(Procedure, pk=key)
    rows = found.revisions.select_related("procedure").order_by("-pk")
    plain = {name: getattr(found, name) for name in ("id", "number", "title", "changed_at")}
    return plain | {"revisions": [line(row) for row in rows]}


@router.get("/revisions", response=answers(Revisions), summary="List revisions", url_name="revisions")
def revisions(request: HttpRequest, asked: Query[RevisionQuestion]) -> dict[str, Any]:
    """Revisions of all procedures, or those in force on a day."""
    rows = in_force(asked.in_force_on) if asked.in_force_on else ProcedureRevision.objects.all()
    rows = asked.narrowed(rows).select_related("procedure")
    if asked.procedure:
        rows = rows.filter(procedure_id=asked.procedure)
    if asked.status:
        rows = rows.filter(status=asked.status)
    return page_of(request, asked, rows, line)


@router.get("/revisions/{key}", response=answers(RevisionOut, 200, 404), summary="One revision", url_name="revision")
def revision(request: HttpRequest, key: Path[Key]) -> dict[str, Any]:
    """The revision whole: window, runs, preparation, the records that it rests on."""
    found = _found(key)
    named = RevisionOut.model_fields.keys() - set(OWN) - {"runs", "records"}
    plain = {name: getattr(found, name) for name in named} | line(found)
    return plain | {"runs": list(found.runs.all()), "records": list(found.records.all())}


@router.get(
    "/revisions/{key}/judgement",
    response=answers(JudgementOut, 200, 404),
    summary="A revision against its records",
    url_name="judgement",
)
def judgement(request: HttpRequest, key: Path[Key], asked: Query[OnDay]) -> dict[str, Any]:
    """Whether every point of its window lies inside its records on the day; the parts that none covers by name."""
    found = _found(key)
    said = judge(found, asked.day, firm_settings())
    return {
        "on": asked.day,
        "revision": str(found),
        "outcome": said.outcome.value,
        "sentence": said.sentence,
        "prequalified": said.prequalified,
        "records": [one.label for one in said.on_file],
        "not_fully_confirmed": list(said.unconfirmed),
        "processes": [_process(one) for one in said.processes],
    }


def line(row: ProcedureRevision) -> dict[str, Any]:
    """A revision in a list."""
    own = {name: getattr(row.procedure, name) for name in OWN}
    return {name: getattr(row, name) for name in RevisionLine.model_fields if name not in own} | own


def _found(key: int) -> ProcedureRevision:
    rows = ProcedureRevision.objects.select_related("procedure").prefetch_related("runs", "records")
    found: ProcedureRevision = get_object_or_404(rows, pk=key)
    return found


def _process(one: ProcessJudgement) -> dict[str, Any]:
    return {
        "process": one.process,
        "name": one.name,
        "outcome": one.outcome.value,
        "variables": [_variable(view) for view in one.variables],
        "gaps": [_gap(gap) for gap in one.gaps],
        "combined": [_combination(found) for found in one.combined],
    }


def _variable(view: VariableView) -> dict[str, Any]:
    return {
        "variable": view.variable,
        "label": view.label,
        "says": view.says,
        "outcome": view.outcome.value,
        "allows": [{"record": one.record, "finding": finding_out(one.finding)} for one in view.allows],
    }


def _combination(one: Combination) -> dict[str, Any]:
    return {
        "records": one.label,
        "needed": one.needed,
        "clauses": [str(clause) for clause in one.clauses],
        "findings": [finding_out(found) for found in one.findings],
    }


def _gap(gap: Gap) -> dict[str, Any]:
    nearest = verdict_out(gap.nearest) if gap.nearest is not None else None
    return {"text": gap.text, "outcome": gap.outcome.value, "nearest": nearest}
