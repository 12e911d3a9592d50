"""Whoever drops the refusals and changes what was approved is found out by the trail."""

import io
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.db import connection

from register.audit import record_act
from register.models import AuditEntry
from register.trail.verify import verify
from tests.conftest import dropped_triggers
from wps.issued import issue
from wps.models import IssuedSheet, Procedure, ProcedureRevision, Status
from wps.sheets import Choice
from wps.workflow import withdraw


def _behind(statement: str, *values: Any) -> str:
    """Change a row as somebody who may drop triggers; what the trail then says differs."""
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute(statement, values)
        assert cursor.rowcount > 0
    found = verify()
    assert not found.whole and not found.problem
    return found.differs


@pytest.fixture(autouse=True)
def whole(in_force: ProcedureRevision) -> None:
    assert verify().whole


REVISION = "UPDATE wps_procedurerevision SET"


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ("notes = 'x'", "notes"),
        ("\"window\" = '{}'", "window"),
        ("preparation = '{}'", "preparation"),
        ("approved_on = '2020-01-01'", "approved on"),
        ("status = 'withdrawn', ended_on = '2026-05-05', ended_reason = 'x'", "by the trail it is approved"),
        ("ended_on = '2026-05-05'", "ended on"),
        ("letter = 'B'", "letter"),
        ("approved_name = 'x'", "approved_name"),
        ("checked_on = '2020-01-01'", "checked_on"),
    ],
)
def test_a_changed_revision_is_named(in_force: ProcedureRevision, change: str, names: str) -> None:
    said = _behind(f"{REVISION} {change} WHERE id = %s", in_force.pk)
    assert str(in_force.procedure) in said and names in said
    with pytest.raises(CommandError, match="not what it says"):
        call_command("verify_audit", stdout=io.StringIO())


def test_a_procedure_under_another_number_is_named(in_force: ProcedureRevision) -> None:
    """No refusal of the database keeps the number; nothing in the register changes it."""
    Procedure.objects.filter(pk=in_force.procedure_id).update(number="WPS 999")
    assert "number changed since" in verify().differs


def test_changed_runs_and_records_are_named(in_force: ProcedureRevision) -> None:
    assert "runs" in _behind("UPDATE wps_procedurerun SET current_max_a = 999 WHERE revision_id = %s", in_force.pk)
    assert "runs" in _behind("DELETE FROM wps_procedurerun WHERE revision_id = %s", in_force.pk)


def test_a_revived_revision_is_named(in_force: ProcedureRevision, second_coordinator: User) -> None:
    withdraw(in_force, second_coordinator, date(2026, 6, 1), "cracks")
    assert verify().whole
    said = _behind(f"{REVISION} status = 'approved', ended_on = NULL WHERE id = %s", in_force.pk)
    assert "by the trail it is withdrawn" in said


def test_an_approval_without_an_act_is_named(in_force: ProcedureRevision, second_draft: Any) -> None:
    forged = second_draft()
    said = _behind(
        f"{REVISION} status = 'approved', approved_by_id = %s, approved_name = 'x', approved_on = '2026-01-05' "
        "WHERE id = %s",
        in_force.approved_by_id,
        forged.pk,
    )
    assert str(forged) in said and "no act in the trail approved it" in said


def test_a_deleted_revision_is_named(in_force: ProcedureRevision) -> None:
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute("DELETE FROM wps_procedurerun WHERE revision_id = %s", [in_force.pk])
        cursor.execute("DELETE FROM wps_procedurerevision_records WHERE procedurerevision_id = %s", [in_force.pk])
        cursor.execute("DELETE FROM wps_procedurerevision WHERE id = %s", [in_force.pk])
    assert "was approved, and is not on file as such" in verify().differs


def test_a_forged_sheet_is_named(in_force: ProcedureRevision) -> None:
    facts = {"kind": "cell", "paper": "a4", "units": "si", "state": Status.APPROVED, "check_code": "ABCDEFGHIJ"}
    IssuedSheet.objects.create(revision=in_force, sha256="0" * 64, sides=1, pdf=b"%PDF-1.7", **facts)
    assert "no act in the trail issued it" in verify().differs


def test_a_sheet_in_another_name_is_named(in_force: ProcedureRevision, coordinator: User) -> None:
    issue(in_force, Choice(), coordinator, "")
    assert verify().whole
    said = _behind("UPDATE wps_issuedsheet SET issued_by = 'x' WHERE revision_id = %s", in_force.pk)
    assert "no act in the trail issued it so" in said


def test_a_sheet_dated_back_is_named(in_force: ProcedureRevision, coordinator: User) -> None:
    issue(in_force, Choice(), coordinator, "")
    said = _behind("UPDATE wps_issuedsheet SET issued_at = '2020-01-01 00:00:00' WHERE revision_id = %s", in_force.pk)
    assert "another moment than it was issued" in said


def test_a_second_approval_put_at_the_end_of_the_chain_does_not_count(in_force: ProcedureRevision) -> None:
    """The chain takes an entry from whoever has the database; what was approved stays the first one's."""
    first = AuditEntry.objects.get(act="approved", subject_id=str(in_force.pk))
    forged = dict(first.after, content=first.after["content"] | {"notes": "x"})
    record_act(in_force.approved_by, "approved", in_force, before=first.before, after=forged)
    said = _behind(f"{REVISION} notes = 'x' WHERE id = %s", in_force.pk)
    assert f"entry {first.number + 1} does so again" in said
