"""A file as it comes: refused by size and by content before anything else is done with it."""

import hashlib

from django.utils.translation import gettext

from joints.imports.plain import NotKept, packed, table_from
from joints.imports.sheets import BROKE_OFF, GIVEN_UP, read_in_sandbox
from joints.imports.table import MAX_BYTES, Refusal, Table
from joints.imports.text import NO_LIST, read_csv

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
        raise Refusal(gettext("The file is empty."))
    if size > at_most:
        raise Refusal(
            gettext(
                "The file is %(size)s MB and at most %(at_most)s MB are read. Nothing was saved. Split it, "
                "or save the sheet with the welds alone."
            )
            % {"size": f"{size / 1024**2:.1f}", "at_most": at_most // 1024**2}
        )


def read_file(data: bytes) -> Table:
    """The cells of a CSV or XLSX file, told apart by content, never by name. Raises Refusal."""
    return read_to_keep(data)[0]


def read_to_keep(data: bytes) -> tuple[Table, bytes]:
    """The same, and what to keep of it (joints.imports.plain) where reading it again would take long; else b"".

    Raises Refusal.
    """
    check_size(len(data))
    if data.startswith(ZIP):
        said = read_in_sandbox(data)
        try:
            return table_from(said), packed(said)
        except NotKept:
            raise Refusal(GIVEN_UP % {"why": BROKE_OFF}) from None
    if data.startswith(OLD_OFFICE):
        raise Refusal(
            gettext("The workbook is in the old XLS format or protected by a password. Save it as XLSX without one.")
        )
    for mark, kind in KNOWN_OTHERS.items():
        if data.startswith(mark):
            raise Refusal(
                gettext("The file is %(kind)s. %(no_list)s") % {"kind": kind, "no_list": NO_LIST.partition(". ")[2]}
            )
    return read_csv(data), b""


def digest(data: bytes) -> str:
    """The SHA-256 of the content, by which the same file is known again."""
    return hashlib.sha256(data).hexdigest()
