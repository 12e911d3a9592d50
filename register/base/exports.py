"""Lists taken away as CSV or XLSX. No cell can run as a formula in the program that opens it.

Heads and values are in the register's own language, whoever takes the file: it is laid beside others, read by
programs and sent in again, and half a file in another language would be neither.
"""

import csv
import io
import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.conf import settings
from django.http import HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.utils.translation import override

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
BEHIND_A_SEPARATOR = re.compile("(?<=[;\t\r\n])(?=[=+@＝＋－＠-])")
"""Inside a text: a spreadsheet that parts CSV by semicolons takes it for the start of a cell, quoted or not."""
XLSX_ROWS = 20_000
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def safe_cell(value: Any) -> Any:
    """A value that a spreadsheet shows as it is: text that could start a formula gets an apostrophe in front.

    Numbers stay numbers. Example: "=1+1" gives "'=1+1", Decimal("-5") stays.
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float | Decimal | date):
        return value
    text = str(value)
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text


def plain_rows(rows: Iterable[Iterable[Any]]) -> Iterator[list[Any]]:
    """The rows as they go into a file, each made in the register's own language while it is asked for."""
    each = iter(rows)
    while True:
        with override(settings.LANGUAGE_CODE):
            row = next(each, None)
            found = None if row is None else [safe_cell(value) for value in row]
        if found is None:
            return
        yield found


def csv_response(rows: Iterable[Iterable[Any]], name: str) -> HttpResponseBase:
    """Rows as a CSV file, sent while they are read. UTF-8 with a byte-order mark, so that spreadsheets read umlauts."""
    response = StreamingHttpResponse(_csv_lines(rows), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return response


def xlsx_response(rows: Iterable[Iterable[Any]], name: str) -> HttpResponseBase:
    """Rows as an XLSX file. Raises ValueError beyond XLSX_ROWS rows: such a list is for CSV."""
    import xlsxwriter  # takes long to load, and few requests need it

    file = io.BytesIO()
    options = {"constant_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "remove_timezone": True}
    with xlsxwriter.Workbook(file, options) as book:
        sheet = book.add_worksheet("List")
        day, bold = book.add_format({"num_format": "yyyy-mm-dd"}), book.add_format({"bold": True})
        for at, row in enumerate(plain_rows(rows)):
            if at > XLSX_ROWS:
                raise ValueError(
                    f"more than {XLSX_ROWS:,} rows do not go into a spreadsheet here: narrow the list down, or take CSV"
                )
            _write(sheet, at, row, day, bold if at == 0 else None)
    response = HttpResponse(file.getvalue(), content_type=XLSX)
    response["Content-Disposition"] = f'attachment; filename="{name}.xlsx"'
    return response


class _Echo:
    """A file that hands every line straight back."""

    def write(self, line: str) -> str:
        return line


def _csv_lines(rows: Iterable[Iterable[Any]]) -> Iterator[str]:
    yield "\ufeff"
    writer = csv.writer(_Echo())
    for row in plain_rows(rows):
        yield writer.writerow([BEHIND_A_SEPARATOR.sub("'", cell) if isinstance(cell, str) else cell for cell in row])


def _write(sheet: Any, at: int, row: Iterable[Any], day: Any, head: Any) -> None:
    for column, safe in enumerate(row):
        if isinstance(safe, datetime | date):
            sheet.write_datetime(at, column, safe, day)
        elif isinstance(safe, str):
            sheet.write_string(at, column, safe, head)
        else:
            sheet.write_number(at, column, safe, head)
