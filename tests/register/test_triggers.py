"""The refusing triggers: all that migrations ask for are there, on the database that is under test."""

import re

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.writer import MigrationWriter, OperationWriter

from register.models import AuditEntry
from register.triggers import RefuseChange, RefuseReplace, RefuseTruncate, same


def refusals() -> list[RefuseChange]:
    loader = MigrationLoader(None)
    return [
        operation
        for migration in loader.disk_migrations.values()
        for operation in migration.operations
        if isinstance(operation, RefuseChange)
    ]


def asked_for() -> set[str]:
    return {
        re.match(r"CREATE TRIGGER (\w+)", statement)[1]
        for refusal in refusals()
        for statement in refusal.statements(connection.vendor)
        if statement.startswith("CREATE TRIGGER")
    }


def test_what_is_never_deleted_is_never_replaced_either() -> None:
    """SQLite's INSERT OR REPLACE asks no trigger of deletion."""
    kept = {refusal.table for refusal in refusals() if refusal.event == "DELETE"}
    assert kept - {refusal.table for refusal in refusals() if isinstance(refusal, RefuseReplace)} == {
        "register_audithead"  # it is written anew with every entry
    }


def test_what_is_never_deleted_is_never_emptied_either() -> None:
    """PostgreSQL's TRUNCATE asks no trigger of rows."""
    kept = {refusal.table for refusal in refusals() if refusal.event == "DELETE"}
    assert kept == {refusal.table for refusal in refusals() if isinstance(refusal, RefuseTruncate)}


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite has no TRUNCATE")
def test_no_kept_table_is_emptied(db: None) -> None:
    for table in sorted({refusal.table for refusal in refusals() if isinstance(refusal, RefuseTruncate)}):
        refused = pytest.raises(IntegrityError, match=r"never|stay|kept")
        with refused, transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(f"TRUNCATE {table} CASCADE")


@pytest.mark.skipif(connection.vendor != "sqlite", reason="PostgreSQL has no INSERT OR REPLACE")
@pytest.mark.parametrize("column", ["id", "number"])
def test_an_audit_entry_is_not_replaced(db: None, column: str) -> None:
    first, second = (AuditEntry.objects.create(act=act) for act in ("one", "two"))
    fields = [field.column for field in AuditEntry._meta.concrete_fields]
    said = [f'"{name}"' if name in ("id", "number") else "'0'" for name in fields]
    said[fields.index({"id": "number", "number": "id"}[column])] = "999"
    names = ", ".join(f'"{name}"' for name in fields)
    selected = f"SELECT {', '.join(said)} FROM register_auditentry WHERE id = {first.pk}"
    for statement in (
        f"INSERT OR REPLACE INTO register_auditentry ({names}) {selected}",
        f'UPDATE OR REPLACE register_auditentry SET "{column}" = {getattr(second, column)} WHERE id = {first.pk}',
    ):
        with pytest.raises(IntegrityError, match="never"), transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(statement)
    assert AuditEntry.objects.filter(pk__in=(first.pk, second.pk)).count() == 2


def test_replacing_is_refused_on_sqlite_alone() -> None:
    step = RefuseReplace("t", "It's kept", [same("a", "b")], "held.state = 1")
    insert, update = step.statements("sqlite")
    assert "BEFORE INSERT ON t" in insert and "held.id = NEW.id OR (held.a = NEW.a AND held.b = NEW.b)" in insert
    assert "held.id <> OLD.id AND (held.state = 1)" in update and "It''s kept" in update
    assert step.statements("postgresql") == []
    text, _ = OperationWriter(step).serialize()
    assert "RefuseReplace" in text


def test_every_trigger_that_a_migration_makes_is_still_there(db: None) -> None:
    """SQLite drops them in silence when a later migration remakes the table; then they must be made anew."""
    question = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal",
    }[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(question)
        there = {name for (name,) in cursor.fetchall()}
    assert asked_for() <= there
    assert "register_auditentry_refuse_update" in there


def test_statements_for_both_databases() -> None:
    step = RefuseChange("t", "UPDATE", "It's frozen", "OLD.state = 'approved'", "approved")
    (sqlite,) = step.statements("sqlite")
    function, trigger = step.statements("postgresql")
    assert "t_refuse_update_approved" in sqlite
    assert "RAISE(ABORT, 'It''s frozen')" in sqlite
    assert "RAISE EXCEPTION 'It''s frozen'" in function
    assert "WHEN (OLD.state = 'approved')" in trigger


def test_other_databases_and_events_are_refused() -> None:
    with pytest.raises(ValueError, match="not on mysql"):
        RefuseChange("t", "UPDATE", "no").statements("mysql")
    with pytest.raises(ValueError, match="TRUNCATE"):
        RefuseChange("t", "TRUNCATE", "no")


def test_it_can_be_written_into_a_migration() -> None:
    text, _ = OperationWriter(RefuseChange("t", "DELETE", "no")).serialize()
    assert "RefuseChange" in text
    assert MigrationWriter.serialize("DELETE")[0] in text


def test_it_can_be_undone(transactional_db: None) -> None:
    step = RefuseChange("auth_group", "DELETE", "Groups stay", "OLD.name = 'x'", "for_a_test")
    with connection.schema_editor() as editor:
        step.database_forwards("register", editor, None, None)
        step.database_backwards("register", editor, None, None)
        step.database_forwards("register", editor, None, None)
        step.database_backwards("register", editor, None, None)
