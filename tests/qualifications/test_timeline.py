"""Who is qualified for a process over time."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from codes.clauses import Clause
from codes.validity import Ending, Period, Validity
from qualifications.offers import CertificateOffer
from qualifications.timeline import joined, rows, view_of
from register.base.draw import Span
from tests.qualifications.make import FILLET, certificate, event, person

SignIn = Callable[[str], Client]
ENDING = Ending("x", "x", Clause("Test standard", "9"))


def offer(pk: int, *spans: tuple[date, date | None], **facts: Any) -> CertificateOffer:
    periods = tuple(Period(start, end, "opened", ENDING) for start, end in spans)
    values = {"person_id": 1, "person_name": "Ada Krol", "label": "", "kind": "welder", "processes": ("135",)}
    return CertificateOffer(certificate_id=pk, sets=(), validity=Validity(periods, ENDING), **(values | facts))


@pytest.mark.parametrize(
    ("second", "count"),
    [(date(2025, 7, 15), 1), (date(2025, 8, 1), 1), (date(2025, 8, 2), 2)],
)
def test_spans_that_touch_are_one(second: date, count: int) -> None:
    spans = [Span(second, date(2025, 12, 31)), Span(date(2025, 1, 1), date(2025, 7, 31))]
    assert len(joined(spans)) == count


def test_a_span_inside_another_shortens_nothing() -> None:
    spans = [Span(date(2025, 1, 1), date(2025, 12, 31)), Span(date(2025, 2, 1), date(2025, 3, 1))]
    assert joined(spans) == (spans[0],)


def test_certificates_of_a_process_are_laid_together() -> None:
    offers = [
        offer(1, (date(2025, 1, 1), date(2025, 6, 30))),
        offer(2, (date(2025, 6, 1), date(2025, 12, 31))),
        offer(3, (date(2025, 1, 1), None), processes=("111",)),
        offer(4, (date(2025, 1, 1), date(2025, 2, 1)), person_id=2, person_name="Abe Orr"),
    ]
    found = rows(offers, date(2025, 7, 1), "135")
    assert [(row.person_name, row.text) for row in found] == [
        ("Ada Krol", "valid until 2025-12-31"),
        ("Abe Orr", "not valid"),
    ]
    assert found[0].certificates == ((1, "", False), (2, "", True))
    assert [row.process for row in rows(offers, date(2025, 7, 1), person_id=1)] == ["111", "135"]
    assert rows(offers, date(2025, 7, 1), person_id=1)[0].text == "valid, without end"


def test_operators_and_welders_stand_apart() -> None:
    offers = [offer(1, (date(2025, 1, 1), None)), offer(2, (date(2025, 1, 1), None), kind="operator")]
    assert [row.kind for row in rows(offers, date(2025, 7, 1), "135")] == ["operator", "welder"]


def test_a_strip_runs_a_year_back_and_two_ahead() -> None:
    assert view_of(date(2024, 2, 29)) == (date(2023, 2, 28), date(2026, 2, 28))


@pytest.mark.django_db
def test_the_page_of_a_process(client_of: SignIn) -> None:
    certificate()
    certificate(person("Bo Lang"), number="W-2", pieces=[FILLET | {"process": "111"}])
    browser = client_of("auditor")
    page = " ".join(
        browser.get(reverse("qualifications:timeline"), {"process": "135", "on": "2025-07-31"}).content.decode().split()
    )
    assert '1 of 1 valid for 135 · GMAW on <span class="day">2025-07-31</span>' in page
    assert "Bo Lang" not in page
    assert 'class="drawing strip"' in page
    assert browser.get(reverse("qualifications:timeline"), {"process": "141"}).status_code == 400
    assert browser.get(reverse("qualifications:timeline"), {"kind": "foreman"}).status_code == 400


@pytest.mark.django_db
def test_with_nobody_on_file_the_page_says_what_to_do(client_of: SignIn) -> None:
    assert (
        "No certificate is on file yet" in client_of("auditor").get(reverse("qualifications:timeline")).content.decode()
    )


@pytest.mark.django_db
def test_the_page_of_a_person_lays_several_certificates_together(client_of: SignIn) -> None:
    holder = person()
    certificate(holder)
    url = reverse("qualifications:person", args=[holder.pk])
    browser = client_of("auditor")
    assert "By process" not in browser.get(url).content.decode()
    other = certificate(holder, number="W-2", welded_on=date(2025, 7, 1))
    event(other, date(2025, 12, 1))
    page = " ".join(browser.get(url, {"on": "2025-08-01"}).content.decode().split())
    assert "By process" in page
    assert "valid until 2026-06-01" in page
