"""Every page and every form with what ill will, or a broken program, types: no fault of ours, nothing run as a script.

Forms are read off the pages themselves, so that a new one is asked without being named here.
"""

from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from tests.conftest import PASSWORD
from tests.joints.files import bomb, good_xlsx
from tests.register.test_access import GUARDED, NAMES, Address, location
from tests.url_samples import samples

SCRIPT = "<script>alert(1)</script>"
HOSTILE = (
    SCRIPT,
    '"><img src=x onerror=alert(1)>{{ 7*7 }}',
    "9" * 400,
    "1e999999",
    "-1",
    "NaN",
    "a\x00b",
    "\u202egnp.exe\u202c \u200b",
    "=cmd|' /C calc'!A0",
    "../../../etc/passwd",
    '[{"a":' * 50,
    "٣٫٥",
    "2026-02-30",
    "9223372036854775808",
    "' OR 1=1 --",
    "é" * 3000,
)
LONG = "x" * 1_000_000
FILES = (
    ("../../evil.csv", b"a;b\n=1+1;<script>alert(1)</script>\n"),
    ("a\r\nX-Evil: 1.xlsx", good_xlsx()),
    ("bomb.xlsx", bomb()),
    ("scan.pdf", b"%PDF-1.7\n<script>alert(1)</script>\nstartxref\n9\n%%EOF\n"),
    ("nul\x00.csv", b"\x00" * 64),
    ("model.ifc", b"ISO-10303-21;\nHEADER;" + b"(" * 5000),
    ("log.csv.gz", b"\x1f\x8b\x08\x00cut"),
)
RUNS = (b"<script>alert(", b"<img src=x")
WAYS = 3
"""How often each form is sent, its entries filled with other things each time."""
LEFT_OUT = {"logout", "own_password"}
"""Sent with the right password these end the session, or change what the other tests sign in with."""
PAPER = ("_sheet", "_card", "_pdf")
"""Addresses of PDFs hold no form, and take long."""
FORMS = [one for one in GUARDED if one.name not in LEFT_OUT and not one.name.endswith(PAPER)]


class Entries(HTMLParser):
    """The entries of the forms that are posted on a page: name, kind, and the choices there are."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, tuple[str, list[str]]] = {}
        self._posted, self._select = False, ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        name = said.get("name", "")
        if tag == "form":
            self._posted = said.get("method", "").lower() == "post" and "logout" not in said.get("action", "")
        elif not self._posted:
            return
        elif tag in ("input", "textarea") and name:
            kind, choices = self.found.get(name, (said.get("type", "text") if tag == "input" else "text", []))
            self.found[name] = kind, [*choices, said.get("value", "")]
        elif tag == "select":
            self._select = name
            self.found[name] = "select", []
        elif tag == "option" and self._select:
            self.found[self._select][1].append(said.get("value", ""))


def entries(page: bytes) -> dict[str, tuple[str, list[str]]]:
    reader = Entries()
    reader.feed(page.decode())
    return reader.found


def filled(found: dict[str, tuple[str, list[str]]], way: int) -> Iterator[tuple[str, Any]]:
    """The entries with hostile values; from the second way on choices and passwords are right, so that more is read."""
    for place, (name, (kind, choices)) in enumerate(sorted(found.items())):
        if name == "csrfmiddlewaretoken":
            continue
        if kind == "file":
            file, data = FILES[(place + way) % len(FILES)]
            yield name, SimpleUploadedFile(file, data)
        elif kind == "password" and name == "signing_password":
            yield name, PASSWORD
        elif way and kind in ("select", "radio", "checkbox", "hidden") and choices:
            yield name, choices[way % len(choices)]
        else:
            yield name, HOSTILE[(place * 5 + way * 3) % len(HOSTILE)]


@pytest.mark.parametrize("address", FORMS, ids=lambda one: one.name)
def test_no_form_breaks_or_runs_what_is_typed(address: Address, client_of: Callable[[str], Client]) -> None:
    """The client raises what the register does not catch."""
    client, url = client_of("coordinator"), location(address)
    page = client.get(url)
    found = entries(page.content) if page.headers.get("Content-Type", "").startswith("text/html") else {}
    if not found:
        pytest.skip("no form that is posted")
    # A number box of the browser makes 15 of "1,5" while it is typed: figures are text, read by us.
    assert not [name for name, (kind, _) in found.items() if kind == "number"], url
    for way in range(WAYS):
        response = client.post(url, dict(filled(found, way)), follow=True)
        assert response.status_code < 500, (url, way, response.status_code)
        said = b"" if response.streaming else response.content
        assert not [run for run in RUNS if run in said], (url, way)


@pytest.mark.parametrize("address", GUARDED, ids=NAMES)
def test_no_query_breaks_or_runs_what_is_asked(address: Address, client_of: Callable[[str], Client]) -> None:
    """Reflected: what stands in the address is printed as text, and a key beyond all keys finds nothing."""
    client, url = client_of("coordinator"), location(address)
    page = client.get(url)
    html = b"" if page.streaming else page.content.replace(b'method="get"', b'method="post"')
    names = set(entries(html)) if b"<form" in html else set()
    names |= {"q", "page", "sort", "on", "export"}
    for way in (0, 5):
        query = {name: HOSTILE[(place + way) % len(HOSTILE)] for place, name in enumerate(sorted(names))}
        response = client.get(url, query | ({} if way else {"on": ""}))
        assert response.status_code < 500, (url, query)
        said = b"" if response.streaming else response.content
        assert not [run for run in RUNS if run in said], (url, query)


def test_a_megabyte_in_every_entry(client_of: Callable[[str], Client]) -> None:
    client = client_of("coordinator")
    for name in ("joints:job_new", "qualifications:person_new", "wps:record_new", "users:new", "systems:new"):
        url = location(next(one for one in GUARDED if one.name == name))
        found = entries(client.get(url).content)
        for place in ("text", "select", "hidden"):
            sent = {entry: LONG if kind == place else "" for entry, (kind, _) in list(found.items())[:6]}
            assert client.post(url, sent).status_code < 500, (url, place)


@pytest.mark.parametrize("key", [0, 2**31, 2**63 - 1, 2**63, 10**40])
def test_a_key_beyond_all_keys_finds_nothing(key: int, client_of: Callable[[str], Client]) -> None:
    client = client_of("coordinator")
    for path in ("/people/{}/", "/procedures/{}/", "/joints/{}/", "/jobs/{}/", "/evidence/{}/", "/systems/{}/"):
        assert client.get(path.format(key)).status_code == 404, path


def test_bytes_that_are_no_text(client_of: Callable[[str], Client]) -> None:
    """Neither in the path, nor in the query, nor in a form."""
    client = client_of("coordinator")
    assert client.get("/people/?q=%ff%fe%00").status_code < 500
    assert client.get("/people/%ff%fe/").status_code < 500
    form = "application/x-www-form-urlencoded"
    assert client.post("/people/new/", b"name=%ff%00&identification=%ed%a0%80", content_type=form).status_code < 500


def test_every_page_that_names_a_thing_was_asked() -> None:
    assert samples().keys() <= set(NAMES) | {"wps:sheet_status", "qualifications:calendar_feed"}
