"""Migration steps that freeze approved revisions, their runs and their links to records in the database itself."""

from typing import Any

from register.triggers import RefuseChange

REVISION = "wps_procedurerevision"
FROZEN_SQL = "('approved', 'superseded', 'withdrawn')"

FUNCTION = """
CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $body$
BEGIN
  IF {when} THEN RAISE EXCEPTION '{message}' USING ERRCODE = 'integrity_constraint_violation'; END IF;
  RETURN {row};
END
$body$ LANGUAGE plpgsql
"""
TRIGGER = "CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()"


class RefuseChangeOfPart(RefuseChange):
    """As RefuseChange, for rows that belong to a revision: refused while that revision is frozen.

    PostgreSQL takes no sub-query in the WHEN of a trigger, so there the question is asked inside the function.
    Example: RefuseChangeOfPart("wps_procedurerun", "DELETE", "The runs of an approved revision stay").
    """

    def __init__(self, table: str, event: str, message: str, link: str = "procedurerevision_id") -> None:
        self.link = link
        rows = {"INSERT": ("NEW",), "DELETE": ("OLD",), "UPDATE": ("OLD", "NEW")}[event]
        ids = ", ".join(f"{row}.{link}" for row in rows)
        when = f"EXISTS (SELECT 1 FROM {REVISION} WHERE id IN ({ids}) AND status IN {FROZEN_SQL})"
        super().__init__(table, event, message, when)

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        return type(self).__name__, [self.table, self.event, self.message, self.link], {}

    def statements(self, vendor: str) -> list[str]:
        if vendor != "postgresql":
            return super().statements(vendor)
        parts = {
            "name": self.name,
            "event": self.event,
            "table": self.table,
            "when": self.when,
            "message": self.message.replace("'", "''"),
            "row": "OLD" if self.event == "DELETE" else "NEW",
        }
        return [FUNCTION.format(**parts).strip(), TRIGGER.format(**parts).strip()]


class LiftRefusalOfPart(RefuseChangeOfPart):
    """The database no longer refuses; as register.triggers.LiftRefusal."""

    def database_forwards(self, app_label: str, schema_editor: Any, from_state: Any, to_state: Any) -> None:
        super().database_backwards(app_label, schema_editor, from_state, to_state)

    def database_backwards(self, app_label: str, schema_editor: Any, from_state: Any, to_state: Any) -> None:
        super().database_forwards(app_label, schema_editor, from_state, to_state)


def changed(*columns: str) -> str:
    """SQL that is true where one of the columns changes; empty to filled counts.

    Example: changed("letter") is "OLD.letter IS DISTINCT FROM NEW.letter".
    """
    return " OR ".join(f"OLD.{column} IS DISTINCT FROM NEW.{column}" for column in columns)
