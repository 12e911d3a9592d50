"""What was read from a file, before anybody asks what it means; and the refusal of a whole file."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from django.utils.translation import gettext

from register.base.unseen import UNSEEN

MAX_BYTES = 10 * 1024 * 1024
MAX_ROWS = 100_000
MAX_COLUMNS = 200
MAX_CELL = 500
"""Characters in one cell."""

Cell = str | Decimal
"""A blank cell is an empty text; dates come as YYYY-MM-DD."""


class Refusal(ValueError):
    """The whole file is refused; the message says why and what to do. Nothing was saved."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells with the row numbers a spreadsheet shows; the first one holds the headings.

    `refused`: (row, column index) -> why this cell cannot be taken. `comma_decimal`: figures may be written 12,5 and
    thousands with a dot.
    """

    rows: tuple[tuple[int, tuple[Cell, ...]], ...]
    notes: tuple[str, ...] = ()
    refused: Mapping[tuple[int, int], str] = field(default_factory=dict)
    comma_decimal: bool = False


def checked(rows: Iterable[tuple[int, tuple[Cell, ...]]]) -> tuple[tuple[int, tuple[Cell, ...]], ...]:
    """The rows that hold anything, without signs that nobody sees. Raises Refusal where none do, or too many.

    Rows beyond the most are counted and not kept: a small file may hold millions of them.
    """
    filled: list[tuple[int, tuple[Cell, ...]]] = []
    count = 0
    for number, row in rows:
        seen = tuple(map(_seen, row))
        if not any(cell != "" for cell in seen):
            continue
        check_width(len(seen))
        count += 1
        if count <= MAX_ROWS + 1:
            filled.append((number, seen))
    if count < 2:
        raise Refusal(gettext("The file holds no welds: a row with headings and at least one row below it are needed."))
    if count - 1 > MAX_ROWS:
        raise Refusal(
            gettext(
                "The file holds %(filled)s rows and at most %(max_rows)s are read at once. Split it, for "
                "example by assembly, and send the parts one after the other."
            )
            % {"filled": f"{count - 1:,}", "max_rows": f"{MAX_ROWS:,}"}
        )
    return tuple(filled)


def check_width(cells: int) -> None:
    """Raises Refusal for a row of more cells than are read."""
    if cells > MAX_COLUMNS:
        raise Refusal(
            gettext(
                "The file holds %(widest)s columns and at most %(max_columns)s are read. Keep those that "
                "speak of welds."
            )
            % {"widest": f"{cells:,}", "max_columns": MAX_COLUMNS}
        )


def _seen(cell: Cell) -> Cell:
    """Asked first whether all of it can be printed, which is quick: a list has millions of cells."""
    return cell if isinstance(cell, Decimal) or cell.isprintable() else UNSEEN.sub("", cell).strip()
