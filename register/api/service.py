"""The API itself: entity tags on what is read, refusals as problems, and no session anywhere."""

from hashlib import sha256
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_vary_headers
from ninja import NinjaAPI

from register.api.problems import ProblemOut, handled

REFUSALS = dict.fromkeys((400, 401, 403, 404, 409, 413, 422, 429), ProblemOut)


def answers(schema: Any, status: int = 200, *also: int) -> dict[int, Any]:
    """What a call may answer: its schema, and the refusals that every call may give besides those named."""
    return {status: schema} | {code: REFUSALS[code] for code in sorted({400, 401, 403, 422, 429, *also})}


class RegisterAPI(NinjaAPI):
    """Answers carry an entity tag, so that whoever asks again with If-None-Match gets 304 and no body."""

    def create_response(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """The answer; what names people is kept by no proxy."""
        response = super().create_response(request, *args, **kwargs)
        response.headers["Cache-Control"] = "private, no-cache"
        patch_vary_headers(response, ("Authorization",))
        if request.method not in ("GET", "HEAD") or response.status_code != 200:
            return response
        response.headers["ETag"] = f'"{sha256(response.content).hexdigest()[:32]}"'
        found: HttpResponse = get_conditional_response(request, etag=response.headers["ETag"], response=response)
        return found


def service(version: str, description: str) -> RegisterAPI:
    """An API without pages of its own: the register prints its description itself."""
    api = RegisterAPI(
        title="Welding register",
        version=version,
        description=description,
        openapi_url=None,
        docs_url=None,
        urls_namespace="api",
    )
    handled(api)
    return api
