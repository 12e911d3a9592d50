"""The first versions of many new joints in one statement: what an import puts on file, row for row."""

from typing import Any

from django.db import connection
from django.utils import timezone

from joints.models import ImportBatch, Joint


def keep_first_versions(batch: ImportBatch, reason: str, by: Any) -> None:
    """Write the history of all joints that a batch put on file, copied by the database from the rows themselves."""
    versions = Joint.history.model._meta  # type: ignore[attr-defined]
    own = {field.attname: field.column for field in Joint._meta.concrete_fields}
    said = {
        "history_date": timezone.now(),
        "history_type": "+",
        "history_change_reason": reason,
        "history_user_id": by.pk,
        "history_user_name": by.get_username(),
    }
    fields = [field for field in versions.concrete_fields if not field.primary_key]
    quote = connection.ops.quote_name
    columns = ", ".join(quote(field.column) for field in fields)
    values = ", ".join(quote(own[f.attname]) if f.attname in own else "%s" for f in fields)
    params = [f.get_db_prep_save(said[f.attname], connection) for f in fields if f.attname not in own]
    table, source = quote(versions.db_table), quote(own["source_id"])
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO {table} ({columns}) SELECT {values} FROM {quote(Joint._meta.db_table)} WHERE {source} = %s",
            [*params, batch.pk],
        )
