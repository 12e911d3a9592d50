"""An approved revision, its runs and its records stay as they are: in the model and in the database itself."""

from datetime import date
from importlib import import_module
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction

from tests.wps.factory import RUN, make_record
from wps.models import ProcedureRevision, ProcedureRun
from wps.models.procedure import ENDING

LINKS = ProcedureRevision.records.through


def _refused(act: Any) -> None:
    with pytest.raises(IntegrityError, match=r"approved|ended"), transaction.atomic():
        act()


CHANGES = [
    {"letter": "X"}, {"code": "other"}, {"road": "prequalified"}, {"serves_tack": True}, {"serves_final": False},
    {"window": {}}, {"process_windows": {"135": {}}}, {"preparation": {}}, {"workstation_note": "x"}, {"cautions": "x"},
    {"notes": "x"}, {"editors": []}, {"author_name": "x"}, {"checked_name": "x"}, {"checked_on": date(2020, 1, 1)},
    {"approved_name": "x"}, {"approved_on": date(2020, 1, 1)}, {"status": "draft"}, {"status": "checked"},
]  # fmt: skip


@pytest.mark.parametrize("change", CHANGES, ids=str)
def test_the_database_refuses_a_change(in_force: ProcedureRevision, change: dict[str, Any]) -> None:
    _refused(lambda: ProcedureRevision.objects.filter(pk=in_force.pk).update(**change))


@pytest.mark.parametrize("change", CHANGES, ids=str)
def test_the_model_refuses_a_change(in_force: ProcedureRevision, change: dict[str, Any]) -> None:
    for name, value in change.items():
        setattr(in_force, name, value)
    with pytest.raises(ValidationError):
        in_force.save()


def test_every_column_is_frozen_but_those_of_the_end() -> None:
    kept = set(import_module("wps.migrations.0005_road").KEPT)
    free = {field.column for field in ProcedureRevision._meta.concrete_fields if field.name in ENDING}
    assert kept | free == {field.column for field in ProcedureRevision._meta.concrete_fields}
    assert not kept & free


def test_raw_sql_is_refused(in_force: ProcedureRevision) -> None:
    def change() -> None:
        with connection.cursor() as cursor:
            cursor.execute("UPDATE wps_procedurerevision SET notes = 'x' WHERE id = %s", [in_force.pk])

    def remove() -> None:
        with connection.cursor() as cursor:
            cursor.execute("DELETE FROM wps_procedurerun WHERE revision_id = %s", [in_force.pk])

    _refused(change)
    _refused(remove)


def test_the_database_refuses_deletion(in_force: ProcedureRevision) -> None:
    _refused(lambda: ProcedureRevision.objects.filter(pk=in_force.pk)._raw_delete("default"))
    with pytest.raises(ValidationError):
        in_force.delete()


def test_the_database_refuses_runs(in_force: ProcedureRevision) -> None:
    runs = ProcedureRun.objects.filter(revision=in_force)
    _refused(lambda: runs.update(current_max_a=400))
    _refused(lambda: runs._raw_delete("default"))
    _refused(lambda: ProcedureRun.objects.bulk_create([ProcedureRun(revision=in_force, **RUN | {"order": 2})]))
    with pytest.raises(ValidationError):
        runs.get().save()
    with pytest.raises(ValidationError):
        runs.get().delete()


def test_a_run_does_not_move_into_a_frozen_revision(in_force: ProcedureRevision, second_draft: Any) -> None:
    other = second_draft()
    _refused(lambda: ProcedureRun.objects.filter(revision=other).update(revision=in_force, order=7))


def test_the_database_refuses_links_to_records(in_force: ProcedureRevision) -> None:
    other = make_record("WPQR 002")
    links = LINKS.objects.filter(procedurerevision=in_force)
    _refused(lambda: links.update(testrecord=other))
    _refused(lambda: links._raw_delete("default"))
    _refused(lambda: LINKS.objects.bulk_create([LINKS(procedurerevision=in_force, testrecord=other)]))
    for act in (
        lambda: in_force.records.add(other),
        lambda: in_force.records.clear(),
        lambda: other.supports.add(in_force),
    ):
        with pytest.raises(ValidationError), transaction.atomic():
            act()


