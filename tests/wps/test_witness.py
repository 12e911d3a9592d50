"""Whoever drops the refusals and changes what was approved is found out by the trail."""

import io
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.db import connection

from register.trail.verify import verify
from tests.conftest import dropped_triggers
from wps.models import IssuedSheet, ProcedureRevision, Status
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
    ],
)
def test_a_changed_revision_is_named(in_force: ProcedureRevision, change: str, names: str) -> None:
    said = _behind(f"{REVISION} {change} WHERE id = %s", in_force.pk)
    assert str(in_force) in said and names in said
    with pytest.raises(CommandError, match="not what it says"):
        call_command("verify_audit", stdout=io.StringIO())


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
