"""What a PDF holds besides pages: programs and further files; also where a name is written in figures, or packed."""

import re
import zlib
from collections.abc import Iterator

MARKS = (
    "JavaScript", "Launch", "EmbeddedFile", "EmbeddedFiles", "RichMedia", "Rendition", "SubmitForm", "ImportData",
    "XFA", "FileAttachment", "GoToE",
)  # fmt: skip
"""Names of what runs, sends or carries something else; nothing of it works without one. All are long enough that none
stands in a picture by chance.
"""
MOST_UNPACKED = 64 * 1024 * 1024
STEP, HEAD = 64 * 1024, 512
STREAM = re.compile(rb"stream\r?\n")
OBJECTS = re.compile(rb"[\x00\s]*(?:\d|%|\Z)")
"""How packed objects begin: with their numbers. So do some pages, which are then looked through as well."""


class Unpackable(ValueError):
    """Objects are packed in a way that is not read here, or unpack huge."""


def _name(word: str) -> bytes:
    """A pattern of a name whole, each sign as itself or as #xx."""
    signs = (rb"(?:%c|#(?i:%02x))" % (ord(sign), ord(sign)) for sign in word)
    return rb"/" + b"".join(signs) + rb"(?![^\x00\s()<>\[\]{}/%])"


RUNS = re.compile(b"|".join(map(_name, MARKS)))
LOCKED, PACKED = re.compile(_name("Encrypt")), re.compile(_name("ObjStm"))


def is_locked(data: bytes) -> bool:
    """True where a PDF is protected by a password or rights."""
    return LOCKED.search(data) is not None


def runs(data: bytes) -> bool:
    """True where a PDF holds a program or further files. Raises Unpackable where it cannot be told."""
    if RUNS.search(data):
        return True
    found = 0
    for part in _packed_objects(data):
        found += 1
        if RUNS.search(part):
            return True
    if found < len(PACKED.findall(data)):
        raise Unpackable
    return False


def _packed_objects(data: bytes) -> Iterator[bytes]:
    """What is packed and reads as objects, whatever it is called. Raises Unpackable."""
    left = MOST_UNPACKED
    for stream in STREAM.finditer(data):
        start = _unpacked(data[stream.end() : stream.end() + HEAD], HEAD)
        if start is not None and OBJECTS.match(start):
            part = _unpacked(data, left, stream.end())
            if part is None or len(part) > left:
                raise Unpackable
            left -= len(part)
            yield part


def _unpacked(data: bytes, most: int, at: int = 0) -> bytes | None:
    """What is packed from a place on, up to one byte more than is asked for; None where nothing is."""
    unpack, out = zlib.decompressobj(), bytearray()
    try:
        while at < len(data) and not unpack.eof and len(out) <= most:
            piece = unpack.unconsumed_tail or data[at : at + STEP]
            at += 0 if unpack.unconsumed_tail else len(piece)
            out += unpack.decompress(piece, most + 1 - len(out))
    except zlib.error:
        return None
    return bytes(out)
