"""Refusals of the API as application/problem+json (RFC 9457): what is wrong, in which field, and the remedy."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.core.exceptions import BadRequest, RequestDataTooBig
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError

TYPE = "application/problem+json"
TITLES = {
    400: "The request cannot be read",
    401: "No token that counts",
    403: "The token may not do this",
    404: "Nothing of this kind is on file",
    405: "This address does not take this method",
    409: "It was not done",
    413: "Too large",
    422: "An entry cannot be taken",
    429: "Too many questions",
}


class FieldProblem(Schema):
    """What is wrong in one field; `row` where many were sent at once."""

    field: str
    message: str
    row: int | None = None


class ProblemOut(Schema):
    """A refusal. `detail` is a sentence with the remedy; `errors` names the fields."""

    type: str = "about:blank"
    title: str
    status: int
    detail: str
    errors: list[FieldProblem] = []


class Problem(Exception):
    """Answered with this status; nothing was saved. `errors`: field, message and perhaps row."""

    def __init__(
        self,
        status: int,
        detail: str,
        errors: Iterable[Mapping[str, Any]] = (),
        headers: Mapping[str, str] | None = None,
    ) -> None:
        self.status, self.detail, self.errors = status, detail, [dict(error) for error in errors]
        self.headers = dict(headers or {})
        super().__init__(detail)


def response_of(problem: Problem) -> HttpResponse:
    """The refusal as it is sent."""
    said = {
        "type": "about:blank",
        "title": TITLES.get(problem.status, "Refused"),
        "status": problem.status,
        "detail": problem.detail,
        "errors": [{"row": None} | error for error in problem.errors],
    }
    response = JsonResponse(said, status=problem.status, content_type=TYPE, json_dumps_params={"ensure_ascii": False})
    response.headers["Cache-Control"] = "no-store"
    for name, value in problem.headers.items():
        response.headers[name] = value
    return response


def handled(api: NinjaAPI) -> NinjaAPI:
    """Let the API answer every refusal as a problem; a fault of our own stays a fault."""
    api.add_exception_handler(Problem, lambda request, problem: response_of(problem))
    api.add_exception_handler(Http404, _not_found)
    api.add_exception_handler(ValidationError, _invalid)
    api.add_exception_handler(HttpError, _http)
    api.add_exception_handler(RequestDataTooBig, lambda request, _: response_of(Problem(413, "Send less at once.")))
    api.add_exception_handler(BadRequest, lambda request, bad: response_of(Problem(400, str(bad))))
    return api


def _not_found(request: HttpRequest, _: Any) -> HttpResponse:
    return response_of(Problem(404, "Nothing is on file under this address; ask the list for the keys there are."))


def _http(request: HttpRequest, error: Any) -> HttpResponse:
    detail = str(error)
    if error.status_code == 401:
        return response_of(no_token())
    if error.status_code == 400 and detail.startswith("Cannot parse request body"):
        detail = "The body is no JSON. Send one JSON object in UTF-8, with Content-Type: application/json."
    return response_of(Problem(error.status_code, detail))


def no_token() -> Problem:
    """Refused for want of a token; says no more, whatever was wrong with it."""
    detail = "Send a token of this register that is in use: Authorization: Bearer … The coordinator makes one."
    return Problem(401, detail, headers={"WWW-Authenticate": 'Bearer realm="register"'})


def _invalid(request: HttpRequest, error: Any) -> HttpResponse:
    found = [_field(one) for one in error.errors[:100]]
    names = ", ".join(dict.fromkeys(one["field"] for one in found))
    return response_of(Problem(422, f"Correct {names} and send it again. Nothing was saved.", found))


def _field(error: Mapping[str, Any]) -> dict[str, Any]:
    """Where, and what. Example: ("body", "entries", 2, "on") is row 3, field "on"."""
    where = [part for part in error["loc"] if part not in ("body", "query", "path", "data", "asked")]
    rows = [part for part in where if isinstance(part, int)]
    name = ".".join(str(part) for part in where if not isinstance(part, int)) or "body"
    message = str(error["msg"]).removeprefix("Value error, ")
    return {"field": name[:80], "message": message, "row": rows[0] + 1 if rows else None}
