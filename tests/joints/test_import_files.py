"""Files in: encodings, separators, workbooks, and everything that is refused before a cell is looked at."""

import io
import os
import random
import re
import struct
import tracemalloc
import zipfile
import zlib
from decimal import Decimal as D

import pytest

from joints.imports.files import check_size, read_file
from joints.imports.table import MAX_BYTES, MAX_ROWS, Refusal
from joints.imports.workbook import read_xlsx
from tests.joints.files import HEAD, bomb, far_cell, good_xlsx, xlsx_of


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "cp1252", "utf-16", "utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("separator", [";", ",", "\t"])
def test_encodings_and_separators(codec: str, separator: str) -> None:
    text = "Assembly;Joint;Remark\nTräger;1;Kante ä\n".replace(";", separator)
    table = read_file(text.encode(codec))
    assert table.rows == ((1, ("Assembly", "Joint", "Remark")), (2, ("Träger", "1", "Kante ä")))


def test_windows_1252_is_said_so_that_somebody_looks() -> None:
    notes = read_file("A;B\nTräger;1".encode("cp1252")).notes
    assert any("Windows-1252" in note for note in notes)
    assert any("Träger" in note for note in notes)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty"),
        (b"A;B\nx\x81;1", "letters of the file cannot be read"),
        ("A;B\nTräger;1".encode().decode("cp1252").encode(), "broken before it came here"),
        (b"\xff\xfeA\x00;\x00B", "UTF-16"),
        (b"A;B\n\x01\x02;3", "no list of welds"),
        (b"A\0;B\0\0", "no list of welds"),
        (b"%PDF-1.7 ...", "is a PDF"),
        (b"\x89PNG....", "is a picture"),
        (b"\xd0\xcf\x11\xe0....", "old XLS format"),
        (b"PK\x03\x04rubbish", "damaged"),
        (b"only one column\n1\n2", "No columns were found"),
        (b"A;B", "holds no welds"),
        (b'A;B\n"open;1', "quotation mark"),
        (b"A;B\n" + b"x" * 501 + b";1", "more than 500 characters"),
        (b";".join(b"c%d" % n for n in range(201)) + b"\n" + b";" * 200 + b"1", "201 columns"),
    ],
)
def test_what_is_no_list_is_refused_with_the_reason(data: bytes, says: str) -> None:
    with pytest.raises(Refusal, match="(?s)" + says):
        read_file(data)


def test_size_is_looked_at_first() -> None:
    check_size(MAX_BYTES)
    with pytest.raises(Refusal, match=r"is 10\.0 MB and at most 10 MB"):
        check_size(MAX_BYTES + 1)


def test_fifty_megabytes_of_rubbish_are_refused_by_size() -> None:
    with pytest.raises(Refusal, match=r"50\.0 MB and at most 10 MB are read\. Nothing was saved"):
        read_file(bytes(50 * 1024 * 1024))


def test_rubbish_below_the_limit_is_refused_by_content() -> None:
    with pytest.raises(Refusal, match=r"no list of welds|cannot be read"):
        read_file(b"\x01" + os.urandom(1024 * 1024))


