"""Issued sheets: whether the paper at the machine may still be welded to."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.cache import get_conditional_response, patch_vary_headers
from ninja import Path, Router

from register.api.entries import Key, Text
from register.api.problems import Problem
from register.api.service import answers
from register.api.tokens import Needs
from register.papers.kept import bytes_of
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


PDF = {"content": {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}}


@router.get(
    "/revisions/{key}/sheets/{sha256}",
    response=answers(None, 200, 404),
    summary="An issued sheet as PDF",
    url_name="sheet_pdf",
    openapi_extra={"responses": {200: {"description": "The sheet, byte for byte"} | PDF}},
)
def pdf(request: HttpRequest, key: Path[Key], sha256: Path[Text]) -> HttpResponse:
    """The very bytes that were issued, by the SHA-256 that the list of its sheets names. None is issued by asking.

    Look at `state_when_issued` and ask by its check code whether it is still in force before anybody welds to it.
    """
    found = IssuedSheet.objects.filter(revision=key, sha256=sha256.lower()).order_by("pk").first()
    if found is None:
        raise Problem(404, "No sheet of this revision has this SHA-256; ask for the list of its sheets.")
    response = HttpResponse(bytes_of(found), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'attachment; filename="sheet-{found.check_code}.pdf"'
    response.headers["Cache-Control"] = "private, no-cache"
    response.headers["ETag"] = f'"{found.sha256}"'
    patch_vary_headers(response, ("Authorization",))
    known: HttpResponse = get_conditional_response(request, etag=response.headers["ETag"], response=response)
    return known


def _line(one: IssuedSheet, revision: ProcedureRevision) -> dict[str, Any]:
    same = ("revision_id", "kind", "paper", "units", "sha256", "issued_at")
    return {name: getattr(one, name) for name in same} | {
        "check_code": code_as_shown(one.check_code),
        "number": revision.procedure.number,
        "letter": revision.letter,
        "state_when_issued": one.state,
    }
