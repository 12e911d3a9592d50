"""A log as it comes: hashed, unpacked where it is gzip, and cut into lines while it is read. Nothing is held whole."""

import codecs
import zlib
from collections.abc import Iterable, Iterator
from hashlib import sha256

from django.utils.translation import gettext

from joints.imports.table import Refusal

GZIP = b"\x1f\x8b"
MOST_BYTES = 400 * 1024 * 1024
"""Of text, unpacked: a log beyond it is cut at the cell, or is a bomb."""
LONGEST_LINE = 4096
STEP = 1024 * 1024


class Log:
    """Lines of a log from chunks of bytes; `sha256` is known once they are all read."""

    def __init__(self, chunks: Iterable[bytes]) -> None:
        self._chunks = chunks
        self._hash = sha256()

    @property
    def sha256(self) -> str:
        """The hash of the bytes that were read so far, as they were sent in."""
        return self._hash.hexdigest()

    def __iter__(self) -> Iterator[str]:
        """The lines without their ends. Raises Refusal for bytes that are no text, or too many."""
        decoder = codecs.getincrementaldecoder("utf-8-sig")()
        rest = ""
        try:
            for data in self._plain():
                lines = (rest + decoder.decode(data)).splitlines(keepends=True)
                rest = lines.pop() if lines and not lines[-1].endswith("\n") else ""
                if len(rest) > LONGEST_LINE:
                    raise Refusal(
                        gettext("A line of the log is longer than any log of weld values: this is another file.")
                    )
                yield from lines
            rest += decoder.decode(b"", final=True)
        except UnicodeDecodeError:
            raise Refusal(
                gettext("The log is not UTF-8 text. Export it as CSV in UTF-8, or packed as .csv.gz.")
            ) from None
        if rest:
            yield rest

    def _plain(self) -> Iterator[bytes]:
        unpack, size, first = None, 0, True
        for chunk in self._chunks:
            self._hash.update(chunk)
            if first and chunk.startswith(GZIP):
                unpack = zlib.decompressobj(wbits=31)
            first = False
            for part in _unpacked(unpack, chunk) if unpack else (chunk,):
                size += len(part)
                if size > MOST_BYTES:
                    raise Refusal(
                        gettext("The log holds more than %(most_bytes)s MB of text. Split it by joint.")
                        % {"most_bytes": MOST_BYTES // 1024**2}
                    )
                yield part


def _unpacked(unpack: "zlib._Decompress", chunk: bytes) -> Iterator[bytes]:
    """A chunk unpacked in steps, so that a small file cannot fill the memory."""
    try:
        while chunk:
            yield unpack.decompress(chunk, STEP)
            chunk = unpack.unconsumed_tail
    except zlib.error:
        raise Refusal(gettext("The packed file is damaged: pack the log anew as .csv.gz.")) from None
