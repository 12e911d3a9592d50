"""CSV: bytes to text to cells. Encodings UTF-8, UTF-16 and Windows-1252; separators semicolon, comma and tab."""

import codecs
import csv
import io
import re
from collections.abc import Iterator

from django.utils.translation import gettext

from register.lists.table import MAX_CELL, Cell, Refusal, Table, check_width, checked

SEPARATORS = {";": "semicolon", ",": "comma", "\t": "tab"}
MARKED = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
SIGN, LINE = re.compile(r"\S"), re.compile(r"[^\r\n]*")
BROKEN_TWICE = ("Ã¤", "Ã¶", "Ã¼", "Ã©", "â‚¬", "Â°", "Ã–", "Ãœ", "ÃŸ")
"""UTF-8 that somebody read as Windows-1252 and saved again."""


def read_csv(data: bytes) -> Table:
    """The cells of a CSV file. Raises Refusal."""
    text, encoding = decode(data)
    separator, body, skipped = _separator(text)
    rows = checked(_rows(body, separator, skipped))
    notes = [f"Read as {encoding}, separated by {SEPARATORS[separator]}."]
    if encoding == "Windows-1252" and (odd := next((w for w in text.split() if not w.isascii()), "")):
        notes.append(f"Check that “{odd[:40]}” reads as it was written; if not, save the list as CSV UTF-8.")
    return Table(rows, tuple(notes), comma_decimal=separator == ";")


def decode(data: bytes) -> tuple[str, str]:
    """The text and the name of its encoding. Raises Refusal where it is no text or in none of the three.

    Example: bytes with a UTF-16 mark are read as such; half of a two-byte letter in UTF-8 is tried as Windows-1252.
    """
    for mark, codec, name in MARKED:
        if data.startswith(mark):
            return _plain(_decoded(data, codec, name)), name
    if b"\0" in data:
        return _plain(_decoded(data, _utf16_side(data), "UTF-16")), "UTF-16"
    try:
        return _plain(data.decode("utf-8")), "UTF-8"
    except UnicodeDecodeError:
        return _plain(_decoded(data, "cp1252", "Windows-1252")), "Windows-1252"


def _utf16_side(data: bytes) -> str:
    """Text in UTF-16 without a mark has its empty bytes on one side only."""
    even, odd = data[0:4000:2].count(0), data[1:4000:2].count(0)
    half = min(len(data), 4000) // 2
    if len(data) % 2 == 0 and odd > half * 0.6 and even == 0:
        return "utf-16-le"
    if len(data) % 2 == 0 and even > half * 0.6 and odd == 0:
        return "utf-16-be"
    raise Refusal(NO_LIST)


NO_LIST = (
    "The file is no list of welds: it is neither text (CSV) nor an XLSX workbook. "
    "Save the list from the spreadsheet as CSV UTF-8 or as XLSX and send that."
)
WRONG_ENCODING = (
    "The letters of the file cannot be read: it claims to be {0}, but byte {1:,} does not fit. "
    "Save the list as CSV UTF-8 and send it again."
)


def _decoded(data: bytes, codec: str, name: str) -> str:
    try:
        return data.decode(codec)
    except UnicodeDecodeError as error:
        raise Refusal(WRONG_ENCODING.format(name, error.start + 1)) from None


def _plain(text: str) -> str:
    """The text itself. Raises Refusal for characters that no list holds, or letters that were broken before."""
    if any(ch < " " and ch not in "\t\r\n" for ch in text) or "�" in text:
        raise Refusal(NO_LIST)
    if broken := next((mark for mark in BROKEN_TWICE if mark in text), ""):
        raise Refusal(
            gettext(
                "The letters of the file were broken before it came here (it holds “%(broken)s”): it was "
                "saved as UTF-8 and opened as Windows-1252. Save it again from the source as CSV UTF-8."
            )
            % {"broken": broken}
        )
    return text


def _separator(text: str) -> tuple[str, str, int]:
    """The separator, the text after a line that only names it, and how many lines that line took."""
    first, _, rest = text.lstrip("\ufeff").partition("\n")
    if first.strip().lower().startswith("sep=") and first.strip()[4:5] in SEPARATORS:
        return first.strip()[4:5], rest, 1
    head = _first_line(text)
    counts = {sign: _outside_quotes(head, sign) for sign in SEPARATORS}
    best = max(counts, key=lambda sign: counts[sign])
    if not counts[best]:
        raise Refusal(
            gettext(
                "No columns were found in the first line: they are separated by semicolon, comma or tab. The "
                "line reads “%(head)s”."
            )
            % {"head": head[:80]}
        )
    return best, text.lstrip("\ufeff"), 0


def _first_line(text: str) -> str:
    """The first line that holds anything; the text is not cut into lines for it, of which it may hold millions."""
    found = SIGN.search(text)
    at = found.start() if found else len(text)
    return LINE.match(text, max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) + 1)[0]  # type: ignore[index]


def _outside_quotes(line: str, sign: str) -> int:
    return sum(part.count(sign) for part in line.split('"')[::2])


def _rows(text: str, separator: str, skipped: int) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """The rows that are not blank, one at a time. Raises Refusal at the first that cannot be read."""
    csv.field_size_limit(128 * 1024)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for number, row in enumerate(reader, start=1 + skipped):
            if not any(row):
                continue
            check_width(len(row))
            if max(map(len, row)) > MAX_CELL and any(len(cell.strip()) > MAX_CELL for cell in row):
                raise Refusal(
                    gettext("Row %(long)s holds a cell with more than %(max_cell)s characters. Shorten it.")
                    % {"long": number, "max_cell": MAX_CELL}
                )
            yield number, tuple(cell.strip() for cell in row)
    except csv.Error as error:
        raise Refusal(
            gettext("Line %(line_num)s cannot be read (%(error)s): look for a quotation mark that is not closed.")
            % {"line_num": reader.line_num + skipped, "error": error}
        ) from None
