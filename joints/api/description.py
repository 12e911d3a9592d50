"""What can be asked: the description in OpenAPI, and the same as a page. Neither says anything of what is on file."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from joints.api.v1 import api
from register.api.problems import TYPE, Problem, response_of
from register.api.tokens import system_of
from register.roles import Capability, can, requires
from register.systems.scopes import WORDS

PREFIX = "/api/v1"


@dataclass(frozen=True, slots=True)
class Call:
    """One call as the page shows it. `entries`: name, where it stands, what it is."""

    method: str
    path: str
    scope: str
    summary: str
    words: str
    entries: tuple[tuple[str, str, str], ...]


@lru_cache(maxsize=1)
def schema() -> dict[str, Any]:
    """The description in OpenAPI 3.1, with the scope that each call needs."""
    plain: dict[str, Any] = dict(api.get_openapi_schema(path_prefix=f"{PREFIX}/"))
    for path, method, scope in scopes():
        plain["paths"][path][method]["x-scope"] = scope
        for status, answer in plain["paths"][path][method]["responses"].items():
            if int(status) >= 400:
                answer["content"] = {TYPE: answer["content"]["application/json"]}
    plain["info"]["license"] = {"name": "Apache-2.0"}
    return plain


def scopes() -> Iterator[tuple[str, str, str]]:
    """Path, method and scope of every call."""
    for prefix, router in api._routers:
        for path, view in router.path_operations.items():
            for operation in view.operations:
                guard = operation.auth_callbacks[0] if operation.auth_callbacks else router.auth
                for method in operation.methods:
                    yield f"{PREFIX}{prefix}{path}", method.lower(), guard.scope.value


@login_not_required
@require_safe
def openapi(request: HttpRequest) -> HttpResponse:
    """For whoever has a token of any scope, or is signed in and may read."""
    header = str(request.headers.get("Authorization", ""))
    if header.lower().startswith("bearer "):
        try:
            system_of(request, header[7:])
        except Problem as problem:
            return response_of(problem)
    elif not can(request.user, Capability.VIEW):
        return response_of(Problem(401, "Send a token of this register, or sign in."))
    return JsonResponse(schema(), json_dumps_params={"indent": 1})


@requires(Capability.VIEW)
@require_safe
def description(request: HttpRequest) -> HttpResponse:
    """The calls on a page, grouped as their description groups them."""
    groups: dict[str, list[Call]] = {}
    for path, methods in schema()["paths"].items():
        for method, said in methods.items():
            groups.setdefault(said["tags"][0], []).append(_call(path, method, said))
    context = {
        "page_title": "Programming interface",
        "lead": "What other systems can ask and send. The coordinator makes the tokens.",
        "groups": groups,
        "scopes": [(scope.value, words) for scope, words in WORDS.items()],
        "words": schema()["info"]["description"],
    }
    return render(request, "register/api/description.html", context)


def _call(path: str, method: str, said: dict[str, Any]) -> Call:
    entries = [(one["name"], one["in"], _kind(one["schema"])) for one in said.get("parameters", ())]
    body = said.get("requestBody", {}).get("content", {})
    for kind, content in body.items():
        entries.append(("body", kind, content["schema"].get("title", "") or content["schema"].get("format", "")))
    words = said.get("description", "").partition("\n\n")[0]
    return Call(method.upper(), path, said["x-scope"], said["summary"], words, tuple(entries))


def _kind(said: dict[str, Any]) -> str:
    """A schema in a word or two. Example: "integer, 1 to 200"."""
    options = [one for one in said.get("anyOf", [said]) if one.get("type") != "null"]
    one = options[0] if options else {}
    if "$ref" in one:
        one = schema()["components"]["schemas"][one["$ref"].rpartition("/")[2]]
    one = one.get("allOf", [one])[0]
    words = " or ".join(map(str, one.get("enum", ()))) or one.get("format") or one.get("type") or ""
    if "minimum" in one and one.get("maximum", 10**9) < 10**9:
        words += f", {one['minimum']} to {one['maximum']}"
    about = said.get("description", "")
    return f"{words}: {about}" if about else words
