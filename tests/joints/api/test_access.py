"""Every call of the API, asked with a token of each scope, as each role, and by nobody: default deny."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import URLPattern
from django.utils import timezone

from joints.api.description import schema, scopes
from joints.api.urls import calls
from register.models import SystemToken
from register.systems.scopes import Scope
from tests.conftest import PEOPLE, dropped_triggers
from tests.joints.api.conftest import sending, token_of
from tests.register.test_access import WRITES
from tests.url_samples import samples

CALLS = sorted(scopes())
IDS = [f"{method} {path}" for path, method, _ in CALLS]
# Which sample stands for the key after this part of the address.
KEYS = {
    "records": "wps:record",
    "procedures": "wps:procedure",
    "revisions": "wps:revision",
    "people": "qualifications:person",
    "certificates": "qualifications:certificate",
    "jobs": "joints:job",
    "joints": "joints:joint",
    "joint-lists": "joints:import_preview",
}
WRITTEN = {"write:log", "write:weld_values", "propose:joints"}


def address(path: str) -> str:
    if "{key}" not in path:
        return path.replace("{check_code}", "ABCDE-FGHIJ")
    path = path.replace("{sha256}", "ABCDE".ljust(64, "0"))
    return path.replace("{key}", str(samples()[KEYS[path.split("/")[3]]]()["pk"]))


def ask(client: Client, method: str, url: str) -> Any:
    return client.get(url) if method == "get" else client.post(url, {}, content_type="application/json")


@pytest.fixture
def tokens(coordinator: User) -> dict[Scope, str]:
    return {scope: token_of(coordinator, scope.value, [scope]) for scope in Scope}


@pytest.mark.parametrize(("path", "method", "needed"), CALLS, ids=IDS)
def test_a_token_opens_the_calls_of_its_scope_and_no_other(
    path: str, method: str, needed: str, tokens: dict[Scope, str]
) -> None:
    url = address(path)
    for scope, secret in tokens.items():
        response = ask(sending(secret), method, url)
        if scope.value != needed:
            assert response.status_code == 403, (url, scope)
            assert f"lacks {needed}" in response.json()["detail"]
        elif method == "get":
            assert response.status_code == (404 if "ABCDE" in url else 200), (url, response.content)
        else:
            assert response.status_code == 422, (url, response.content)


@pytest.mark.parametrize(("path", "method", "needed"), CALLS, ids=IDS)
def test_a_session_opens_none(
    path: str, method: str, needed: str, client_of: Callable[[str], Client], people: dict[str, Any]
) -> None:
    url = address(path)
    for name in (*PEOPLE, "nobody"):
        response = ask(client_of(name), method, url)
        assert response.status_code == 401, (url, name)
        assert response.headers["Content-Type"] == "application/problem+json"
        assert response.headers["WWW-Authenticate"].startswith("Bearer")


@pytest.mark.parametrize("fault", ["revoked", "expired", "unknown", "empty", "basic", "cut", "no text"])
def test_a_token_that_does_not_count_opens_none(fault: str, coordinator: User) -> None:
    secret = token_of(coordinator, "Cell 3", list(Scope))
    today = timezone.localdate()
    if fault == "revoked":
        SystemToken.objects.update(revoked_at=timezone.now(), revoked_because="lost")
    if fault == "expired":
        with dropped_triggers(connection):
            SystemToken.objects.update(expires_on=today - timedelta(days=1))
    said = {"unknown": "Bearer wreg_" + "a" * 43, "empty": "Bearer ", "basic": f"Basic {secret}"}
    said |= {"cut": f"Bearer {secret[:-1]}", "no text": "Bearer wreg_\x00\udcff"}
    client = Client(headers={"authorization": said.get(fault, f"Bearer {secret}")})
    for path, method, _ in CALLS:
        assert ask(client, method, path.replace("{key}", "1").replace("{check_code}", "A")).status_code in (401, 429)


def test_the_matrix_leaves_no_call_out() -> None:
    """Every pattern that is mounted is described, each call needs one scope, and each scope opens something."""
    mounted = {f"/api/v1/{pattern.pattern}".replace("<", "{").replace(">", "}") for pattern in calls}
    assert {path for path, _, _ in CALLS} == mounted
    assert {scope for _, _, scope in CALLS} == {scope.value for scope in Scope}
    described = [(path, method) for path, methods in schema()["paths"].items() for method in methods]
    assert sorted(described) == sorted((path, method) for path, method, _ in CALLS)
    assert all(isinstance(pattern, URLPattern) for pattern in calls)


def test_only_the_scopes_that_say_so_write() -> None:
    assert {scope for _, method, scope in CALLS if method != "get"} == {*WRITTEN, "read:coverage"}
    assert {method for _, method, _ in CALLS} == {"get", "post"}


@pytest.mark.parametrize(("path", "method", "needed"), [one for one in CALLS if one[2] not in WRITTEN])
def test_a_question_writes_nothing(path: str, method: str, needed: str, tokens: dict[Scope, str]) -> None:
    """But when the token was last used."""
    url, client = address(path), sending(tokens[Scope(needed)])
    with CaptureQueriesContext(connection) as queries:
        ask(client, method, url)
    written = [query["sql"] for query in queries if WRITES.match(query["sql"])]
    assert all("last_used_at" in sql for sql in written), written


def test_the_description_is_for_whoever_may_read(client_of: Callable[[str], Client], coordinator: User) -> None:
    address = "/api/v1/openapi.json"
    for name in (*PEOPLE, "nobody"):
        expected = 401 if name in ("no_role", "nobody") else 200
        assert client_of(name).get(address).status_code == expected, name
    found = sending(token_of(coordinator, "Planner", ["read:due"])).get(address)
    assert found.json()["openapi"].startswith("3.1")
    assert sending("wreg_nothing").get(address).status_code == 401


def test_the_page_says_what_may_stand_in_every_place(client_of: Callable[[str], Client]) -> None:
    page = client_of("auditor").get("/api/").content.decode().replace("<code>missed</code>", "missed")
    assert "<code>findings</code> (query): all or missed: missed leaves only " in page
    assert "<code>status</code> (query): draft or " in page


def test_a_long_address_is_broken_at_its_strokes(client_of: Callable[[str], Client]) -> None:
    page = client_of("auditor").get("/api/").content.decode()
    assert "<code>GET /api<wbr>/v1<wbr>/revisions<wbr>/{key}<wbr>/sheets<wbr>/{sha256}</code>" in page


@pytest.mark.parametrize("url", ["/api/v1/", "/api/v1/nothing", "/api/v2/jobs", "/api/v1/jobs/1/nothing"])
def test_what_is_no_call_is_a_problem_for_everybody(url: str, db: None) -> None:
    response = Client().post(url)
    assert (response.status_code, response.headers["Content-Type"]) == (404, "application/problem+json")


def test_another_method_is_named(db: None) -> None:
    response = Client().delete("/api/v1/people")
    assert response.status_code == 405
    assert response.json()["detail"] == "This address takes GET."


def test_head_is_answered_as_get(coordinator: User) -> None:
    asking = sending(token_of(coordinator, "Planner", ["read:people"]))
    whole, head = asking.get("/api/v1/people"), asking.head("/api/v1/people")
    assert (head.status_code, head.headers["ETag"]) == (200, whole.headers["ETag"])
    assert (head.content, int(head.headers["Content-Length"])) == (b"", len(whole.content))
    assert asking.head("/api/v1/jobs").status_code == 403
    assert Client().head("/api/v1/people").status_code == 401
    assert asking.head("/api/v1/coverage").status_code == 405
