"""Refusals in words: the pages for 400 and 403 print what was wrong and what would be right."""

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """handler400: print our own reason; another fault's text may hold what is not for the reader's eyes."""
    reason = str(exception) if isinstance(exception, BadRequest) else ""
    return render(request, "400.html", {"reason": reason}, status=400)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    """handler403: print which right is missing."""
    return render(request, "403.html", {"reason": str(exception)}, status=403)


@login_not_required
def forged(request: HttpRequest, reason: str = "") -> HttpResponse:
    """CSRF_FAILURE_VIEW: a form without its token, mostly one that lay open while somebody signed in anew."""
    said = "The form was opened before you signed in, or comes from another site. Open the page again and repeat."
    return render(request, "403.html", {"reason": said}, status=403)
