"""The sheet of a revision as PDF, and the public page behind its QR code."""

from time import monotonic

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import BadRequest
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from register.address import client_address
from register.api import rates
from register.own_units.reader import usual_units
from register.papers.codes import status_address
from register.papers.kept import bytes_of
from register.papers.standing import paper_standing
from register.roles import Capability, requires
from wps import issued
from wps.models import ProcedureRevision
from wps.sheet_content import code_as_read, code_as_shown
from wps.sheets import Choice, SheetError, file_stem

PDF_POLICY = "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
"""Viewers of browsers bring styles of their own; a PDF may load nothing."""


@requires(Capability.VIEW)
@require_safe
def revision_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """The sheet (?kind=cell|full, paper=a4|letter, units=si|us); in the reader's own units where it does not say.

    Whoever may look reads a sheet that was issued; issuing one, or printing another, takes the right to print.
    """
    revision = get_object_or_404(_whole(), pk=pk)
    try:
        asked = {"units": usual_units(request).value} | request.GET.dict()
        choice = Choice(**{name: asked[name] for name in ("kind", "paper", "units") if name in asked})
        return _issued(request, revision, choice) if issued.is_issuable(revision) else _draft(request, revision, choice)
    except SheetError as refusal:
        raise BadRequest(str(refusal)) from None


def _whole() -> QuerySet[ProcedureRevision]:
    return ProcedureRevision.objects.select_related("procedure")


def _issued(request: HttpRequest, revision: ProcedureRevision, choice: Choice) -> HttpResponse:
    kept = issued.find(revision, choice) or issued.issue(revision, choice, request.user, status_address(request))
    etag = f'"{kept.sha256}"'
    if request.headers.get("If-None-Match") == etag:
        return HttpResponseNotModified(headers={"ETag": etag})
    response = _pdf(bytes_of(kept), file_stem(revision, choice))
    response.headers["ETag"] = etag
    response.headers["Cache-Control"] = "private, no-cache"
    return response


def _draft(request: HttpRequest, revision: ProcedureRevision, choice: Choice) -> HttpResponse:
    made = issued.preview(revision, choice, request.user, timezone.localdate())
    response = _pdf(made.pdf, f"{revision.status.upper()}-{file_stem(revision, choice)}")
    response.headers["Cache-Control"] = "no-store"
    return response


def _pdf(data: bytes, stem: str) -> HttpResponse:
    response = HttpResponse(data, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{stem}.pdf"'
    response.headers["Content-Security-Policy"] = PDF_POLICY
    return response


def _too_often(request: HttpRequest, seconds: int) -> HttpResponse:
    response = render(request, "429.html", {"seconds": seconds}, status=429)
    response.headers["Retry-After"] = str(seconds)
    response.headers["Cache-Control"] = "no-store"
    return response


@login_not_required
@require_safe
def sheet_status(request: HttpRequest, code: str) -> HttpResponse:
    """In force, superseded or withdrawn: for anybody who holds the sheet, or another paper. Says nothing else.

    A code has 50 bits; the bound on questions of one address keeps them from being tried, and the page from being
    asked for its own sake.
    """
    if seconds := rates.looked_up.seconds_to_wait(client_address(request), settings.STATUS_PER_MINUTE, monotonic()):
        return _too_often(request, seconds)
    read = code_as_read(code)
    found = issued.standing(read, timezone.localdate())
    paper = paper_standing(read) if found is None and read else None
    shown = code_as_shown(code_as_read(code)) if code_as_read(code) else ""
    if paper is not None:
        title = paper.title
    else:
        title = f"{found.number} rev {found.letter}" if found is not None else "Sheet not known"
    # It tells of today, whatever date somebody who is signed in asks about elsewhere.
    context = {"code": shown, "standing": paper or found, "page_title": title, "asof": None}
    response = render(request, "wps/sheet_status.html", context, status=200 if paper or found else 404)
    response.headers["Cache-Control"] = "no-store"
    response.headers["X-Robots-Tag"] = "noindex"
    return response
