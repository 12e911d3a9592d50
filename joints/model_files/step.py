"""The text of a STEP file (ISO 10303-21): where its instances stand, and new ones in its own spelling.

Only what is needed to add instances and to take our own away again; every other byte stays as it was.
"""

import re
import uuid
from collections.abc import Iterator

from django.utils.translation import gettext

from joints.imports.table import Refusal

MAX_BYTES = 40 * 1024 * 1024
MAX_INSTANCES = 1_500_000
START = b"ISO-10303-21;"
SCHEMA = re.compile(rb"FILE_SCHEMA\s*\(\s*\(\s*'([^']{1,40})'", re.IGNORECASE)
# A text, a comment or the end of an instance; what is never closed reaches to the end, so that no byte is read twice.
PIECE = re.compile(rb"'[^']*+'?|/\*(?:[^*]|\*(?!/))*+(?:\*/)?|;[ \t]*+\r?\n?")
HEAD = re.compile(rb"#(\d{1,18})\s*+=")
BLANK = re.compile(rb"(?:\s|/\*(?:[^*]|\*(?!/))*+\*/)*+")
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"


def is_step(data: bytes) -> bool:
    """True for what begins like a STEP file, whatever its name."""
    return data[:64].removeprefix(b"\xef\xbb\xbf").lstrip()[: len(START)].upper() == START


def check_step(data: bytes) -> str:
    """The schema of a model that is small enough and of a kind that is read. Raises Refusal."""
    if len(data) > MAX_BYTES:
        raise Refusal(
            gettext(
                "The model is %(data)s MB and at most %(max_bytes)s MB are read. Nothing was saved. Send it "
                "in phases, or with the welded assemblies alone."
            )
            % {"data": f"{len(data) / 1024**2:.1f}", "max_bytes": MAX_BYTES // 1024**2}
        )
    found = SCHEMA.search(data[:65536])
    schema = found.group(1).decode("ascii", "replace").upper() if found else ""
    if not schema.startswith(("IFC4", "IFC4X3")) or schema.startswith(("IFC4X1", "IFC4X2")):
        raise Refusal(
            gettext(
                "The model is written in %(value)s. IFC4 and IFC4.3 are read: only they say which fastener "
                "is a weld. Export it again as one of them."
            )
            % {"value": schema or "no schema that it names"}
        )
    if (number := data.count(b";")) > MAX_INSTANCES:
        raise Refusal(
            gettext(
                "The model holds about %(number)s instances and at most %(max_instances)s are read. Send it in phases."
            )
            % {"number": f"{number:,}", "max_instances": f"{MAX_INSTANCES:,}"}
        )
    return schema


def instances(data: bytes) -> Iterator[tuple[int, int, int]]:
    """(number, start, end) of every instance of the data section, in the order of the file."""
    at = 0
    for piece in PIECE.finditer(data):
        if not piece.group().startswith(b";"):
            continue
        start = BLANK.match(data, at, piece.start()).end()  # type: ignore[union-attr]
        if found := HEAD.match(data, start, piece.start()):
            yield int(found.group(1)), start, piece.end()
        at = piece.end()


def text(said: str) -> str:
    """A text as STEP spells it. Example: text("it's 5 µm") gives "'it''s 5 \\X2\\00B5\\X0\\m'"."""
    out = []
    for piece in re.split(r"([^\x20-\x7e]+)", said):
        if piece and not (piece.isascii() and piece.isprintable()):
            out.append(f"\\X4\\{piece.encode('utf-32-be').hex().upper()}\\X0\\" if max(map(ord, piece)) > 0xFFFF
                       else f"\\X2\\{piece.encode('utf-16-be').hex().upper()}\\X0\\")  # fmt: skip
        else:
            out.append(piece.replace("\\", "\\\\").replace("'", "''"))
    return f"'{''.join(out)}'"


def guid(*words: str) -> str:
    """An identity that follows from words alone: 22 characters in the base of IFC."""
    number = uuid.uuid5(uuid.NAMESPACE_URL, "weld-register:" + "|".join(words)).int
    digits = []
    for _ in range(22):
        number, rest = divmod(number, 64)
        digits.append(ALPHABET[rest])
    return "".join(reversed(digits))