def test_the_end_is_allowed_once(in_force: ProcedureRevision, second_coordinator: Any) -> None:
    rows = ProcedureRevision.objects.filter(pk=in_force.pk)
    end = {"status": "withdrawn", "ended_on": date(2026, 4, 1), "ended_reason": "x", "ended_by": second_coordinator}
    assert rows.update(**end) == 1
    _refused(lambda: rows.update(ended_reason="y"))
    _refused(lambda: rows.update(status="approved"))


def test_the_database_approves_nothing_unchecked(draft: ProcedureRevision, second_coordinator: Any) -> None:
    approval = {"status": "approved", "approved_on": date(2026, 3, 2), "approved_by": second_coordinator}
    _refused(lambda: ProcedureRevision.objects.filter(pk=draft.pk).update(**approval, approved_name="x"))


def test_a_draft_may_change_and_go(draft: ProcedureRevision) -> None:
    assert ProcedureRevision.objects.filter(pk=draft.pk).update(notes="x") == 1
    draft.delete()
    assert not ProcedureRun.objects.exists()


def _replaced(statement: str, *values: Any) -> None:
    refused = pytest.raises(IntegrityError, match=r"approved|draft|never")
    with refused, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement, values)


def _copied(table: str, where: str, **changes: str) -> str:
    """SQL that writes a changed copy of a row over whatever has its keys."""
    with connection.cursor() as cursor:
        names = [column.name for column in connection.introspection.get_table_description(cursor, table)]
    said = ", ".join(changes.get(name, f'"{name}"') for name in names)
    columns = ", ".join(f'"{name}"' for name in names)
    return f"INSERT OR REPLACE INTO {table} ({columns}) SELECT {said} FROM {table} WHERE {where}"


@pytest.mark.skipif(connection.vendor != "sqlite", reason="PostgreSQL has no INSERT OR REPLACE")
def test_nothing_takes_the_place_of_an_approved_revision(in_force: ProcedureRevision) -> None:
    """SQLite asks no trigger of deletion for the row that such a statement drops."""
    one, run = f"id = {in_force.pk}", f"revision_id = {in_force.pk}"
    _replaced(_copied("wps_procedurerevision", one, notes="'x'"))
    _replaced(_copied("wps_procedurerevision", one, id="9999", notes="'x'"))
    _replaced(_copied("wps_procedurerevision", one, id="9999", letter="'ZZ'"))
    _replaced(_copied("wps_procedurerevision", one, status="'draft'"))
    _replaced(_copied("wps_procedurerun", run, note="'x'"))
    draft = ProcedureRevision.objects.create(procedure=in_force.procedure, letter="B", author=in_force.author)
    _replaced(_copied("wps_procedurerun", run, revision_id=str(draft.pk)))
    _replaced(_copied("wps_procedurerevision_records", f"procedurerevision_{one}", procedurerevision_id=str(draft.pk)))
    _replaced(f"UPDATE OR REPLACE wps_procedurerevision SET id = {in_force.pk} WHERE id = {draft.pk}")
    ProcedureRevision.objects.filter(pk=draft.pk).update(status="checked")
    approve = "UPDATE OR REPLACE wps_procedurerevision SET status = 'approved', approved_by_id = %s, "
    _replaced(
        approve + "approved_name = 'x', approved_on = '2026-01-05' WHERE id = %s", in_force.approved_by_id, draft.pk
    )
    assert ProcedureRevision.objects.get(pk=in_force.pk).notes == in_force.notes


@pytest.mark.parametrize("status", ["checked", "approved", "superseded", "withdrawn"])
def test_no_revision_is_entered_ready_made(in_force: ProcedureRevision, status: str) -> None:
    made = ProcedureRevision.objects.filter(pk=in_force.pk).values().get() | {"id": None, "letter": "B"}
    made |= {"status": status, "ended_on": date(2030, 1, 1), "ended_reason": "x"}
    with pytest.raises(IntegrityError, match="begins as a draft"), transaction.atomic():
        ProcedureRevision.objects.bulk_create([ProcedureRevision(**made)])


@pytest.mark.parametrize(
    "change", [{"ended_on": date(2030, 1, 1)}, {"ended_reason": "x"}, {"ended_name": "x"}], ids=str
)
def test_one_that_stays_approved_has_no_end(in_force: ProcedureRevision, change: dict[str, Any]) -> None:
    """With a day of its end it would cover nothing from then on, and no act would say so."""
    _refused(lambda: ProcedureRevision.objects.filter(pk=in_force.pk).update(**change))
