"""A log as it comes: hashed, unpacked where it is gzip, and cut into lines while it is read. Nothing is held whole."""

import codecs
import zlib
from collections.abc import Iterable, Iterator
from hashlib import sha256

from django.utils.translation import gettext

from joints.imports.table import Refusal

GZIP = b"\x1f\x8b"
WHOLE = 31
"""A packed file with its head and its sum, as zlib counts."""
MOST_BYTES = 400 * 1024 * 1024
"""Of text, unpacked: a log beyond it is cut at the cell, or is a bomb."""
LONGEST_LINE = 4096
STEP = 1024 * 1024
MOST_JOINED = 1000
"""Packed logs laid end to end in one file."""
SHORTEST_ROW = 4
"""Signs of a line, on the average of a step: a row of time, run and one value has more, blank lines have fewer."""


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
                said = rest + decoder.decode(data)
                lines = said.splitlines(keepends=True)
                if "\0" in said or len(lines) > max(1000, len(said) // SHORTEST_ROW):
                    raise Refusal(
                        gettext("The log holds no rows of weld values, or hardly any. Export it again as CSV in UTF-8.")
                    )
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
                unpack = _Unpack()
            first = False
            for part in unpack.parts(chunk) if unpack else (chunk,):
                size += len(part)
                if size > MOST_BYTES:
                    raise Refusal(
                        gettext("The log holds more than %(most_bytes)s MB of text. Split it by joint.")
                        % {"most_bytes": MOST_BYTES // 1024**2}
                    )
                yield part
        if unpack and not unpack.is_whole:
            raise _damaged()


class _Unpack:
    """A packed log in steps, so that a small file cannot fill the memory; packed logs laid end to end are all read."""

    def __init__(self) -> None:
        self._open, self._further = zlib.decompressobj(wbits=WHOLE), 0

    @property
    def is_whole(self) -> bool:
        """True where what was read so far ends with the end of a packed log."""
        return self._open.eof

    def parts(self, chunk: bytes) -> Iterator[bytes]:
        """A chunk unpacked. Raises Refusal where it is damaged, or something else follows the end."""
        try:
            while chunk:
                if self._open.eof:
                    self._open, self._further = zlib.decompressobj(wbits=WHOLE), self._further + 1
                if self._further > MOST_JOINED:
                    raise _damaged()
                # What is left of a full step without a byte to read comes with the next one.
                while part := self._open.decompress(chunk, STEP):
                    yield part
                    chunk = self._open.unconsumed_tail
                chunk = self._open.unused_data
        except zlib.error:
            raise _damaged() from None


def _damaged() -> Refusal:
    return Refusal(gettext("The packed file is damaged or cut off: pack the log anew as .csv.gz."))
