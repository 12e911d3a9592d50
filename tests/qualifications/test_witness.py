"""A signed event that was changed, removed or put in past the register is found by the trail."""

from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.utils.translation import get_language, override

from qualifications import events, witness
from qualifications.events import Signature
from qualifications.models import Certificate, CertificateEvent, Person
from register.audit import record_act
from register.trail.verify import verify
from tests.conftest import dropped_triggers

ON = date(2026, 6, 1)


@pytest.fixture
def event(coordinator: User) -> CertificateEvent:
    holder = Person.objects.create(name="Edda Borg", identification="B1")
    held = Certificate.objects.create(person=holder, code="X", kind="welder", number="1", welded_on=date(2026, 1, 5))
    signed = Signature(ON, "Edda Borg", coordinator, evidence=" joint 7 ", details={"said_knowingly": "é"})
    (made,) = events.confirm(held, signed, ON)
    events.correct(made, Signature(ON, "Edda Borg", coordinator), "mixed up")
    assert verify().whole
    return made


@pytest.mark.parametrize(
    "change",
    [
        "\"on\" = '2026-05-01'", "by_name = 'x'", "evidence = 'x'", "kind = 'prolongation'", "details = '{}'",
        "by_role = 'x'", "by_user_id = NULL", "recorded_at = '2026-01-01 00:00:00'",
    ],
)  # fmt: skip
def test_a_changed_event_is_named(event: CertificateEvent, change: str) -> None:
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute(f"UPDATE qualifications_certificateevent SET {change} WHERE id = %s", [event.pk])
    assert str(event.certificate) in verify().differs


def test_a_correction_taken_away_is_named(event: CertificateEvent) -> None:
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute("DELETE FROM qualifications_certificateevent WHERE voids_id = %s", [event.pk])
    assert "correction" in verify().differs


def test_a_confirmation_slipped_in_is_named(event: CertificateEvent) -> None:
    facts: dict[str, Any] = {"kind": "confirmation", "on": ON, "by_name": "x", "evidence": "x"}
    CertificateEvent.objects.bulk_create([CertificateEvent(certificate=event.certificate, **facts)])
    assert "no act in the trail says so" in verify().differs


def test_two_events_that_change_places_are_named(event: CertificateEvent, coordinator: User) -> None:
    """A correction names by key what it voids: with the keys changed it would void the other."""
    (other,) = events.confirm(event.certificate, Signature(ON, "Odo Falk", coordinator, evidence="joint 8"), ON)
    assert verify().whole
    with dropped_triggers(connection), connection.cursor() as cursor:
        for old, new in ((event.pk, 0), (other.pk, event.pk), (0, other.pk)):
            cursor.execute("UPDATE qualifications_certificateevent SET id = %s WHERE id = %s", [new, old])
    assert "stands where another was signed" in verify().differs


def test_a_certificate_given_to_somebody_else_is_named(event: CertificateEvent) -> None:
    """Its events are signed for one person; no refusal of the database keeps the certificate where it was."""
    other = Person.objects.create(name="Odo Falk", identification="B2")
    Certificate.objects.filter(pk=event.certificate_id).update(person=other)
    assert "signed for as that of another person" in verify().differs


def test_an_act_from_before_it_was_noted_how_one_signed_still_fits(event: CertificateEvent) -> None:
    facts: dict[str, Any] = {"kind": "confirmation", "on": ON, "by_name": "x", "evidence": "x", "by_role": "QA"}
    (old,) = CertificateEvent.objects.bulk_create([CertificateEvent(certificate=event.certificate, **facts)])
    act, after = f"{witness.RECORDED}confirmation", witness.said(old)
    record_act(None, act, event.certificate, after=after)
    assert verify().whole
    record_act(None, act, event.certificate, after=after)
    assert "stands in the trail" in verify().differs


def test_what_was_recorded_is_said_in_the_registers_own_language(
    event: CertificateEvent, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(CertificateEvent, "get_kind_display", lambda _: get_language())
    with override("de"):
        assert witness.note(event, None).act == "recorded en-gb"
