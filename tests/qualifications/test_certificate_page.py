"""What the page of a certificate says: its standard once, readings in words, and nothing that its standard lacks."""

import re
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from qualifications.models import Certificate
from tests.qualifications.make import certificate, event, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]

BUTT = {
    "process": "136",
    "weld_type": "butt_cjp",
    "product": "plate",
    "filler_group": "FM1",
    "filler_type": "P",
    "deposit_t": "12",
    "position": "PA",
    "weld_detail": "ss_mb",
    "layers": "4",
}
TOKEN = re.compile(r"\b[a-z0-9]+(?:_[a-z0-9]+)+\b")


def page_of(browser: Client, held: Certificate) -> str:
    found = browser.get(reverse("qualifications:certificate", args=[held.pk]), {"on": "2025-02-01"})
    return " ".join(re.sub(r"<[^>]*>", " ", found.content.decode()).split())


@pytest.mark.parametrize(
    ("code", "kind", "said"),
    [
        ("ISO 9606-1:2012", "welder", "ISO 9606-1:2012, welder"),
        ("ISO 14732:2013", "operator", "ISO 14732:2013, operator or weld setter"),
        ("AWS D1.1:2020 welder", "welder", "AWS D1.1:2020 welder"),
        ("AWS D1.1:2020 tack welder", "tack_welder", "AWS D1.1:2020 tack welder"),
        ("ASME IX:2021 operator", "operator", "ASME IX:2021 operator"),
    ],
)
def test_the_standard_and_what_it_qualifies_are_said_once(code: str, kind: str, said: str) -> None:
    assert Certificate(code=code, kind=kind).standard_and_kind == said


def test_the_readings_of_a_range_are_said_in_words(client_of: SignIn) -> None:
    page = page_of(client_of("auditor"), certificate(pieces=[BUTT]))
    assert "plate branch (5.4 c): strict: only a test on pipe covers it" in page
    assert not TOKEN.findall(page[page.index("Range of qualification") : page.index("Test results")])


def test_a_plate_test_allows_no_branch(client_of: SignIn) -> None:
    """ISO 9606-1:2012, 5.4 c: what is not covered is ruled out by name, not by the butt welds beside it."""
    page = page_of(client_of("auditor"), certificate(pieces=[BUTT]))
    assert "not branch connection" in page


def test_what_the_standard_does_not_know_is_not_called_missing(client_of: SignIn) -> None:
    browser = client_of("auditor")
    holder = person()
    iso = page_of(browser, certificate(holder, option=""))
    assert "Revalidation option not stated" in iso and "Valid until, as printed" in iso
    aws = page_of(browser, certificate(holder, code="AWS D1.1:2020 welder", number="D11-1", option="", pieces=[]))
    for lacking in ("Designation", "Revalidation option", "Valid until, as printed"):
        assert lacking not in aws


def test_a_revoked_certificate_offers_no_signature_and_no_second_revocation(client_of: SignIn) -> None:
    held = certificate()
    browser = client_of("coordinator")
    confirm, revoke = (reverse(f"qualifications:{name}", args=[held.pk]) for name in ("confirm", "revoke"))

    def links() -> list[Any]:
        found = browser.get(reverse("qualifications:certificate", args=[held.pk]), {"on": "2025-02-01"})
        return re.findall(r'href="([^"]*)"', found.content.decode())

    assert {confirm, revoke} <= set(links())
    event(held, date(2025, 1, 20), "revocation", reason="cold laps")
    assert not {confirm, revoke} & set(links())
    assert reverse("qualifications:certificate_sheet", args=[held.pk]) in links()


def test_a_changed_test_piece_is_told_value_by_value(client_of: SignIn) -> None:
    held = certificate(pieces=[BUTT])
    held.pieces = [BUTT | {"deposit_t": "15", "position": ["PA", "PC"], "weld_detail": "ss_nb"}]
    held.save()
    page = page_of(client_of("auditor"), held)
    assert "test pieces, Deposited thickness from “12” to “15”" in page
    assert "test pieces, Position from “PA · 1G / 1F” to “PA · 1G / 1F, PC · 2G”" in page
    assert "deposit_t" not in page and "{" not in page[page.index("Who changed what") :]


def test_a_prolongation_names_its_welds(client_of: SignIn) -> None:
    """ISO 9606-1:2012, 9.3 b: two welds of the last six months, how they were tested and when that was reported."""
    held = certificate(option="b", welded_on=date(2023, 2, 1))
    details = {"weld_1": "2024-11-01", "weld_2": "2024-12-10", "tested_by": "RT", "reported_on": "2025-01-08"}
    event(held, date(2025, 1, 15), "prolongation", details=details | {"conditions_reproduced": "yes"})
    page = page_of(client_of("auditor"), held)
    assert "prolongation: welds of 2024-11-01 and 2024-12-10, RT, reported 2025-01-08" in page


def test_what_cannot_be_read_is_named_by_its_label(client_of: SignIn) -> None:
    page = page_of(client_of("auditor"), certificate(pieces=[BUTT | {"deposit_t": "thick"}]))
    assert "Not judged: Deposited thickness:" in page
