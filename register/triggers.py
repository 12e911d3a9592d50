"""Rows that the database itself refuses to change, for SQLite and PostgreSQL.

Nothing in Python survives `queryset.update()` or a hand at the database prompt; a trigger does.
"""

from collections.abc import Sequence
from typing import Any

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations.base import Operation

SQLITE = """
CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW WHEN {when}
BEGIN SELECT RAISE(ABORT, '{message}'); END
"""
SQLITE_REPLACE = """
CREATE TRIGGER {name}_{verb} BEFORE {event} ON {table} FOR EACH ROW
WHEN EXISTS (SELECT 1 FROM {table} AS held WHERE ({keys}){other} AND ({when}))
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
POSTGRES_TRUNCATE = """
CREATE TRIGGER {name} BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {name}()
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
            # Taking a column back remakes the table, and its triggers are gone by then.
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {self.name}")
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


class RefuseTruncate(RefuseChange):
    """Migration step for PostgreSQL: the table is never emptied as a whole, which asks no trigger of rows.

    SQLite has no such statement. Example: RefuseTruncate("register_auditentry", "Audit entries are never deleted").
    """

    def __init__(self, table: str, message: str) -> None:
        super().__init__(table, "DELETE", message)

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        return type(self).__name__, [self.table, self.message], {}

    @property
    def name(self) -> str:
        return f"{self.table}_refuse_truncate"

    def statements(self, vendor: str) -> list[str]:
        """The SQL for one database; none for SQLite. Raises ValueError as RefuseChange."""
        if vendor != "postgresql":
            super().statements(vendor)
            return []
        parts = {"name": self.name, "table": self.table, "message": self.message.replace("'", "''")}
        return [template.format(**parts).strip() for template in (POSTGRES_FUNCTION, POSTGRES_TRUNCATE)]

    def describe(self) -> str:
        return f"Refuse to empty {self.table}"


class _Lifted:
    """Mixed in before a refusal, its two directions change places: it is lifted, and set again on the way back."""

    def database_forwards(self, *where: Any) -> None:
        super().database_backwards(*where)  # type: ignore[misc]

    def database_backwards(self, *where: Any) -> None:
        super().database_forwards(*where)  # type: ignore[misc]


class LiftRefusal(_Lifted, RefuseChange):
    """Migration step: the database no longer refuses. For a table that SQLite is about to remake, which would take
    the trigger with it on one database and leave it on the other; add it again with RefuseChange afterwards.
    """

    def describe(self) -> str:
        return f"Lift the refusal of {self.event} on {self.table}"


class RefuseReplace(RefuseChange):
    """Migration step for SQLite: no row takes the place of one that stays (INSERT OR REPLACE, UPDATE OR REPLACE).

    SQLite drops the old row then without asking the triggers of deletion. PostgreSQL has no such statement, and its
    ON CONFLICT asks those of UPDATE. `keys`: SQL over NEW and `held`, one for each key that must be unique; `when`:
    SQL over `held`, which rows stay. Example: RefuseReplace("register_firmreading", "A reading stays").
    """

    SAME_ROW = "held.id = NEW.id"

    def __init__(self, table: str, message: str, keys: Sequence[str] = (), when: str = "1 = 1") -> None:
        super().__init__(table, "INSERT", message, when)
        self.keys = tuple(keys)

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        return type(self).__name__, [self.table, self.message, self.keys, self.when], {}

    @property
    def name(self) -> str:
        """What the names of both triggers start with."""
        return f"{self.table}_refuse_replace"

    def database_backwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: Any, to_state: Any
    ) -> None:
        if schema_editor.connection.vendor == "sqlite":
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {self.name}_insert")
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {self.name}_update")

    def statements(self, vendor: str) -> list[str]:
        """The SQL for one database; none for PostgreSQL. Raises ValueError as RefuseChange."""
        if vendor != "sqlite":
            super().statements(vendor)
            return []
        parts = {"name": self.name, "table": self.table, "when": self.when}
        parts |= {"message": self.message.replace("'", "''"), "keys": " OR ".join((self.SAME_ROW, *self.keys))}
        verbs = (("insert", "INSERT", ""), ("update", "UPDATE", " AND held.id <> OLD.id"))
        return [
            SQLITE_REPLACE.format(verb=verb, event=event, other=other, **parts).strip() for verb, event, other in verbs
        ]

    def describe(self) -> str:
        return f"Refuse to replace rows of {self.table}"


class LiftReplace(_Lifted, RefuseReplace):
    """Migration step for SQLite: rows may be replaced again. For a table that is about to be remade, as LiftRefusal."""

    def describe(self) -> str:
        return f"Lift the refusal to replace rows of {self.table}"


def same(*columns: str) -> str:
    """SQL that is true where a new row has the key of one that is held. Example: same("a", "b") compares both."""
    return "(" + " AND ".join(f"held.{column} = NEW.{column}" for column in columns) + ")"
