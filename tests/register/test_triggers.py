"""The refusing triggers: all that migrations ask for are there, on the database that is under test."""

import pytest
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.writer import MigrationWriter, OperationWriter

from register.triggers import RefuseChange


def asked_for() -> set[str]:
    loader = MigrationLoader(None)
    return {
        operation.name
        for migration in loader.disk_migrations.values()
        for operation in migration.operations
        if isinstance(operation, RefuseChange)
    }


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
