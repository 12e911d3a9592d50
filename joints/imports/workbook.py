"""XLSX: the first sheet as cells. Formulas are refused where they stand; a file that would burst the memory whole."""

import io
import re
import zipfile
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext

from joints.imports.table import MAX_CELL, MAX_COLUMNS, MAX_ROWS, Cell, Refusal, Table, checked
from register.lists.zipped import BROKEN

MAX_UNPACKED = 160 * 1024 * 1024
MAX_RATIO = 200
"""How many times larger than packed a part may be; sheets of text pack 10 to 30 times."""
MAX_PARTS = 2000
SPARSE_FROM, MAX_BLANKS = 4_000_000, 30
"""A sheet of more cells than the first holds at most so many blank ones to each that is written."""

NAME = rb"<(?:[^\s<>/:!?]+:)?"
"""The start of a tag in any namespace. No value of an attribute holds a "<", so no search runs past the next one."""
CELL = re.compile(NAME + rb'(?:c|row)\b[^<>]*?\sr="([A-Za-z]*)(\d+)"')
ODD = re.compile(
    NAME + rb"(?:c|row)(?=[\s/>])"
    rb'(?!(?:\s+(?!r=)[^\s<>="\'/]+="[^"<>&]*"|\s+r="[A-Za-z]{0,3}\d{1,7}")*+\s*+/?>)'
)
"""A cell or row spelled as no program does: it might name a place that CELL does not see, and fill the memory."""
FORMULA = re.compile(
    NAME + rb'c(?:\s+(?!r=)[^\s<>=]+="[^"<>]*")*+\s+r="([A-Za-z]+)(\d+)"[^<>]*+>\s*' + NAME + rb"f[\s>/]"
)
BARE = re.compile(NAME + rb'(?:c|row)(?=[\s/>])(?![^<>]*\sr=")')
"""A cell or row that names no place of its own: it stands after the one before."""
ROW, ANY_CELL = re.compile(NAME + rb"row(?=[\s/>])"), re.compile(NAME + rb"c(?=[\s/>])")
SHEET = re.compile(NAME + rb'sheet\b[^<>]*?\br:id="([^"<>]+)"')
TARGET = re.compile(NAME + rb"Relationship\b[^<>]*+>")
SHARED = re.compile(NAME + rb"si(?=[\s/>])")
VALUE = re.compile(NAME + rb"v(?:\s[^<>]*)?>([^<>]*)<")
HIDING = re.compile(rb"<!|" + NAME + rb"si\s*/>")
"""Comments and empty texts, which shift the number of a text, or hide it."""
MAX_TEXT = 400 * 1024 * 1024
"""Bytes of text in all cells. A text that stands once in the file may stand in every cell, which no size shows."""
PIECE = 1024 * 1024
"""Bytes of a sheet whose cells are counted at once."""
FORMULA_REFUSED = "the cell holds a formula; put its result in its place (copy, paste values)"


def read_xlsx(data: bytes) -> Table:
    """The cells of the first sheet. Raises Refusal."""
    book = _opened(data)
    name, sheet = _sheet_xml(book)
    _bounded(sheet)
    # To look for the sign of a formula first is ten times faster, and few lists hold one.
    formulas = FORMULA.findall(sheet) if b"<f" in sheet or b":f" in sheet else ()
    refused = {(int(row), column_index(letters.decode())): FORMULA_REFUSED for letters, row in formulas}
    rows, notes = _cells(_as_looked_at(book, name))
    return Table(checked(rows), notes, refused)


def column_index(letters: str) -> int:
    """The index of a column from its letters. Example: "A" is 0, "AB" is 27."""
    index = 0
    for letter in letters.upper():
        index = index * 26 + ord(letter) - 64
    return index - 1


