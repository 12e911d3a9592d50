"""A disk that is full, a database that is away or busy: refused with a page that says so, and nothing half done."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import InterfaceError, OperationalError, connection
from django.test import Client
from django.urls import reverse

from joints.imports.batch import take_in
from joints.models import Assembly, ImportBatch, Joint
from register.background.models import State, Work
from register.base.errors import why_not_now
from register.models import AuditEntry
from register.trail.verify import verify
from tests.joints.files import csv_of, row
from tests.joints.makers import make_job


@pytest.fixture
def patient(coordinator: User) -> Client:
    """A browser that shows the page of a fault instead of raising it."""
    client = Client(raise_request_exception=False)
    client.force_login(coordinator)
    return client


def pages(more: int) -> None:
    """Let the database of SQLite grow by so many pages and no further, as a full disk would."""
    with connection.cursor() as cursor:
        cursor.execute("VACUUM")  # pages that are free would be room too
        cursor.execute("PRAGMA page_count")
        now = cursor.fetchone()[0]
        cursor.execute(f"PRAGMA max_page_count = {now + more}")


@pytest.fixture
def no_limit() -> Iterator[None]:
    yield
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA max_page_count = 4294967294")


@pytest.mark.parametrize("room", [0, 2, 8, 30])
@pytest.mark.django_db(transaction=True)
def test_a_list_that_does_not_fit_on_the_disk(room: int, patient: Client, coordinator: User, no_limit: None) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("the limit is SQLite's; make faults fills a disk")
    data = csv_of(*(row(n, assembly=f"B{n}") for n in range(400)))
    batch = take_in(make_job(), "long.csv", data, {}, coordinator)
    entries = AuditEntry.objects.count()
    pages(room)
    answer = patient.post(reverse("joints:import_confirm", args=[batch.pk]))
    assert answer.status_code == 503 and "disk of the register is full" in answer.content.decode()
    assert answer.headers["Retry-After"] == "30"
    assert 'rel="icon"' in answer.content.decode() and 'class="sign"' in answer.content.decode()
    batch.refresh_from_db()
    assert batch.status != ImportBatch.CONFIRMED
    assert not Joint.objects.exists() and not Assembly.objects.exists()
    assert AuditEntry.objects.count() == entries and verify().whole
    pages(100_000)
    assert patient.post(reverse("joints:import_confirm", args=[batch.pk])).status_code == 302
    assert Joint.objects.count() == 400 and verify().whole
    assert not Work.objects.exclude(state=State.DONE).exists()


@pytest.mark.parametrize("fault", [OperationalError("server 10.0.0.7 closed the connection"), InterfaceError("closed")])
def test_a_database_that_is_away(fault: Exception, patient: Client, monkeypatch: Any) -> None:
    def away(*_: Any, **__: Any) -> Any:
        raise fault

    monkeypatch.setattr("joints.views.jobs.JobList.get_queryset", away)
    answer = patient.get(reverse("joints:job_list"))
    assert answer.status_code == 503
    text = answer.content.decode()
    assert "does not answer at the moment" in text and "10.0.0.7" not in text


def test_another_fault_is_a_fault(patient: Client, monkeypatch: Any) -> None:
    monkeypatch.setattr("joints.views.jobs.JobList.get_queryset", lambda self: 1 / 0)
    assert patient.get(reverse("joints:job_list")).status_code == 500


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("database or disk is full", "disk of the register is full"),
        ('could not extend file "base/5/1": No space left on device', "disk of the register is full"),
        ("database is locked", "somebody else is saving"),
        ("canceling statement due to lock timeout", "somebody else is saving"),
        ("connection refused", "does not answer"),
    ],
)
def test_why_not_now(said: str, words: str) -> None:
    assert words in why_not_now(OperationalError(said)).lower()
