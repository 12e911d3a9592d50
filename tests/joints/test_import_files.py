"""Files in: encodings, separators, workbooks, and everything that is refused before a cell is looked at."""

import io
import os
import zipfile
from decimal import Decimal as D

import pytest

from joints.imports.files import check_size, read_file
from joints.imports.table import MAX_BYTES, MAX_ROWS, Refusal
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


def test_a_line_that_names_the_separator() -> None:
    assert read_file(b"sep=,\nA,B\n1,2").rows == ((2, ("A", "B")), (3, ("1", "2")))


def test_blank_lines_keep_the_row_numbers() -> None:
    assert [number for number, _ in read_file(b"A;B\n\n;;\n1;2").rows] == [1, 4]


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


def test_a_zip_that_is_no_workbook() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as book:
        book.writestr("hello.txt", "hello")
    with pytest.raises(Refusal, match="no XLSX workbook"):
        read_file(out.getvalue())
