"""Many rows of one table written without an instance of the model for each.

What a row states goes to the database as the model's own fields would send it; a value that came before is made ready
once. Triggers and constraints see every row. It says nothing to signals and writes no versions: see `versions`. Who may
write is asked by whoever calls (register.plants.rows.refuse_outside), once for all rows.
"""

from collections.abc import Hashable, Iterable, Iterator, Sequence
from functools import partial
from itertools import islice
from typing import Any

from django.db import connection, models

AT_ONCE = 2000
"""Rows handed to the database in one call."""
MAX_KNOWN = 100_000


class _Ready(dict[Any, Any]):
    """Value of a field -> what the database takes for it."""

    def __init__(self, field: models.Field) -> None:
        self.field = field

    def __missing__(self, value: Hashable) -> Any:
        if len(self) > MAX_KNOWN:
            self.clear()
        found = self[value] = self.field.get_db_prep_save(value, connection)
        return found


class Many:
    """Rows of `names`, in that order; on a new row every other column gets its default."""

    def __init__(self, model: type[models.Model], names: Sequence[str]) -> None:
        self.model = model
        self.fields: list[Any] = [model._meta.get_field(name) for name in names]
        self._ready = [
            partial(field.get_db_prep_save, connection=connection)
            if isinstance(field, models.JSONField)
            else _Ready(field).__getitem__
            for field in self.fields
        ]

    def insert(self, rows: Iterable[Sequence[Any]]) -> None:
        """Put new rows on file."""
        given = {field.attname for field in self.fields}
        rest = [f for f in self.model._meta.concrete_fields if not f.primary_key and f.attname not in given]
        more = [field.get_db_prep_save(field.get_default(), connection) for field in rest]
        columns = [self._quoted(field.column) for field in (*self.fields, *rest)]
        marks = ", ".join(["%s"] * len(columns))
        table = self._quoted(self.model._meta.db_table)
        self._execute(
            f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({marks})", ([*self._of(row), *more] for row in rows)
        )

    def update(self, rows: Iterable[Sequence[Any]], by: str = "pk") -> None:
        """Change rows on file; each row ends with the value of the field `by` that it is known by."""
        key: Any = self.model._meta.pk if by == "pk" else self.model._meta.get_field(by)
        said = ", ".join(f"{self._quoted(field.column)} = %s" for field in self.fields)
        table = self._quoted(self.model._meta.db_table)
        self._execute(
            f"UPDATE {table} SET {said} WHERE {self._quoted(key.column)} = %s",
            ([*self._of(row), row[-1]] for row in rows),
        )

    def _of(self, row: Sequence[Any]) -> list[Any]:
        return [ready(value) for ready, value in zip(self._ready, row, strict=False)]

    @staticmethod
    def _quoted(name: str) -> str:
        return connection.ops.quote_name(name)

    @staticmethod
    def _execute(statement: str, rows: Iterator[list[Any]]) -> None:
        with connection.cursor() as cursor:
            while part := list(islice(rows, AT_ONCE)):
                cursor.executemany(statement, part)
