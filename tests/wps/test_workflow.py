"""Every step in the life of a revision: who may take it, when it is refused, what it leaves behind."""

from datetime import date
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied, ValidationError
from django.db import IntegrityError

from register.models import AuditEntry
from tests.wps.factory import approved, make_record
from wps import workflow
from wps.models import ProcedureRevision, Status, TestRecord
from wps.workflow import Refused

DAY = date(2026, 3, 2)


def test_the_whole_life(draft: ProcedureRevision, coordinator: Any, second_coordinator: Any) -> None:
    first = approved(draft, second_coordinator, DAY)
    assert (first.status, first.approved_on, first.approved_name) == ("approved", DAY, "Second Coordinator")
    following = workflow.start_revision(first.procedure, coordinator)
    assert (following.letter, following.window) == ("B", first.window)
    assert [r.number for r in following.records.all()] == ["WPQR 001"]
    assert [run.layer for run in following.runs.all()] == ["single run"]
    second = approved(following, second_coordinator, date(2026, 4, 1))
    first.refresh_from_db()
    assert (first.status, first.ended_on) == ("superseded", date(2026, 4, 1))
    assert first.ended_reason == "superseded by revision B"
    ended = workflow.withdraw(second, second_coordinator, date(2026, 5, 1), "the cell was rebuilt")
    assert (ended.status, ended.ended_reason, ended.ended_name) == (
        "withdrawn",
        "the cell was rebuilt",
        "Second Coordinator",
    )
    acts = list(AuditEntry.objects.order_by("pk").values_list("act", flat=True))
    assert acts == ["started", "checked", "approved", "started", "checked", "superseded", "approved", "withdrew"]


def test_the_author_neither_checks_nor_approves(
    draft: ProcedureRevision, coordinator: Any, second_coordinator: Any
) -> None:
    with pytest.raises(Refused, match="checked by somebody else"):
        workflow.check_revision(draft, coordinator, DAY)
    checked = workflow.check_revision(draft, second_coordinator, DAY)
    with pytest.raises(Refused, match="other than its author"):
        workflow.approve(checked, coordinator, DAY)


