"""Rows against their last version, asked of the database itself: which are not as it says, or are gone."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.db import connection, models
from simple_history.models import HistoricalChanges

SILENT = ("created_at", "changed_at")
DELETED = "-"


def versioned(every: Iterable[Any]) -> Iterator[tuple[Any, Any]]:
    """Each table whose versions are kept, with that of the versions; also as a migration knows them."""
    models_by_label = {model._meta.label_lower: model for model in every}
    for label, model in sorted(models_by_label.items()):
        if issubclass(model, HistoricalChanges):
            app, _, name = label.partition(".")
            yield models_by_label[f"{app}.{name.removeprefix('historical')}"], model


def compared(rows: type[models.Model]) -> list[str]:
    """The columns that say what a row is."""
    return [field.column for field in rows._meta.concrete_fields if field.column not in SILENT]


def unlike_rows(rows: Any, versions: Any) -> list[int]:
    """The keys of rows that are not as their last version has them, or have none, or came back after a deletion."""
    quote = connection.ops.quote_name
    own = quote(rows._meta.pk.column)
    differs = " OR ".join(f"r.{quote(name)} {_is_not()} v.{quote(name)}" for name in compared(rows))
    return _keys(
        f"SELECT r.{own} FROM {quote(rows._meta.db_table)} r LEFT JOIN {quote(versions._meta.db_table)} v "
        f"ON v.history_id = (SELECT MAX(history_id) FROM {quote(versions._meta.db_table)} WHERE {own} = r.{own}) "
        f"WHERE v.history_id IS NULL OR v.history_type = '{DELETED}' OR {differs} ORDER BY r.{own}"
    )


def gone(rows: Any, versions: Any) -> list[int]:
    """The keys of the last versions of rows that are not on file, though no version says that they were deleted."""
    quote = connection.ops.quote_name
    own, table = quote(rows._meta.pk.column), quote(versions._meta.db_table)
    return _keys(
        f"SELECT v.history_id FROM {table} v LEFT JOIN {quote(rows._meta.db_table)} r ON r.{own} = v.{own} "
        f"WHERE r.{own} IS NULL AND v.history_type <> '{DELETED}' "
        f"AND NOT EXISTS (SELECT 1 FROM {table} n WHERE n.{own} = v.{own} AND n.history_id > v.history_id) "
        "ORDER BY v.history_id"
    )


def _is_not() -> str:
    """SQLite says it so in every version that is about; PostgreSQL does not know it."""
    return "IS NOT" if connection.vendor == "sqlite" else "IS DISTINCT FROM"


def _keys(statement: str) -> list[int]:
    with connection.cursor() as cursor:
        cursor.execute(statement)
        return [key for (key,) in cursor.fetchall()]
