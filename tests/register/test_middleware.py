"""Headers on every answer; a request that is too long is refused in words."""

import logging
import re
from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpRequest
from django.test import Client

from register.log import RequestId
from register.middleware import CHUNK, drain, too_long
from tests.conftest import PASSWORD

MB = 1024 * 1024


def test_headers(client: Client, db: None) -> None:
    headers = client.get("/accounts/login/").headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "camera=()" in headers["Permissions-Policy"]


def test_what_was_seen_signed_in_is_kept_by_nobody(client_of: Callable[[str], Client], client: Client) -> None:
    assert client_of("qa").get("/").headers["Cache-Control"] == "private, no-store"
    assert "no-store" in client_of("auditor").get("/trail/").headers["Cache-Control"]
    assert "Cache-Control" not in client.get("/health/").headers


def test_cookies_are_out_of_reach_of_scripts(client: Client, people: dict[str, Any]) -> None:
    client.post("/accounts/login/", {"username": "qa", "password": PASSWORD})
    for name in ("sessionid", "csrftoken"):
        assert client.cookies[name]["httponly"]
        assert client.cookies[name]["samesite"] == "Lax"


def test_a_forged_form_is_refused_in_words(people: dict[str, Any]) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(people["coordinator"])
    refused = client.post("/accounts/password/", {})
    assert refused.status_code == 403
    assert "Open the page again" in refused.content.decode()


@pytest.mark.parametrize("given", ["", "short", "a b c d e f g h", "x" * 65, "abc\\ndef-12345"])
def test_every_answer_has_an_id(client: Client, db: None, given: str) -> None:
    answer = client.get("/health/", headers={"X-Request-ID": given})
    assert answer.headers["X-Request-ID"] not in {"", given}


def test_the_id_of_the_proxy_is_kept_and_is_in_the_line(
    client_of: Callable[[str], Client], caplog: pytest.LogCaptureFixture
) -> None:
    caplog.handler.addFilter(RequestId())
    with caplog.at_level(logging.INFO, "register.request"):
        answer = client_of("qa").get("/trail/?q=secret", headers={"X-Request-ID": "proxy-0001"})
    assert answer.headers["X-Request-ID"] == "proxy-0001"
    (record,) = [record for record in caplog.records if record.name == "register.request"]
    assert re.fullmatch(r"GET /trail/ 403 \d+ ms qa", record.getMessage())
    assert record.request_id == "proxy-0001"  # type: ignore[attr-defined]


def test_nobody_counts_the_watchman(client: Client, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.INFO, "register.request"):
        client.get("/health/")
    assert not [record for record in caplog.records if record.name == "register.request"]


@pytest.mark.parametrize("name", ["coordinator", "nobody"])
def test_fifty_megabytes_of_rubbish(name: str, client_of: Callable[[str], Client]) -> None:
    rubbish = SimpleUploadedFile("welds.csv", b"\x00\xff" * (25 * MB))
    response = client_of(name).post("/accounts/login/", {"file": rubbish})
    assert response.status_code == 413
    text = response.content.decode()
    assert "50.0 MB" in text
    assert "at most 45 MB" in text
    assert "Nothing was saved" in text
    assert "Too much at once" in text


def test_the_limit_itself_passes_and_one_byte_more_does_not(client: Client, settings: Any, db: None) -> None:
    settings.BODY_LIMIT = 100
    at_limit = {"data": "x" * 100, "content_type": "text/plain"}
    over = {"data": "x" * 101, "content_type": "text/plain"}
    assert client.post("/accounts/login/", **at_limit).status_code == 200
    assert client.post("/accounts/login/", **over).status_code == 413


def test_a_length_that_is_no_number_is_refused(client: Client, db: None) -> None:
    response = client.get("/health/", CONTENT_LENGTH="-5")
    assert response.status_code == 413
    assert "no number" in response.content.decode()


def test_sizes_in_words() -> None:
    assert too_long(str(50 * MB)).startswith("Refused: the file is 50.0 MB and at most 45 MB are read.")


class Body(HttpRequest):
    """A request whose body ends after `there` bytes, whatever its length says."""

    def __init__(self, there: int) -> None:
        super().__init__()
        self.there, self.taken = there, 0

    def read(self, size: int = -1) -> bytes:
        piece = min(size, self.there - self.taken)
        self.taken += piece
        return b"x" * piece


@pytest.mark.parametrize(
    ("there", "said", "taken"),
    [(3 * CHUNK + 1, 3 * CHUNK + 1, 3 * CHUNK + 1), (10, 5 * CHUNK, 10), (900 * MB, 900 * MB, 8 * 45 * MB)],
    ids=["whole", "sender stops early", "not for ever"],
)
def test_draining(there: int, said: int, taken: int) -> None:
    request = Body(there)
    drain(request, said)
    assert request.taken == taken