@pytest.mark.parametrize("count", [MAX_ROWS, MAX_ROWS + 1])
def test_the_number_of_rows_has_an_end(count: int) -> None:
    data = b"A;B\n" + b"1;2\n" * count
    if count <= MAX_ROWS:
        assert len(read_file(data).rows) == MAX_ROWS + 1
    else:
        with pytest.raises(Refusal, match="100,001 rows and at most 100,000"):
            read_file(data)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        pytest.param(b"A;B\n" + b"1;2\n" * 300_000, "holds 300,000 rows", id="more rows than are read"),
        pytest.param(b"A;B\n" + b"\n" * 600_000, "holds no welds", id="blank lines"),
        pytest.param(b"A;B\n" + b";\n" * 300_000, "holds no welds", id="rows of blank cells"),
        pytest.param(b"\r" * 600_000 + b"A;B", "holds no welds", id="blank lines before the head"),
        pytest.param(b"x;" * 600_000 + b"\n1;2", "holds 600,001 columns", id="one line of cells"),
    ],
)
def test_what_is_not_read_of_a_list_fills_no_memory(data: bytes, says: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list is read in the process that answers everybody: 10 MB of short lines once took 1.9 GB of it."""
    monkeypatch.setattr("register.lists.table.MAX_ROWS", 1000)
    tracemalloc.start()
    try:
        with pytest.raises(Refusal, match=says):
            read_file(data)
        assert tracemalloc.get_traced_memory()[1] < 16 * 1024**2
    finally:
        tracemalloc.stop()


def test_a_line_that_names_the_separator() -> None:
    assert read_file(b"sep=,\nA,B\n1,2").rows == ((2, ("A", "B")), (3, ("1", "2")))


def test_blank_lines_keep_the_row_numbers() -> None:
    assert [number for number, _ in read_file(b"A;B\n\n;;\n1;2").rows] == [1, 4]


def test_signs_that_nobody_sees_make_no_other_mark() -> None:
    """A zero-width space, a mark of direction and a byte order mark come along when text is copied."""
    rows = read_file("Assembly;Joint\nB1\u200b;\u200e1\nB1;\ufeff2\nB\u00a01;3\n".encode()).rows
    assert [row for _, row in rows[1:]] == [("B1", "1"), ("B1", "2"), ("B\u00a01", "3")]


def test_a_row_of_signs_that_nobody_sees_is_blank() -> None:
    assert [number for number, _ in read_file("A;B\n\u200b;\u200b\n1;2".encode()).rows] == [1, 3]


def test_a_workbook_keeps_numbers_exact() -> None:
    table = read_file(good_xlsx())
    assert table.rows[0][1] == tuple(HEAD.split(";"))
    assert table.rows[1][1][5:7] == (D("12.0"), D("20.5"))
    assert not table.refused


def test_a_formula_is_found_where_it_stands() -> None:
    table = read_file(xlsx_of([["Assembly", "Joint"], ["B1", "=1+2"]]))
    assert list(table.refused) == [(2, 1)]
    assert "holds a formula" in table.refused[2, 1]


def test_further_sheets_are_named_as_not_read() -> None:
    assert "2 further sheets were not read." in read_file(xlsx_of([["A", "B"], ["1", "2"]], sheets=3)).notes


def test_a_zip_bomb_is_not_unpacked() -> None:
    with pytest.raises(Refusal, match="unpacks to 90 MB"):
        read_file(bomb())


def test_a_stray_cell_far_out_is_refused_before_it_fills_the_memory() -> None:
    with pytest.raises(Refusal, match="reaches to row 1,048,576 and column 16,384"):
        read_file(far_cell())


@pytest.mark.parametrize(
    "cell",
    [
        b"<c r='XFD1048576'>",
        b'<c r="xfd1048576">',
        b'<c r = "XFD1048576">',
        b'<c q=">" r="XFD1048576">',
        b'<c r="&#88;FD1048576">',
        b'<c r="A' + b"1" * 5000 + b'">',
        b'<c r="ALL1"><v>1</v></c>' * 2 + b'<c r="A200000">',
        b'<c r="GR200000">',
        b"<c><v>1</v></c>" * 300 + b'<c r="A2">',
    ],
)
def test_a_cell_far_out_is_refused_however_it_is_spelled(cell: bytes) -> None:
    """The reader would set memory aside for every cell up to there, and the process end with it."""
    with pytest.raises(Refusal, match=r"reaches to row|in a way that is not read"):
        read_xlsx(changed(good_xlsx(), "sheet1.xml", re.compile(rb'<c r="B2"[^>]*>'), cell))


def test_no_other_sheet_is_read_than_the_one_looked_at() -> None:
    """A comment names the harmless sheet first; for a reader of XML the other one is."""
    book = changed(xlsx_of([["A", "B"], ["1", "2"]], sheets=2), "workbook.xml", b"<sheets>", HIDDEN + b"<sheets>")
    with pytest.raises(Refusal):
        read_xlsx(changed(book, "sheet1.xml", b'<c r="B2"', b'<c r="XFD1048576"'))


HIDDEN = b'<!-- <sheet name="x" sheetId="9" r:id="rId2"/> -->'


def test_sizes_that_a_workbook_states_wrongly_do_not_count() -> None:
    """Its directory says 100 bytes, with their checksum; more than those nobody reads."""
    book = bytearray(changed(good_xlsx(), "sharedStrings.xml", b"</sst>", b" " * 50_000_000 + b"</sst>"))
    info = zipfile.ZipFile(io.BytesIO(book)).getinfo("xl/sharedStrings.xml")
    first = zipfile.ZipFile(io.BytesIO(book)).read(info)[:100]
    at = book.rfind(b"xl/sharedStrings.xml") - 46
    struct.pack_into("<L", book, at + 16, zlib.crc32(first))
    struct.pack_into("<L", book, at + 24, len(first))
    with pytest.raises(Refusal):
        read_xlsx(bytes(book))


@pytest.mark.parametrize(("cells", "hidden"), [(10_000, b""), (500, b"<si/>"), (500, b"<!-- <si> -->")])
def test_a_text_that_every_cell_shares_is_counted_in_each(cells: int, hidden: bytes) -> None:
    """A megabyte once in the file, ten thousand times in the sheet: ten gigabytes for the reader."""
    rows: list[list[object]] = [["A" * 100] * 100 for _ in range(cells // 100)]
    book = changed(xlsx_of([["A", "B"], *rows]), "sharedStrings.xml", b"A" * 100, b"A" * 1_000_000)
    with pytest.raises(Refusal, match="more text than a list"):
        read_xlsx(changed(book, "sharedStrings.xml", b"<si>", hidden + b"<si>"))


def test_a_long_text_that_hardly_any_cell_holds_is_refused_by_its_row() -> None:
    book = xlsx_of([["A", "B"], *([["1", "2"]] * 500), ["A" * 100, "2"]])
    with pytest.raises(Refusal, match="Row 502 holds a cell with more than 500"):
        read_xlsx(changed(book, "sharedStrings.xml", b"A" * 100, b"A" * 1_000_000))


@pytest.mark.parametrize("part", [b"<c ", b"<c r=", b'<c r="A1" ', b"<row "])
def test_tags_that_never_end_take_no_longer(part: bytes) -> None:
    """Each was searched to the end of the sheet: a megabyte of them held a worker for an hour."""
    comment = b"<!-- " + part * 400_000 + b"--><sheetData>"
    with pytest.raises(Refusal, match="in a way that is not read"):
        read_xlsx(changed(good_xlsx(), "sheet1.xml", b"<sheetData>", comment + NOISE))


NOISE = b"<!-- " + random.Random(7).randbytes(400_000).hex().encode() + b" -->"
"""What does not pack, so that the sheet is no bomb by its ratio."""


def changed(data: bytes, part: str, old: bytes | re.Pattern[bytes], new: bytes) -> bytes:
    """A workbook with a piece of one part in another's place."""
    out, done = io.BytesIO(), 0
    with zipfile.ZipFile(io.BytesIO(data)) as book, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name in book.namelist():
            held = book.read(name)
            if name.endswith("/" + part):
                held, done = re.subn(
                    old if isinstance(old, re.Pattern) else re.escape(old), lambda _: new, held, count=1
                )
            made.writestr(name, held)
        made.writestr(f"xl/media/of {part} {len(new)}.bin", random.Random(8).randbytes(500_000))
    assert done == 1
    return out.getvalue()


def test_a_zip_that_is_no_workbook() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as book:
        book.writestr("hello.txt", "hello")
    with pytest.raises(Refusal, match="no XLSX workbook"):
        read_file(out.getvalue())
