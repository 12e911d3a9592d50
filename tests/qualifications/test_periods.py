"""From a certificate on file to its state on a day, by the code's own clock."""

from datetime import date

import pytest

from qualifications.models import Certificate
from qualifications.offers import certificate_offers, fetched, offer
from qualifications.periods import NOT_JUDGED, state, validity
from tests.qualifications.make import certificate, event, person

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("day", "valid", "reason"),
    [
        (date(2025, 1, 30), False, "validity_not_started"),
        (date(2025, 1, 31), True, ""),
        (date(2025, 7, 31), True, ""),
        (date(2025, 8, 1), False, "validity_confirmation"),
    ],
)
def test_six_months_from_the_welding_that_day_included(day: date, valid: bool, reason: str) -> None:
    found = state(certificate(), day)
    assert (found.valid, found.reason) == (valid, reason)


@pytest.mark.parametrize(("confirmed", "valid"), [(date(2025, 7, 31), True), (date(2025, 8, 1), False)])
def test_a_late_confirmation_revives_nothing(confirmed: date, valid: bool) -> None:
    held = certificate()
    event(held, confirmed)
    assert state(held, date(2025, 9, 1)).valid is valid


def test_events_count_in_order_of_date_not_of_entry() -> None:
    held = certificate()
    event(held, date(2025, 12, 20))
    event(held, date(2025, 7, 1))
    assert state(held, date(2026, 6, 20)).valid
    assert not state(held, date(2026, 6, 21)).valid


def test_a_voided_confirmation_does_not_count() -> None:
    held = certificate()
    wrong = event(held, date(2025, 7, 1))
    assert state(held, date(2025, 12, 1)).valid
    event(held, date(2025, 7, 5), "correction", voids=wrong, reason="another welder was meant")
    held = Certificate.objects.get(pk=held.pk)
    assert not state(held, date(2025, 12, 1)).valid


def test_a_voided_revocation_does_not_count() -> None:
    held = certificate()
    wrong = event(held, date(2025, 3, 1), "revocation", reason="doubt")
    assert state(held, date(2025, 3, 1)).reason == "revoked"
    assert "doubt" in state(held, date(2025, 3, 1)).because
    event(held, date(2025, 3, 2), "correction", voids=wrong, reason="wrong person")
    assert state(Certificate.objects.get(pk=held.pk), date(2025, 3, 1)).valid


@pytest.mark.parametrize(("day", "valid"), [(date(2025, 4, 30), True), (date(2025, 5, 1), False)])
def test_certificates_count_up_to_the_last_day_of_work(day: date, valid: bool) -> None:
    found = state(certificate(person(active=False, left_on=date(2025, 4, 30))), day)
    assert found.valid is valid
    assert valid or "last day of work was 2025-04-30" in found.because


def test_a_last_day_after_the_lapse_changes_nothing() -> None:
    found = state(certificate(person(active=False, left_on=date(2025, 12, 31))), date(2025, 8, 1))
    assert found.reason == "validity_confirmation"


def test_a_last_day_before_the_test_leaves_nothing() -> None:
    found = state(certificate(person(active=False, left_on=date(2025, 1, 30))), date(2025, 2, 1))
    assert (found.valid, found.reason) == (False, "left")


@pytest.mark.parametrize("code", ["EN 287-1:2004", "ISO 9606-1:1994", "ISO 14732:2025"])
def test_an_edition_not_held_is_recorded_and_never_valid(code: str) -> None:
    held = certificate(code=code)
    event(held, date(2025, 7, 1))
    found = state(held, date(2025, 7, 2))
    assert not found.valid
    assert found.reason == NOT_JUDGED
    assert f"does not hold {code}" in found.because
    one = offer(held)
    assert one.sets == ()
    assert code in one.problem


def test_a_kind_that_the_edition_does_not_certify_is_not_judged() -> None:
    assert state(certificate(kind="operator"), date(2025, 2, 1)).reason == NOT_JUDGED


def test_without_an_option_nothing_is_valid_and_the_gap_is_named() -> None:
    found = state(certificate(option=""), date(2025, 2, 1))
    assert not found.valid
    assert "option" in found.missing


def test_option_c_needs_its_conditions() -> None:
    held = certificate(option="c")
    assert "ISO 3834" in state(held, date(2025, 2, 1)).missing
    held.facts = {"same_manufacturer": "yes", "iso_3834": "3", "quality_documented": "yes"}
    assert state(held, date(2025, 2, 1)).valid
    event(held, date(2025, 5, 1), "manufacturer_changed", reason="moved to another firm")
    assert state(Certificate.objects.get(pk=held.pk), date(2025, 4, 30)).reason == "missing_data"


def test_option_c_ends_with_the_manufacturer() -> None:
    held = certificate(option="c", facts={"same_manufacturer": "yes", "iso_3834": "3", "quality_documented": "yes"})
    event(held, date(2025, 5, 1), "manufacturer_changed", reason="moved to another firm")
    assert state(held, date(2025, 4, 30)).valid
    assert state(held, date(2025, 5, 1)).reason == "revalidation_option"


def test_a_prolongation_of_option_b_counts() -> None:
    held = certificate(option="b")
    days = [date(2025, 7, 1), date(2025, 12, 1), date(2026, 5, 1), date(2026, 10, 1), date(2027, 1, 20)]
    for day in days:
        event(held, day)
    assert not state(held, date(2027, 2, 1)).valid
    welds = {"weld_1": "2026-09-01", "weld_2": "2026-12-01", "tested_by": "RT", "conditions_reproduced": "yes"}
    event(held, date(2027, 1, 15), "prolongation", details=welds)
    assert state(Certificate.objects.get(pk=held.pk), date(2027, 2, 1)).valid


def test_offers_hold_limits_and_validity_in_six_queries(django_assert_num_queries: object) -> None:
    holder = person()
    for number in range(5):
        event(certificate(holder, number=f"W-{number}"), date(2025, 7, 1))
    with django_assert_num_queries(6):  # type: ignore[operator]
        offers = certificate_offers()
    assert len(offers) == 5
    assert {o.label for o in offers} >= {"Ada Krol, W-0 (ISO 9606-1:2012)"}
    assert all(o.sets and o.validity.state(date(2025, 12, 1)).valid for o in offers)
    assert {o.processes for o in offers} == {("135",)}
    assert [type(o.sets[0]).__name__ for o in offers[:1]] == ["LimitSet"]


@pytest.mark.parametrize(
    ("pieces", "word"),
    [
        ([], "no test piece"),
        ([{"process": "999"}], "999"),
        ([{"parent_t": "-3"}], "Parent thickness: -3 is negative"),
        ({"a": 1}, "no test piece"),
    ],
)
def test_pieces_that_cannot_be_read_cover_nothing_and_say_why(pieces: object, word: str) -> None:
    one = offer(certificate(pieces=pieces))
    assert one.sets == ()
    assert word in one.problem


def test_asking_validity_of_a_fetched_certificate_asks_the_database_nothing(django_assert_num_queries: object) -> None:
    event(certificate(), date(2025, 7, 1))
    (held,) = fetched(Certificate.objects.all())
    with django_assert_num_queries(0):  # type: ignore[operator]
        validity(held)
