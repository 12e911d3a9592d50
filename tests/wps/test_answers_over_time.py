"""A record that an approved procedure rests on: changing it takes a reason, and the answer after it is shown."""

from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from codes.verdict import Outcome
from register.models import AuditEntry
from tests.wps.iso import PIECE, iso_draft, iso_record
from wps import workflow
from wps.answers_over_time import record_changes
from wps.models import ProcedureRevision, TestRecord

DAY = date(2026, 3, 2)
REASON = "thickness misread from the form"


@pytest.fixture
def approved(coordinator: Any, second_coordinator: Any) -> ProcedureRevision:
    draft = iso_draft(coordinator, [iso_record()])
    workflow.check_revision(draft, second_coordinator, DAY)
    return workflow.approve(draft, second_coordinator, DAY)


def _sent(record: TestRecord, **changes: Any) -> dict[str, Any]:
    sent = {
        "number": record.number, "route": record.route, "level": "2", "welded_on": "2024-05-06", "piece_count": "1",
        "run_count": "0", "seen_version": record.changed_at.isoformat(),
    }  # fmt: skip
    for name, value in PIECE.items():
        sent[f"piece0_{name}"] = "; ".join(value) if isinstance(value, list) and name != "steels" else value
    for name in ("run_type", "position", "current_type", "transfer_mode"):
        sent[f"piece0_{name}"] = PIECE[name]
    del sent["piece0_steels"]
    for at, side in enumerate("ab"):
        sent |= {f"piece0_steels_0{side}_{fact}": text for fact, text in PIECE["steels"][at].items()}
    return sent | changes


def test_changing_it_takes_a_reason(approved: ProcedureRevision, client_of: Any) -> None:
    record = approved.records.get()
    url, client = reverse("wps:record_edit", args=[record.pk]), client_of("second_coordinator")
    assert "Why it is changed" in client.get(url).content.decode()
    refused = client.post(url, _sent(record, piece0_parent_t="10"))
    assert refused.status_code == 422
    assert ">Why it is changed</a>: Missing; enter it." in refused.content.decode()
    assert client.post(url, _sent(record, piece0_parent_t="10", reason=REASON)).status_code == 302
    act = AuditEntry.objects.get(act="changed")
    assert (act.user_name, act.note, act.subject) == ("second_coordinator", REASON, "WPQR 012")


def test_the_answer_after_it_is_shown_on_the_procedures_page(approved: ProcedureRevision, client_of: Any) -> None:
    record = approved.records.get()
    client = client_of("second_coordinator")
    url = reverse("wps:record_edit", args=[record.pk])
    assert client.post(url, _sent(record, piece0_parent_t="10", reason=REASON)).status_code == 302
    (found,) = record_changes(approved)
    assert (found.record, found.who, found.why) == ("WPQR 012", "second_coordinator", REASON)
    assert found.outcome is Outcome.OUTSIDE
    assert "above 20 to 24 mm" in found.sentence
    page = " ".join(client_of("auditor").get(approved.get_absolute_url()).content.decode().split())
    assert f"second_coordinator changed WPQR 012 ({REASON})." in page


def test_each_change_has_its_own_answer(approved: ProcedureRevision, client_of: Any) -> None:
    client = client_of("second_coordinator")
    for thickness, why in (("10", "first"), ("12", "second")):
        record = approved.records.get()
        url = reverse("wps:record_edit", args=[record.pk])
        client.post(url, _sent(record, piece0_parent_t=thickness, reason=why))
    assert [(one.why, one.outcome) for one in record_changes(approved)] == [
        ("second", Outcome.COVERED),
        ("first", Outcome.OUTSIDE),
    ]


def test_a_record_behind_drafts_only_takes_no_reason(coordinator: Any, client_of: Any) -> None:
    record = iso_record()
    draft = iso_draft(coordinator, [record])
    page = client_of("coordinator").get(reverse("wps:record_edit", args=[record.pk])).content.decode()
    assert "Why it is changed" not in page
    assert record_changes(draft) == ()


def test_changes_before_the_approval_are_not_told(coordinator: Any, second_coordinator: Any) -> None:
    record = iso_record()
    record.notes = "typed again"
    record.save()
    draft = iso_draft(coordinator, [record])
    workflow.check_revision(draft, second_coordinator, date(2199, 1, 1))
    assert record_changes(workflow.approve(draft, second_coordinator, date(2199, 1, 1))) == ()


def test_queries_do_not_grow_with_changes(approved: ProcedureRevision) -> None:
    def count() -> int:
        with CaptureQueriesContext(connection) as queries:
            record_changes(ProcedureRevision.objects.prefetch_related("records", "runs").get(pk=approved.pk))
        return len(queries)

    few = count()
    record = approved.records.get()
    for at in range(4):
        record.notes = f"note {at}"
        record.save()
    assert count() == few <= 5


def _concerned(record: TestRecord, client_of: Any) -> str:
    page = client_of("coordinator").get(reverse("wps:record_edit", args=[record.pk])).content.decode()
    return " ".join(page.split())


def test_what_is_in_force_is_named_apart_from_what_has_ended(approved: ProcedureRevision, client_of: Any) -> None:
    record = approved.records.get()
    name = str(approved)
    said = _concerned(record, client_of)
    assert f"In force and resting on this record: {name}. Saving judges each anew." in said
    workflow.withdraw(approved, approved.approved_by, date(2199, 1, 1), "not used")
    said = _concerned(record, client_of)
    assert f"No longer in force: {name}. Saving judges each anew." in said
    assert "In force and resting" not in said and "pproved procedure" not in said
    assert "Why it is changed" in said


def test_a_draft_is_named_as_not_approved(coordinator: Any, client_of: Any) -> None:
    record = iso_record()
    draft = iso_draft(coordinator, [record])
    said = _concerned(record, client_of)
    assert f"Not approved yet: {draft}. Saving judges each anew." in said
    assert "In force" not in said
