"""A table in short, as the reader of workbooks hands it over and as it is kept beside what was sent."""

import json
import zlib
from decimal import Decimal, InvalidOperation
from typing import Any

from joints.imports.table import Cell, Table

FORM = 1
"""Raise it where what is kept would be read otherwise: what was kept before is then read anew from what was sent."""


MOST = 96 * 1024 * 1024
"""Bytes of a table in short; 100,000 welds in forty columns of figures are a third of it."""


class NotKept(ValueError):
    """What was kept is of another form, or damaged."""


def plain_form(table: Table) -> bytes:
    """A table as JSON, column by column: each cell that differs once, then which one stands in which row."""
    columns = []
    for column in zip(*(row for _, row in table.rows), strict=True):
        places: dict[Cell, int] = {}
        at = [places.setdefault(cell, len(places)) for cell in column]
        cells = [[str(cell)] if isinstance(cell, Decimal) else cell for cell in places]
        columns.append([cells, at if len(cells) > 1 else []])
    said = {
        "form": FORM,
        "rows": [number for number, _ in table.rows],
        "columns": columns,
        "notes": table.notes,
        "refused": [[*place, why] for place, why in table.refused.items()],
    }
    return json.dumps(said, separators=(",", ":")).encode()


def table_from(said: bytes) -> Table:
    """The table of a plain form. Raises NotKept."""
    try:
        found = json.loads(said)
        if found["form"] != FORM:
            raise NotKept(f"form {found['form']!r}")
        numbers = [int(number) for number in found["rows"]]
        columns = [_column(cells, at, len(numbers)) for cells, at in found["columns"]]
        rows = tuple(zip(numbers, zip(*columns, strict=True), strict=True))
        refused = {(int(row), int(column)): str(why) for row, column, why in found["refused"]}
        return Table(rows, tuple(map(str, found["notes"])), refused)
    except (ValueError, LookupError, TypeError, InvalidOperation) as bad:
        raise NotKept(str(bad)) from None


def packed(said: bytes) -> bytes:
    """A plain form as it is kept."""
    return zlib.compress(said, 1)


def unpacked(kept: bytes) -> Table:
    """The table of what was kept. Raises NotKept."""
    opened = zlib.decompressobj()
    try:
        said = opened.decompress(kept, MOST)
    except zlib.error as bad:
        raise NotKept(str(bad)) from None
    return table_from(said)


def _column(cells: list[Any], at: list[int], rows: int) -> list[Cell]:
    made = [_cell(cell) for cell in cells]
    if len(made) == 1:
        return made * rows
    return [made[place] for place in at]


def _cell(cell: Any) -> Cell:
    if isinstance(cell, str):
        return cell
    value = Decimal(cell[0])
    if not value.is_finite():
        raise NotKept("no number")
    return value
