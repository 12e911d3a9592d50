"""The usual sheet is printed in the background after an approval, which stands whatever becomes of it."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.db import OperationalError
from django.urls import reverse

from codes.units import System
from register.background.kinds import Kind
from register.background.models import State, Work
from register.background.run import run_here
from tests.conftest import SIGNED
from wps import issued, workflow
from wps.models import IssuedSheet, ProcedureRevision, Status
from wps.sheet_ahead import usual, usual_sheet
from wps.sheets import Choice


@pytest.fixture
def approve(draft: ProcedureRevision, second_coordinator: Any, client_of: Callable[[str], Any]) -> Callable[[], int]:
    """Approve the draft on its page; the status of the answer."""
    workflow.check_revision(draft, second_coordinator, date(2026, 3, 1))
    url = reverse("wps:revision_approve", args=[draft.pk])
    return lambda: client_of("second_coordinator").post(url, SIGNED).status_code


def test_an_approval_queues_its_sheet_and_does_not_wait_for_it(
    approve: Callable[[], int], draft: ProcedureRevision, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert approve() == 302
    work = Work.objects.get()
    assert (work.state, work.function) == (State.WAITING, usual_sheet.path)
    assert work.arguments["address"].startswith("http://testserver/") and not IssuedSheet.objects.exists()
    run_here(work)
    assert work.state == State.DONE
    draft.refresh_from_db()
    kept = issued.find(draft, usual(System.SI))
    assert kept is not None and (kept.kind, kept.paper, kept.units) == ("cell", "a4", "si")
    monkeypatch.setattr(issued, "sheet", lambda *_: pytest.fail("it was printed again"))
    again = usual_sheet.start(work.asked_by, "again", small=True, **work.arguments)
    assert again.state == State.DONE and IssuedSheet.objects.count() == 1


@pytest.mark.parametrize("away", [OperationalError("locked")])
def test_an_approval_stands_where_nothing_can_be_queued(
    approve: Callable[[], int], draft: ProcedureRevision, monkeypatch: pytest.MonkeyPatch, away: Exception
) -> None:
    def start(*_: Any, **__: Any) -> None:
        raise away

    monkeypatch.setattr(Kind, "start", start)
    assert approve() == 302
    draft.refresh_from_db()
    assert draft.status == Status.APPROVED and not Work.objects.exists()


def test_one_that_ended_meanwhile_is_not_printed(in_force: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.withdraw(in_force, second_coordinator, date(2026, 6, 1), "cracks")
    work = usual_sheet.start(second_coordinator, "x", small=True, revision_id=in_force.pk, address="", units="si")
    assert work.state == State.FAILED and "no longer in force" in work.message and not IssuedSheet.objects.exists()


def test_a_reader_in_us_units_has_it_on_letter() -> None:
    assert (usual(System.US), usual(System.SI)) == (Choice("cell", "letter", "us"), Choice("cell", "a4", "si"))
