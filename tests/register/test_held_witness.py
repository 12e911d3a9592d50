"""A reading, a check of a clause or a steel grade changed past the register is found by the trail."""

from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection

from register.audit import record_act
from register.held.firm import check_clause, set_reading
from register.held.grades import state_grade, withdraw_grade
from register.held.models import ClauseCheck, FirmGrade, FirmReading
from register.held.tables import held_clauses
from register.models import AuditEntry
from register.trail.verify import verify
from tests.conftest import dropped_triggers

KEY = "iso_9606_1_mode_136"
BACK = "at = '2020-01-01 00:00:00'"


@pytest.fixture(autouse=True)
def stated(coordinator: User) -> None:
    set_reading(coordinator, KEY, "strict", "the client asked for it")
    check_clause(coordinator, held_clauses()[0].key, True, "our own copy")
    check_clause(coordinator, held_clauses()[0].key, False)
    given = {"name": "Plate X700", "standard": "mill 7", "group": "3.1", "source": "data sheet 12", "note": ""}
    state_grade(coordinator, "crane rails", "up to 50 mm: 700 MPa", **given)
    withdraw_grade(coordinator, "Plate X700", "the mill closed")
    assert verify().whole


def _behind(statement: str) -> str:
    """What is named first after a change by somebody who may drop triggers."""
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute(statement)
        assert cursor.rowcount > 0
    return verify().differs


@pytest.mark.parametrize(
    ("table", "change"),
    [
        *(("firmreading", f"{name} = 'x'") for name in ("switch", "option", "why", "by_name")),
        *(("clausecheck", f"{name} = 'x'") for name in ("clause", "note", "by_name")),
        ("clausecheck", "agrees = NOT agrees"),
        *(("firmgrade", f"{name} = '9'") for name in ("name", "standard", "bands", "source", "note", "why", "by_name")),
        ("firmgrade", "\"group\" = '9'"),
        ("firmgrade", "withdrawn = NOT withdrawn"),
        *((table, BACK) for table in ("firmreading", "clausecheck", "firmgrade")),
    ],
)
def test_a_changed_statement_is_named(table: str, change: str) -> None:
    assert "entry" in _behind(f"UPDATE register_{table} SET {change}")


@pytest.mark.parametrize("table", ["firmreading", "clausecheck", "firmgrade"])
def test_a_statement_taken_away_is_named(table: str) -> None:
    assert "is gone" in _behind(f"DELETE FROM register_{table}")


def test_a_statement_slipped_in_is_named(coordinator: User) -> None:
    FirmReading.objects.create(by_name="coordinator", switch=KEY, option="named", why="x")
    assert "no act in the trail stated it" in verify().differs


def test_a_second_act_on_a_statement_does_not_count(coordinator: User) -> None:
    reading = FirmReading.objects.get()
    record_act(coordinator, "set the reading", reading, after={"option": "named"}, note="x")
    assert "does so again" in verify().differs


@pytest.mark.parametrize(("late", "whole"), [(timedelta(seconds=59), True), (timedelta(seconds=61), False)])
def test_an_act_from_before_it_noted_the_moment_fits_what_was_written_with_it(
    coordinator: User, late: timedelta, whole: bool
) -> None:
    reading: Any = FirmReading.objects.create(by_name="coordinator", switch=KEY, option="named", why="old")
    act = AuditEntry(
        user_name="coordinator", act="set the reading", subject_type="register.firmreading", note="old",
        subject_id=str(reading.pk), subject=str(reading), after={"option": "named"}, at=reading.at + late,
    )  # fmt: skip
    act.save()
    assert verify().whole is whole
    assert {ClauseCheck.objects.count(), FirmGrade.objects.count()} == {2}