def _opened(data: bytes) -> zipfile.ZipFile:
    """The workbook, once it is clear that unpacking it does no harm."""
    try:
        book = zipfile.ZipFile(io.BytesIO(data))
    except BROKEN:
        raise Refusal(
            gettext("The workbook is damaged and cannot be opened. Save it again as XLSX and send that.")
        ) from None
    parts = book.infolist()
    unpacked = sum(part.file_size for part in parts)
    packed = sum(part.compress_size for part in parts) or 1
    if len(parts) > MAX_PARTS or unpacked > MAX_UNPACKED or unpacked > packed * MAX_RATIO:
        raise Refusal(
            gettext(
                "The workbook unpacks to %(unpacked)s MB, far more than a list of welds needs. Copy the rows "
                "into a new workbook and send that."
            )
            % {"unpacked": f"{unpacked / 1024**2:,.0f}"}
        )
    if any(part.flag_bits & 1 for part in parts):
        raise Refusal(gettext("The workbook is protected by a password. Save it without one."))
    return book


def _sheet_xml(book: zipfile.ZipFile) -> tuple[str, bytes]:
    """The name of the part that is the first sheet, and the sheet as it is stored."""
    try:
        first = SHEET.search(book.read("xl/workbook.xml"))
        relations = book.read("xl/_rels/workbook.xml.rels")
        target = _target(relations, first.group(1)) if first else ""
        name = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
        return name, book.read(name)
    except (KeyError, *BROKEN):
        raise Refusal(
            gettext("The file is no XLSX workbook with a sheet in it. Save the list as XLSX or as CSV.")
        ) from None


def _target(relations: bytes, wanted: bytes) -> str:
    for relation in TARGET.findall(relations):
        if re.search(rb'\bId="' + re.escape(wanted) + rb'"', relation) and (
            found := re.search(rb'\bTarget="([^"]+)"', relation)
        ):
            return found.group(1).decode("utf-8", "replace")
    return ""


def _as_looked_at(book: zipfile.ZipFile, name: str) -> bytes:
    """The workbook anew, with no bytes but those that were counted and no sheet but the one looked at.

    Another reader takes other sizes from the same file, and may find another sheet to be the first. Raises Refusal.
    """
    out = io.BytesIO()
    try:
        with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as made:
            for part in {info.filename: info for info in book.infolist()}.values():
                if part.filename != name and not part.filename.endswith((".xml", ".rels")):
                    continue
                data = book.read(part)
                if SHARED.search(data):
                    _bounded_text(data, book.read(name))
                if part.filename == name or b"sheetData" not in data:
                    made.writestr(part.filename, data)
    except Refusal:
        raise
    except BROKEN:
        raise Refusal(
            gettext("The workbook is damaged and cannot be opened. Save it again as XLSX and send that.")
        ) from None
    return out.getvalue()


def _bounded_text(shared: bytes, sheet: bytes) -> None:
    """Raises Refusal where texts that the cells share would fill the memory, once each cell has its own."""
    sizes = [len(text) for text in SHARED.split(shared)[1:]]
    if max(sizes, default=0) * sum(1 for _ in VALUE.finditer(sheet)) <= MAX_TEXT:
        return
    counted = Counter(found[1] for found in VALUE.finditer(sheet))
    texts = {value: int(value) for value in counted if value.isdigit() and len(value) < 9}
    whole = sum(counted[value] * sizes[number] for value, number in texts.items() if number < len(sizes))
    hidden = HIDING.search(shared) or b"<!" in sheet or any(b"&" in value for value in counted)
    if hidden or whole > MAX_TEXT or any(value.startswith(b"+") for value in counted):
        raise Refusal(
            gettext("The cells hold far more text than a list of welds needs. Shorten the longest, or split the list.")
        )


