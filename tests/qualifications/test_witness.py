"""A signed event that was changed, removed or put in past the register is found by the trail."""

from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection

from qualifications import events
from qualifications.events import Signature
from qualifications.models import Certificate, CertificateEvent, Person
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
    "change", ["\"on\" = '2026-05-01'", "by_name = 'x'", "evidence = 'x'", "kind = 'prolongation'", "details = '{}'"]
)
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
