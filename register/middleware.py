"""An id for every request, headers on every answer, and a limit on every question."""

import logging
import re
import secrets
import time
from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.template import TemplateDoesNotExist
from django.template.loader import render_to_string
from django.utils.translation import gettext

from register.log import request_id

Answer = Callable[[HttpRequest], HttpResponse]
CHUNK = 64 * 1024
GIVEN_ID = re.compile(r"[A-Za-z0-9-]{8,64}")
WATCHED = {"/health/", "/ready/", "/metrics/"}
NOT_NEEDED = ("camera", "microphone", "geolocation", "payment", "usb", "serial", "midi", "display-capture")
PERMISSIONS = ", ".join(f"{name}=()" for name in NOT_NEEDED)
log = logging.getLogger("register.request")


class RequestIds:
    """Give every request an id (the proxy's, if it sent a plain one), put it on the answer, and log one line.

    The line holds no query, no form and no header: addresses are ours, what people type is not for the log.
    """

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        given = request.headers.get("X-Request-ID", "")
        name = given if GIVEN_ID.fullmatch(given) else secrets.token_hex(8)
        token, start = request_id.set(name), time.perf_counter()
        try:
            response = self.get_response(request)
            response.headers["X-Request-ID"] = name
            if request.path not in WATCHED:
                write_line(request, response, time.perf_counter() - start)
            return response
        finally:
            request_id.reset(token)


def write_line(request: HttpRequest, response: HttpResponse, seconds: float) -> None:
    """Who asked what, the status, and how long it took."""
    user = getattr(request, "user", None)
    # A user that nothing has asked for stays unread: the line costs no query.
    known = user is not None and "_cached_user" in vars(request)
    system = getattr(request, "auth", None)
    name = system.get_username() if system is not None else user.get_username() if known else ""
    said = {"method": request.method, "path": request.path, "status": response.status_code, "user": name}
    said["ms"] = round(seconds * 1000)
    log.info("%(method)s %(path)s %(status)s %(ms)s ms %(user)s", said, extra=said)


class PrivatePages:
    """Let no browser or proxy keep what somebody saw who is signed in, unless the view says how."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if settings.SESSION_COOKIE_NAME in request.COOKIES:
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response


class ContentSecurityPolicy:
    """Tell the browser to run nothing but our own files: no inline script, no inline style, no other host."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response
        self.policy = "; ".join(f"{name} {value}" for name, value in settings.CONTENT_SECURITY_POLICY.items())

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", self.policy)
        response.headers.setdefault("Permissions-Policy", PERMISSIONS)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        return response


class BodyLimit:
    """Refuse a request that says it is longer than settings.BODY_LIMIT [bytes]; keep none of it.

    A body without a length is refused by the web server or read as empty by WSGI, so the header is enough.
    """

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        length = request.META.get("CONTENT_LENGTH") or "0"
        if length.isdigit() and int(length) <= settings.BODY_LIMIT:
            return self.get_response(request)
        drain(request, int(length) if length.isdigit() else 0)
        return refusal(request, too_long(length))


def drain(request: HttpRequest, length: int) -> None:
    """Read the body and throw it away, up to eight times the limit.

    A connection closed on a sender shows it "connection reset" in place of the message.
    """
    left = min(length, 8 * settings.BODY_LIMIT)
    while left > 0:
        piece = len(request.read(min(CHUNK, left)))
        if not piece:
            return
        left -= piece


def refusal(request: HttpRequest, message: str) -> HttpResponse:
    """Answer 413 as a page (413.html) if there is one, otherwise as plain text; as a problem below the API."""
    if request.path.startswith("/api/"):
        from register.api.problems import Problem, response_of

        return response_of(Problem(413, message))
    try:
        page = render_to_string("413.html", {"message": message}, request)
    except TemplateDoesNotExist:
        return HttpResponse(message, status=413, content_type="text/plain; charset=utf-8")
    return HttpResponse(page, status=413)


def too_long(length: str) -> str:
    """The refusal in words: what came, what is allowed, what to do. Sizes in MB of 1024 x 1024 bytes."""
    limit = settings.BODY_LIMIT / 1024**2
    if not length.isdigit():
        return gettext("Refused: the request states the length %(length)s, which is no number. Nothing was saved.") % {
            "length": f"{length[:20]!r}"
        }
    size = int(length) / 1024**2
    return gettext(
        "Refused: the file is %(size)s MB and at most %(limit)s MB are read. Nothing was saved. "
        "Split the file, or save the sheet with the welds alone, and send it again."
    ) % {"size": f"{size:.1f}", "limit": f"{limit:.0f}"}