def test_whoever_wrote_in_a_draft_does_not_approve_it(draft: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.note_editor(draft, second_coordinator)
    draft.save()
    with pytest.raises(Refused, match="You wrote in"):
        workflow.check_revision(draft, second_coordinator, DAY)


def test_the_database_refuses_an_author_as_approver(draft: ProcedureRevision, coordinator: Any) -> None:
    with pytest.raises(IntegrityError):
        ProcedureRevision.objects.filter(pk=draft.pk).update(approved_by=coordinator)


@pytest.mark.parametrize("role", ["qa", "supervisor", "auditor", "no_role"])
def test_other_roles_are_refused_every_act(draft: ProcedureRevision, people: dict[str, Any], role: str) -> None:
    by = people[role]
    acts = [
        lambda: workflow.start_procedure("WPS 009", "x", "y", by),
        lambda: workflow.start_revision(draft.procedure, by),
        lambda: workflow.check_revision(draft, by, DAY),
        lambda: workflow.approve(draft, by, DAY),
        lambda: workflow.withdraw(draft, by, DAY, "because"),
    ]
    for act in acts:
        with pytest.raises(PermissionDenied):
            act()
    draft.refresh_from_db()
    assert draft.status == "draft"


def test_a_draft_is_not_approved_unchecked(draft: ProcedureRevision, second_coordinator: Any) -> None:
    with pytest.raises(Refused, match="only a checked revision"):
        workflow.approve(draft, second_coordinator, DAY)


def test_an_incomplete_draft_is_not_checked(draft: ProcedureRevision, second_coordinator: Any) -> None:
    del draft.window["preheat"]
    draft.save()
    with pytest.raises(Refused, match=r"Preheat \(ISO 15609-1:2019, 4.4.11\)"):
        workflow.check_revision(draft, second_coordinator, DAY)


@pytest.mark.parametrize(("thickest", "passes"), [("24", True), ("24.1", False)])
def test_an_uncovered_revision_is_not_approved(
    draft: ProcedureRevision, second_coordinator: Any, thickest: str, passes: bool
) -> None:
    draft.window["parent_t"] = {"min": "6", "max": thickest}
    draft.save()
    checked = workflow.check_revision(draft, second_coordinator, DAY)
    if passes:
        assert workflow.approve(checked, second_coordinator, DAY).status == Status.APPROVED
        return
    with pytest.raises(Refused, match=r"above 24 to 24.1 mm: no record covers it; WPQR 001 misses by 0.1 mm"):
        workflow.approve(checked, second_coordinator, DAY)
    checked.refresh_from_db()
    assert checked.status == Status.CHECKED


def test_coverage_is_asked_anew_at_approval(
    draft: ProcedureRevision, record: TestRecord, second_coordinator: Any
) -> None:
    checked = workflow.check_revision(draft, second_coordinator, DAY)
    record.withdrawn_on = DAY
    record.save()
    with pytest.raises(Refused, match="not covered by its records"):
        workflow.approve(checked, second_coordinator, DAY)


def test_writing_in_a_checked_revision_makes_it_a_draft_again(
    draft: ProcedureRevision, coordinator: Any, second_coordinator: Any
) -> None:
    checked = workflow.check_revision(draft, second_coordinator, DAY)
    workflow.note_editor(checked, coordinator)
    checked.save()
    checked.refresh_from_db()
    assert (checked.status, checked.checked_by, checked.checked_name) == ("draft", None, "")


def test_an_approved_revision_is_not_written_in(in_force: ProcedureRevision, coordinator: Any) -> None:
    with pytest.raises(Refused, match="start a new revision"):
        workflow.note_editor(in_force, coordinator)


def test_one_open_revision_at_a_time(in_force: ProcedureRevision, coordinator: Any) -> None:
    workflow.start_revision(in_force.procedure, coordinator)
    with pytest.raises(Refused, match="rev B is still draft"):
        workflow.start_revision(in_force.procedure, coordinator)


@pytest.mark.parametrize("reason", ["", "  "])
def test_withdrawing_takes_a_reason(in_force: ProcedureRevision, second_coordinator: Any, reason: str) -> None:
    with pytest.raises(Refused, match="Say why"):
        workflow.withdraw(in_force, second_coordinator, DAY, reason)


def test_a_draft_is_withdrawn_and_the_next_letter_follows(draft: ProcedureRevision, coordinator: Any) -> None:
    workflow.withdraw(draft, coordinator, DAY, "entered twice")
    assert workflow.start_revision(draft.procedure, coordinator).letter == "B"


def test_what_has_ended_does_not_end_again(in_force: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.withdraw(in_force, second_coordinator, DAY, "first")
    with pytest.raises(Refused, match="already withdrawn"):
        workflow.withdraw(in_force, second_coordinator, DAY, "second")


def test_it_does_not_end_before_it_began(in_force: ProcedureRevision, second_coordinator: Any) -> None:
    with pytest.raises(Refused, match="cannot end before"):
        workflow.withdraw(in_force, second_coordinator, date(2026, 3, 1), "too early")


def test_it_does_not_follow_a_later_approval(
    in_force: ProcedureRevision, coordinator: Any, second_coordinator: Any
) -> None:
    following = workflow.start_revision(in_force.procedure, coordinator)
    workflow.check_revision(following, second_coordinator, DAY)
    with pytest.raises(Refused, match="was approved on 2026-03-02, after 2026-03-01"):
        workflow.approve(following, second_coordinator, date(2026, 3, 1))


def test_the_log_keeps_what_was_approved(in_force: ProcedureRevision) -> None:
    entry = AuditEntry.objects.get(act="approved")
    assert entry.after["content"]["window"] == in_force.window
    assert entry.after["content"]["records"] == ["WPQR 001"]
    assert entry.after["content"]["runs"][0]["current_min_a"] == "220.0"


def test_a_record_that_supports_an_approved_revision_stays(in_force: ProcedureRevision, record: TestRecord) -> None:
    with pytest.raises(ValidationError, match="stays on file"):
        record.delete()
    make_record("WPQR 099").delete()
