"""People on paper: what the PDFs say, their size, and that the same day gives the same bytes."""

import io
from collections.abc import Callable
from datetime import date
from decimal import Decimal as D
from typing import Any

import pytest
from django.contrib.auth.models import AnonymousUser
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from codes.editions import edition
from qualifications.due import falls_due, grouped
from qualifications.models import Certificate
from qualifications.offers import certificate_offers, limits
from qualifications.paper.field_list import field_lists
from qualifications.paper.pdfs import card_pdf, certificate_pdf, due_pdf
from tests.qualifications.make import FILLET, certificate, event, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
ON = date(2025, 7, 1)
NOBODY = AnonymousUser()


def words(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())


def held() -> Certificate:
    one = certificate(
        person("Ada Krol", identification="W07", employer="Nordhalle", born_on=date(1990, 2, 3)),
        examiner="E. Munk",
        job_knowledge="accepted",
        results={"vt": "accepted", "fracture": "accepted", "bend_root": "2"},
    )
    wrong = event(one, date(2025, 6, 1), evidence="a mistaken weld")
    event(one, date(2025, 6, 2), "correction", voids=wrong, reason="another welder")
    event(one, date(2025, 6, 20), evidence="joint B12/3, WPS 014", by_role="supervisor")
    return one


def test_the_field_list_holds_every_tested_value_and_every_limit() -> None:
    one = held()
    ((listed),) = field_lists(one)
    labels = [line.label for line in listed.lines if line.label]
    for name in FILLET:
        known = next(f for f in edition(one.code).fields if f.name == name)
        assert (known.label or known.variable.label) in labels
    (limit_set,) = limits(one)[0]
    assert sum(line.allowed != "recorded" for line in listed.lines) == len(limit_set.limits)
    assert all(line.clause for line in listed.lines if line.allowed not in ("", "recorded"))


def test_fields_come_in_the_order_of_the_code() -> None:
    ((listed),) = field_lists(held())
    order = [f.label or f.variable.label for f in edition("ISO 9606-1:2012").fields]
    shown = [line.label for line in listed.lines if line.label in order]
    assert shown == sorted(shown, key=order.index)


def test_an_edition_that_is_not_held_has_no_field_list() -> None:
    assert field_lists(certificate(code="EN 287-1:2004")) == ()


def test_a_certificate_on_paper() -> None:
    said = words(certificate_pdf(held(), ON, NOBODY))
    for text in (
        "Ada Krol: welder",
        "ISO 9606-1:2012, certificate W-1",
        "ISO 9606-1 135 P FW FM1 S t10 PB ml",
        "Valid on 2025-07-01, until 2025-12-20",
        "W07",
        "1990-02-03",
        "E. Munk",
        "135 · GMAW, 138 · GMAW metal-cored",
        "ISO 9606-1:2012, 5.7, Table 8",
        "Root bends 2",
        "joint B12/3, WPS 014",
        "Marek Holt, supervisor",
        "side 1 of",
        "the text of the standard",
    ):
        assert text in said, text
    assert "a mistaken weld" not in said


def test_the_same_day_gives_the_same_bytes_and_another_day_another_state() -> None:
    one = held()
    first = certificate_pdf(one, ON, NOBODY)
    assert certificate_pdf(one, ON, NOBODY) == first
    assert "Not valid on 2025-12-21" in words(certificate_pdf(one, date(2025, 12, 21), NOBODY))


def test_a_pocket_card_is_as_large_as_a_bank_card() -> None:
    one = held()
    certificate(one.person, number="W-2", code="EN 287-1:2004", pieces=[])
    data = card_pdf(one.person, list(one.person.certificates.all()), ON, NOBODY)
    reader = PdfReader(io.BytesIO(data))
    for page in reader.pages:
        width, height = (D(str(side)) * D("25.4") / 72 for side in page.mediabox[2:])
        assert (round(width, 1), round(height, 1)) == (D("85.6"), D("54.0"))
    assert len(reader.pages) == 2
    said = words(data)
    assert "Ada Krol" in said
    assert "to 2025-12-20" in said
    assert "from 3 mm" in said
    assert "W-2" not in said  # what is not judged is on no card


def test_a_card_of_somebody_with_nothing_valid_says_so() -> None:
    one = held()
    data = card_pdf(one.person, [one], date(2026, 1, 1), NOBODY)
    assert "No certificate is valid on 2026-01-01" in words(data)
    assert len(PdfReader(io.BytesIO(data)).pages) == 1


def test_the_list_of_what_falls_due() -> None:
    certificate()
    groups = grouped(falls_due(certificate_offers(), date(2025, 7, 20)))
    said = words(due_pdf(groups, date(2025, 7, 20), "By how soon."))
    assert "Within 30 days (1)" in said
    assert "2025-07-31 confirmation" in said
    assert "Lapsed already" not in said  # empty
    assert "Nothing falls due" in words(due_pdf([], ON))


@pytest.mark.parametrize("name", ["certificate_sheet", "pocket_card", "due_sheet"])
def test_the_addresses_give_pdfs_that_load_nothing(client_of: SignIn, name: str) -> None:
    one = held()
    key: dict[str, Any] = {"certificate_sheet": [one.pk], "pocket_card": [one.person_id]}
    query = {"on": "2025-12-10", "by": "person", "within": "30"}
    response = client_of("auditor").get(reverse(f"qualifications:{name}", args=key.get(name)), query)
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.content[:5] == b"%PDF-"
    assert "default-src 'none'" in response.headers["Content-Security-Policy"]
    assert response.headers["Cache-Control"] == "private, no-store"
    assert "2025-12-" in words(response.content)


def test_markup_in_a_name_is_text() -> None:
    one = certificate(person("<img src='file:///etc/hostname'>Ada"))
    assert "<img src='file:///etc/hostname'>Ada" in words(certificate_pdf(one, ON, NOBODY))
