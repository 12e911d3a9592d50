"""Offers kept between questions: used again only for the very versions they were made from."""

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.wps.factory import approved
from wps import offers, reading, workflow
from wps.models import ProcedureRevision, TestRecord
from wps.offers import procedure_offers

DAY = date(2026, 3, 2)


@pytest.fixture
def kept(monkeypatch: pytest.MonkeyPatch, in_force: ProcedureRevision) -> ProcedureRevision:
    """As between requests: a test runs inside a transaction, in which nothing would be kept."""
    monkeypatch.setattr(reading, "_known", {})
    monkeypatch.setattr(reading, "connection", SimpleNamespace(in_atomic_block=False))
    return in_force


def plainly(on: date) -> tuple[Any, ...]:
    return tuple(offers.offer(revision, on) for revision in offers.fetched(offers.in_force(on)))


def test_the_same_versions_are_not_worked_out_again(kept: ProcedureRevision) -> None:
    (first,) = procedure_offers(DAY)
    with CaptureQueriesContext(connection) as queries:
        (second,) = procedure_offers(DAY)
    assert second is first and len(queries) == 2
    assert (first,) == plainly(DAY)


def test_other_readings_are_another_question(kept: ProcedureRevision) -> None:
    (first,) = procedure_offers(DAY)
    assert procedure_offers(DAY, {"some": "reading"})[0] is not first


def test_a_changed_record_is_read_again(kept: ProcedureRevision, record: TestRecord) -> None:
    assert procedure_offers(DAY)[0].records[0].sets
    record.withdrawn_on = DAY
    record.save()
    assert procedure_offers(DAY)[0].records[0].sets == ()
    assert procedure_offers(DAY) == plainly(DAY)


def test_a_record_counts_from_its_day_whatever_was_asked_first(kept: ProcedureRevision, record: TestRecord) -> None:
    record.withdrawn_on = DAY + timedelta(days=1)
    record.save()
    asked = [bool(procedure_offers(day)[0].sets) for day in (DAY, DAY + timedelta(days=1), DAY)]
    assert asked == [True, False, True]


def test_a_renamed_procedure_is_read_again(kept: ProcedureRevision) -> None:
    before = procedure_offers(DAY)[0].label
    kept.procedure.number = "WPS 900"
    kept.procedure.save()
    (after,) = procedure_offers(DAY)
    assert after.label != before and after.label.startswith("WPS 900")


def test_a_new_revision_takes_the_place_of_the_old(
    kept: ProcedureRevision, coordinator: Any, second_coordinator: Any
) -> None:
    later = date(2026, 4, 1)
    procedure_offers(later)
    approved(workflow.start_revision(kept.procedure, coordinator), second_coordinator, later)
    assert [one.label for one in procedure_offers(later)] == ["WPS 001 rev B"]
    assert [one.label for one in procedure_offers(DAY)] == ["WPS 001 rev A"]


def test_nothing_is_kept_inside_a_transaction(in_force: ProcedureRevision, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "_known", {})
    procedure_offers(DAY)
    assert reading._known == {}


def test_the_store_stays_bounded(kept: ProcedureRevision, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "FULL", 0)
    procedure_offers(DAY)
    procedure_offers(DAY, {"some": "reading"})
    assert len(reading._known) == 1
