"""Files as senders make them, for the import tests."""

import io
import zipfile
from functools import cache

HEAD = "Assembly;Joint number;Weld type;Grade 1;Grade 2;Thickness 1;Thickness 2;Throat a;Position;Process"
ROW = "B1;{n};fillet;S355J2+N;S355J2+N;12;20;5;PB;135"


def csv_of(*rows: str, head: str = HEAD) -> bytes:
    """A CSV list in UTF-8; three good rows where none are given."""
    return "\r\n".join([head, *(rows or [ROW.format(n=n) for n in (1, 2, 3)])]).encode()


def row(n: int = 1, **changes: str) -> str:
    """A good row with some cells changed, by heading ("thickness_1")."""
    names = [name.lower().replace(" ", "_") for name in HEAD.split(";")]
    cells = dict(zip(names, ROW.format(n=n).split(";"), strict=True)) | changes
    return ";".join(cells[name] for name in names)


def xlsx_of(rows: list[list[object]], sheets: int = 1) -> bytes:
    """A workbook; texts that start with "=" become formulas."""
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    for number in range(sheets):
        sheet = book.add_worksheet(f"Welds {number + 1}")
        for y, line in enumerate(rows):
            for x, cell in enumerate(line):
                if isinstance(cell, str) and cell.startswith("="):
                    sheet.write_formula(y, x, cell, None, 12)
                elif cell is not None:
                    sheet.write(y, x, cell)
    book.close()
    return out.getvalue()


def good_xlsx() -> bytes:
    """The three good rows as a workbook, sizes as numbers."""
    lines: list[list[object]] = [list(HEAD.split(";"))]
    for n in (1, 2, 3):
        cells: list[object] = list(ROW.format(n=n).split(";"))
        lines.append([*cells[:5], 12, 20.5, 5, "PB", 135])
    return xlsx_of(lines)


@cache
def bomb() -> bytes:
    """A workbook whose sheet unpacks to 90 MB."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("[Content_Types].xml", "<Types/>")
        book.writestr("xl/worksheets/sheet1.xml", b" " * (90 * 1024 * 1024))
    return out.getvalue()


def far_cell() -> bytes:
    """A workbook with one stray cell at the far end of the sheet."""
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    sheet = book.add_worksheet()
    sheet.write(0, 0, "Assembly")
    sheet.write(1_048_575, 16_383, "far")
    book.close()
    return out.getvalue()
