"""A file as it comes: refused by size and by content before anything else is done with it."""

import hashlib

from joints.imports.table import MAX_BYTES, Refusal, Table
from joints.imports.text import NO_LIST, read_csv
from joints.imports.workbook import read_xlsx

ZIP, OLD_OFFICE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
KNOWN_OTHERS = {
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"GIF8": "a picture",
    b"\x1f\x8b": "a packed file",
    b"Rar!": "a packed file",
    b"7z\xbc\xaf": "a packed file",
}


def check_size(size: int, at_most: int = MAX_BYTES) -> None:
    """Raises Refusal for a file that is empty or over the limit [bytes]. Exactly the limit is taken."""
    if size == 0:
        raise Refusal("The file is empty.")
    if size > at_most:
        raise Refusal(
            f"The file is {size / 1024**2:.1f} MB and at most {at_most // 1024**2} MB are read. Nothing was saved. "
            "Split it, or save the sheet with the welds alone."
        )


def read_file(data: bytes) -> Table:
    """The cells of a CSV or XLSX file, told apart by content, never by name. Raises Refusal."""
    check_size(len(data))
    if data.startswith(ZIP):
        return read_xlsx(data)
    if data.startswith(OLD_OFFICE):
        raise Refusal("The workbook is in the old XLS format or protected by a password. Save it as XLSX without one.")
    for mark, kind in KNOWN_OTHERS.items():
        if data.startswith(mark):
            raise Refusal(f"The file is {kind}. {NO_LIST.partition('. ')[2]}")
    return read_csv(data)


def digest(data: bytes) -> str:
    """The SHA-256 of the content, by which the same file is known again."""
    return hashlib.sha256(data).hexdigest()
