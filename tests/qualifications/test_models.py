"""People, certificates and events: what the models and the database refuse, and what is kept."""

from datetime import date

import pytest
from django.core.exceptions import PermissionDenied, ValidationError
from django.db import Error, IntegrityError, connection, transaction

from qualifications.models import Certificate, CertificateEvent, Person
from tests.qualifications.make import certificate, event, person

pytestmark = pytest.mark.django_db
TABLE = "qualifications_certificateevent"


def test_whoever_no_longer_works_here_has_a_last_day() -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        person("Uwe Brandt", active=False)
    assert person("Uwe Brandt", active=False, left_on=date(2026, 1, 31)).pk


def test_a_stamp_belongs_to_one_person() -> None:
    person("Uwe Brandt", identification="W07")
    with pytest.raises(IntegrityError):
        person("Ute Brandt", identification="W07")


@pytest.mark.parametrize(
    "facts",
    [
        {"kind": "foreman"},
        {"option": "d"},
        {"results_on": date(2025, 1, 30)},
        {"issued_on": date(2025, 1, 30)},
    ],
)
def test_the_database_refuses_a_certificate_that_cannot_be(facts: dict[str, object]) -> None:
    with pytest.raises(IntegrityError):
        certificate(**facts)


@pytest.mark.parametrize("day", [date(2025, 1, 31), date(2025, 2, 1)])
def test_results_may_come_on_the_day_of_welding_or_later(day: date) -> None:
    assert certificate(results_on=day, issued_on=day).pk


def test_one_examining_body_issues_a_number_once() -> None:
    first = certificate()
    assert certificate(first.person, examining_body="Test House South").pk
    with pytest.raises(IntegrityError):
        certificate(first.person)


def test_a_holder_and_a_certificate_with_events_are_not_deleted() -> None:
    held = certificate()
    with pytest.raises(IntegrityError):
        held.person.delete()
    event(held, date(2025, 7, 1))
    with pytest.raises(IntegrityError):
        held.delete()


def test_an_event_is_neither_changed_nor_deleted_by_the_model() -> None:
    made = event(certificate(), date(2025, 7, 1))
    made.on = date(2025, 8, 1)
    with pytest.raises(PermissionDenied, match="correction"):
        made.save()
    with pytest.raises(PermissionDenied, match="correction"):
        made.delete()


@pytest.mark.parametrize(
    "statement",
    [f"UPDATE {TABLE} SET evidence = 'more'", f"DELETE FROM {TABLE}"],
)
def test_the_database_itself_refuses_to_change_or_delete_an_event(statement: str) -> None:
    made = event(certificate(), date(2025, 7, 1), evidence="joint B12/3")
    with pytest.raises(Error, match="correction"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)
    with pytest.raises(Error), transaction.atomic():
        CertificateEvent.objects.update(evidence="more")
    assert CertificateEvent.objects.get().evidence == made.evidence == "joint B12/3"


@pytest.mark.parametrize(
    "facts",
    [
        {"kind": "party"},
        {"kind": "correction", "reason": "mistake"},
        {"kind": "revocation"},
        {"by_name": ""},
    ],
)
def test_the_database_refuses_an_event_that_cannot_be(facts: dict[str, object]) -> None:
    held = certificate()
    with pytest.raises(IntegrityError):
        event(held, date(2025, 7, 1), **facts)


def test_only_a_correction_voids() -> None:
    held = certificate()
    first = event(held, date(2025, 7, 1))
    with pytest.raises(IntegrityError):
        event(held, date(2025, 7, 2), voids=first)


def test_a_correction_stays_on_its_certificate_and_is_not_voided_itself() -> None:
    held = certificate()
    other = certificate(held.person, number="W-2")
    wrong = event(held, date(2025, 7, 1))
    with pytest.raises(ValidationError, match="same certificate"):
        event(other, date(2025, 7, 2), "correction", voids=wrong, reason="mistake")
    void = event(held, date(2025, 7, 2), "correction", voids=wrong, reason="mistake")
    with pytest.raises(ValidationError, match="cannot be voided"):
        event(held, date(2025, 7, 3), "correction", voids=void, reason="second thoughts")


def test_an_event_is_voided_once() -> None:
    held = certificate()
    wrong = event(held, date(2025, 7, 1))
    event(held, date(2025, 7, 2), "correction", voids=wrong, reason="mistake")
    with pytest.raises(IntegrityError):
        event(held, date(2025, 7, 3), "correction", voids=wrong, reason="again")


def test_every_version_of_a_person_and_a_certificate_is_kept() -> None:
    held = certificate()
    held.number = "W-1a"
    held.save()
    held.person.site = "Hall 2"
    held.person.save()
    assert [old.number for old in Certificate.history.filter(id=held.pk)] == ["W-1a", "W-1"]
    assert [old.site for old in Person.history.filter(id=held.person_id)] == ["Hall 2", ""]


def test_the_record_as_of_an_instant() -> None:
    held = certificate()
    before = held.history.latest().history_date
    held.option = "b"
    held.save()
    assert held.history.as_of(before).option == "a"
