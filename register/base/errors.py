"""Refusals in words: the pages for 400 and 403 print what was wrong and what would be right; 503 for the database."""

import sys

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import BadRequest
from django.db import InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template import loader
from django.utils.translation import gettext
from django.views.defaults import server_error


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """handler400: print our own reason; another fault's text may hold what is not for the reader's eyes."""
    reason = str(exception) if isinstance(exception, BadRequest) else ""
    return render(request, "400.html", {"reason": reason}, status=400)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    """handler403: print which right is missing."""
    return render(request, "403.html", {"reason": str(exception)}, status=403)


def broken(request: HttpRequest) -> HttpResponse:
    """handler500: a database that is away, busy or full is no fault of the page, and passes; 503 says so."""
    fault = sys.exc_info()[1]
    if not isinstance(fault, OperationalError | InterfaceError):
        return server_error(request)
    page = loader.render_to_string("503.html", {"reason": why_not_now(fault)})
    return HttpResponse(page, status=503, headers={"Retry-After": "30"})


def why_not_now(fault: Exception) -> str:
    """What keeps the database from answering, in words; names no host, user or path."""
    said = str(fault).lower()
    if "full" in said or "no space left" in said:
        return gettext("The disk of the register is full: nothing can be saved until there is room again.")
    if "locked" in said or "lock timeout" in said:
        return gettext("Somebody else is saving something large, and it takes longer than can be waited for here.")
    return gettext("The database of the register does not answer at the moment.")


@login_not_required
def forged(request: HttpRequest, reason: str = "") -> HttpResponse:
    """CSRF_FAILURE_VIEW: a form without its token, mostly one that lay open while somebody signed in anew."""
    said = "The form was opened before you signed in, or comes from another site. Open the page again and repeat."
    return render(request, "403.html", {"reason": said}, status=403)
