"""The API under its version, its description, and a page of it that people can read."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.urls import path, re_path
from django.views.decorators.csrf import csrf_exempt

from joints.api.description import description, openapi
from joints.api.missing import nothing_here
from joints.api.v1 import api
from register.api.problems import Problem, response_of


def call(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """A call as it is mounted: guarded by its token (register.api.tokens.Needs), which no session replaces.

    HEAD is answered as GET would be, without the body.
    """

    @csrf_exempt
    @login_not_required
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        head = request.method == "HEAD"
        if head:
            request.method = "GET"
        response = view(request, *args, **kwargs)
        if response.status_code == 405:
            allowed = response.headers["Allow"]
            response = response_of(Problem(405, f"This address takes {allowed}.", headers={"Allow": allowed}))
        return without_body(request, response) if head else response

    return guarded


def without_body(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """The same answer with its length alone."""
    request.method = "HEAD"
    response.headers["Content-Length"] = str(len(response.content))
    response.content = b""
    return response


calls = [pattern for pattern in api.urls[0] if pattern.name != "api-root"]
for pattern in calls:
    pattern.callback = call(pattern.callback)

urlpatterns = [
    path("", description, name="api_page"),
    path("v1/openapi.json", openapi, name="api_openapi"),
    path("v1/", (calls, "api", "api")),
    re_path(r"^.*$", nothing_here, name="api_nothing"),
]
