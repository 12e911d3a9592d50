"""XLSX: the first sheet as cells. Formulas are refused where they stand; a file that would burst the memory whole."""

import io
import re
import zipfile
from collections import Counter
from datetime import date, datetime, time, timedelta
from decimal import Decimal

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
FORMULA_REFUSED = "the cell holds a formula; put its result in its place (copy, paste values)"


def read_xlsx(data: bytes) -> Table:
    """The cells of the first sheet. Raises Refusal."""
    book = _opened(data)
    name, sheet = _sheet_xml(book)
    _bounded(sheet)
    refused = {(int(row), column_index(letters.decode())): FORMULA_REFUSED for letters, row in FORMULA.findall(sheet)}
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
    # One by one: a list of all cells of a large sheet would take more memory than the sheet.
    for cell in CELL.finditer(sheet):
        rows = max(rows, int(cell[2]))
        widest.add(cell[1])
        count += 1
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
    rows = [(number, tuple(_cell(cell, number) for cell in row)) for number, row in enumerate(found, start=1)]
    others = len(book.sheet_names) - 1
    notes = [f"Read the sheet “{sheet.name}”."]
    if others:
        notes.append(f"{others} further {'sheet was' if others == 1 else 'sheets were'} not read.")
    return rows, tuple(notes)


def _cell(value: object, row: int) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        # The shortest exact spelling of a stored number: 0.1 stays 0.1.
        return Decimal(repr(value)) if abs(value) < 10**12 else str(value)
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date | time | timedelta):
        return value.isoformat() if isinstance(value, date) else str(value)
    text = "" if value is None else str(value).strip()
    if len(text) > MAX_CELL:
        raise Refusal(
            gettext("Row %(row)s holds a cell with more than %(max_cell)s characters. Shorten it.")
            % {"row": row, "max_cell": MAX_CELL}
        )
    return text