def _bounded(sheet: bytes) -> None:
    """Raises Refusal where a stray cell far out would make the sheet huge."""
    if ODD.search(sheet):
        raise Refusal(gettext("The sheet is written in a way that is not read. Copy the list into a new workbook."))
    rows = count = 0
    widest: set[bytes] = set()
    for cells in _some_cells(sheet):
        rows = max(rows, *map(int, {number for _, number in cells}))
        widest |= {letters for letters, _ in cells}
        count += len(cells)
    columns = max((column_index(letters.decode()) + 1 for letters in widest if letters), default=0)
    if BARE.search(sheet):
        lines = ROW.split(sheet)
        rows, columns = rows + len(lines) - 1, columns + max(sum(1 for _ in ANY_CELL.finditer(line)) for line in lines)
    # The reader sets memory aside for blank cells too.
    sparse = rows * columns > SPARSE_FROM and rows * columns > MAX_BLANKS * count
    if rows > 2 * MAX_ROWS or columns > MAX_COLUMNS or sparse:
        raise Refusal(
            gettext(
                "The sheet reaches to row %(rows)s and column %(columns)s; at most %(max_rows)s rows and "
                "%(max_columns)s columns are read. Delete what lies beyond the list, or copy the list into a "
                "new workbook."
            )
            % {"rows": f"{rows:,}", "columns": f"{columns:,}", "max_rows": f"{MAX_ROWS:,}", "max_columns": MAX_COLUMNS}
        )


def _some_cells(sheet: bytes) -> Iterator[list[tuple[bytes, bytes]]]:
    """Letters and row of the cells, a piece of the sheet at a time: all at once would take more memory than the sheet.

    No tag holds a "<", so a piece that ends before one cuts none in two.
    """
    start = 0
    while start < len(sheet):
        end = sheet.find(b"<", start + PIECE)
        end = len(sheet) if end < 0 else end
        if cells := CELL.findall(sheet, start, end):
            yield cells
        start = end


def _cells(data: bytes) -> tuple[list[tuple[int, tuple[Cell, ...]]], tuple[str, ...]]:
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheet = book.get_sheet_by_index(0)
        found = sheet.to_python(skip_empty_area=False)
    except (CalamineError, ValueError, IndexError, OSError) as error:
        raise Refusal(
            gettext("The workbook cannot be read (%(error)s). Save it again as XLSX, or as CSV.") % {"error": error}
        ) from None
    columns = _made(zip(*found, strict=True))
    rows = list(enumerate(zip(*columns, strict=True), start=1))
    others = len(book.sheet_names) - 1
    notes = [f"Read the sheet “{sheet.name}”."]
    if others:
        notes.append(f"{others} further {'sheet was' if others == 1 else 'sheets were'} not read.")
    return rows, tuple(notes)


def _made(columns: Iterable[Sequence[Any]]) -> list[list[Cell]]:
    """The cells of each column; what comes again is made once. Raises Refusal for a text that is too long."""
    made, too_long = [], []
    for column in columns:
        if {str, float} >= set(map(type, column)):
            known = {value: _cell(value) for value in set(column)}
            cells = [known[value] for value in column]
        else:  # with its type: True and 1 are equal
            typed = list(zip(map(type, column), column, strict=True))
            known = {one: _cell(one[1]) for one in set(typed)}
            cells = [known[one] for one in typed]
        if any(isinstance(cell, str) and len(cell) > MAX_CELL for cell in known.values()):
            too_long += [row for row, cell in enumerate(cells, 1) if isinstance(cell, str) and len(cell) > MAX_CELL]
        made.append(cells)
    if too_long:
        raise Refusal(
            gettext("Row %(row)s holds a cell with more than %(max_cell)s characters. Shorten it.")
            % {"row": min(too_long), "max_cell": MAX_CELL}
        )
    return made


def _cell(value: object) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        # The shortest exact spelling of a stored number: 0.1 stays 0.1.
        return Decimal(repr(value)) if abs(value) < 10**12 else str(value)
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date | time | timedelta):
        return value.isoformat() if isinstance(value, date) else str(value)
    return "" if value is None else str(value).strip()
