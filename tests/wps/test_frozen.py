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
