"""Rows that the database itself refuses to change, for SQLite and PostgreSQL.

Nothing in Python survives `queryset.update()` or a hand at the database prompt; a trigger does.
"""

from typing import Any

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations.base import Operation

SQLITE = """
CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW WHEN {when}
BEGIN SELECT RAISE(ABORT, '{message}'); END
"""
POSTGRES_FUNCTION = """
CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $body$
BEGIN RAISE EXCEPTION '{message}' USING ERRCODE = 'integrity_constraint_violation'; END
$body$ LANGUAGE plpgsql
"""
POSTGRES_TRIGGER = """
CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW WHEN ({when}) EXECUTE FUNCTION {name}()
"""


class RefuseChange(Operation):
    """Migration step: from now on the database refuses `event` on rows of `table` where `when` holds.

    event is "UPDATE", "DELETE" or "INSERT"; when is SQL over OLD and NEW that both databases read alike. Both
    report the refusal as django.db.IntegrityError with `message` in it.
    Example: RefuseChange("register_auditentry", "DELETE", "Audit entries are never deleted").
    """

    reversible = True
    reduces_to_sql = True

    def __init__(self, table: str, event: str, message: str, when: str = "1 = 1", suffix: str = "") -> None:
        self.table, self.event, self.message, self.when, self.suffix = table, event, message, when, suffix
        if event not in {"UPDATE", "DELETE", "INSERT"}:
            raise ValueError(f"event is UPDATE, DELETE or INSERT, not {event!r}")

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        return type(self).__name__, [self.table, self.event, self.message, self.when, self.suffix], {}

    @property
    def name(self) -> str:
        """Name of the trigger: one for each table and event, more with a suffix."""
        return "_".join(filter(None, (self.table, "refuse", self.event.lower(), self.suffix)))

    def state_forwards(self, app_label: str, state: Any) -> None:
        """Models stay as they are."""

    def database_forwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        for statement in self.statements(schema_editor.connection.vendor):
            schema_editor.execute(statement, params=None)

    def database_backwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        if schema_editor.connection.vendor == "sqlite":
            schema_editor.execute(f"DROP TRIGGER {self.name}")
        else:
            schema_editor.execute(f"DROP TRIGGER {self.name} ON {self.table}")
            schema_editor.execute(f"DROP FUNCTION {self.name}()")

    def statements(self, vendor: str) -> list[str]:
        """The SQL for one database. Raises ValueError for a database that the register does not serve."""
        templates = {"sqlite": [SQLITE], "postgresql": [POSTGRES_FUNCTION, POSTGRES_TRIGGER]}
        if vendor not in templates:
            raise ValueError(f"The register runs on SQLite and PostgreSQL, not on {vendor}.")
        parts = {
            "name": self.name,
            "event": self.event,
            "table": self.table,
            "when": self.when,
            "message": self.message.replace("'", "''"),
        }
        return [template.format(**parts).strip() for template in templates[vendor]]

    def describe(self) -> str:
        return f"Refuse {self.event} on {self.table}"


class LiftRefusal(RefuseChange):
    """Migration step: the database no longer refuses. For a table that SQLite is about to remake, which would take
    the trigger with it on one database and leave it on the other; add it again with RefuseChange afterwards.
    """

    def database_forwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        super().database_backwards(app_label, schema_editor, from_state, to_state)

    def database_backwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        super().database_forwards(app_label, schema_editor, from_state, to_state)

    def describe(self) -> str:
        return f"Lift the refusal of {self.event} on {self.table}"
