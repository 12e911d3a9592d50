"""Issued sheets: whether the paper at the machine may still be welded to."""

from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.utils import timezone
from ninja import Path, Router

from register.api.entries import Key, Text
from register.api.problems import Problem
from register.api.service import answers
from register.api.tokens import Needs
from register.systems.scopes import Scope
from wps import issued
from wps.api.schemas import SheetOut, StandingOut
from wps.issued import IN_FORCE
from wps.models import IssuedSheet, ProcedureRevision
from wps.sheet_content import code_as_read, code_as_shown

router = Router(auth=Needs(Scope.READ_SHEETS), tags=["Sheets"])


@router.get(
    "/sheets/{check_code}", response=answers(StandingOut, 200, 404), summary="Is a sheet in force?", url_name="sheet"
)
def sheet(request: HttpRequest, check_code: Path[Text]) -> dict[str, Any]:
    """By the check code that is printed on it, with or without its hyphen. 404: no such sheet was issued here."""
    code, today = code_as_read(check_code), timezone.localdate()
    found = issued.standing(code, today) if code else None
    if found is None:
        raise Problem(404, "No sheet with this check code was issued here. Do not weld to it; ask the coordinator.")
    plain = {name: getattr(found, name) for name in ("number", "letter", "title", "sentence")}
    state = {"in_force": found.word == IN_FORCE, "state": found.word}
    return plain | state | {"check_code": code_as_shown(code), "on": today}


@router.get(
    "/revisions/{key}/sheets",
    response=answers(list[SheetOut], 200, 404),
    summary="Sheets issued of a revision",
    url_name="revision_sheets",
)
def sheets(request: HttpRequest, key: Path[Key]) -> list[dict[str, Any]]:
    """Every sheet that was issued of it, also those of an earlier state, oldest first."""
    revision = get_object_or_404(ProcedureRevision.objects.select_related("procedure"), pk=key)
    rows = IssuedSheet.objects.filter(revision=revision).defer("pdf").order_by("pk")
    return [_line(one, revision) for one in rows]


def _line(one: IssuedSheet, revision: ProcedureRevision) -> dict[str, Any]:
    same = ("revision_id", "kind", "paper", "units", "sha256", "issued_at")
    return {name: getattr(one, name) for name in same} | {
        "check_code": code_as_shown(one.check_code),
        "number": revision.procedure.number,
        "letter": revision.letter,
        "state_when_issued": one.state,
    }
