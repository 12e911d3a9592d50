"""The file: a ZIP of JSON lines, files under their hash, and a manifest that names each with size and SHA-256.

Reading takes nothing on trust: nothing is unpacked by the names in it, sizes and hashes are held to the manifest
before the first row is looked at, and what is packed tighter than text or scans can be is refused.
"""

import hashlib
import json
import os
import re
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from register.exchange.values import BadRow, read_line
from register.lists.zipped import BROKEN

FORMAT = "weld-register-export"
FORMAT_VERSION = 1
MANIFEST = "manifest.json"
DATA = re.compile(r"data/([a-z_0-9]+\.[a-z_0-9]+)\.jsonl")
FILE = re.compile(r"files/([0-9a-f]{64})")
BLOCK = 1024 * 1024
MAX_MANIFEST = 64 * 1024**2
MAX_LINE = 64 * 1024**2
MAX_FILE = 256 * 1024**2
MAX_WHOLE = 64 * 1024**3
MAX_RATIO = 400
"""How many times larger than packed a part over a megabyte may be; kept versions of like rows pack 20 to 60 times."""
MADE_AT = (1980, 1, 1, 0, 0, 0)
"""In place of a time: equal content gives equal bytes."""


class BadExport(ValueError):
    """The file cannot be taken in; the message says why. Nothing was saved."""


class Writer:
    """Puts parts into a new file, which is there whole under its name or not at all, for its owner only."""

    def __init__(self, target: Path) -> None:
        if target.exists():
            raise FileExistsError(f"{target} is there already; an export never overwrites another.")
        self.target = target
        self.draft = target.with_name(f".{target.name}.{os.getpid()}")
        self.parts: dict[str, dict[str, Any]] = {}

    def __enter__(self) -> "Writer":
        handle = os.open(self.draft, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600)
        self._file = os.fdopen(handle, "w+b")
        self._zip = zipfile.ZipFile(self._file, "w", zipfile.ZIP_DEFLATED, allowZip64=True)
        return self

    def add(self, name: str, blocks: Iterator[bytes]) -> int:
        """Write a part and note its size and hash; how many blocks it had."""
        digest, size, count = hashlib.sha256(), 0, 0
        with self._zip.open(_info(name), "w", force_zip64=True) as part:
            for block in blocks:
                part.write(block)
                digest.update(block)
                size, count = size + len(block), count + 1
        self.parts[name] = {"sha256": digest.hexdigest(), "size": size}
        return count

    def finish(self, about: dict[str, Any]) -> str:
        """Write the manifest, put the file in its place, and return the SHA-256 of the whole."""
        said = {"format": FORMAT, "format_version": FORMAT_VERSION, **about, "parts": self.parts}
        self._zip.writestr(_info(MANIFEST), json.dumps(said, indent=1, ensure_ascii=False))
        self._zip.close()
        self._file.flush()
        os.fsync(self._file.fileno())
        os.link(self.draft, self.target)
        with self.target.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()

    def __exit__(self, *fault: object) -> None:
        # The archive before its file, or it complains when it is swept up; on a full disk it says so a second time.
        with suppress(OSError):
            self._zip.close()
        self._file.close()
        self.draft.unlink(missing_ok=True)


def _info(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, MADE_AT)
    info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, 0o600 << 16
    return info


class Reader:
    """An export as it was sent: opened, bounded, and held to its manifest. Raises BadExport."""

    def __init__(self, source: Path) -> None:
        try:
            self._zip = zipfile.ZipFile(source)
        except BROKEN as fault:
            raise BadExport(f"{source.name} cannot be read as an export: {fault}") from None
        try:
            self._infos = _bounded(self._zip.infolist())
            self.manifest = self._manifest()
            self.parts: dict[str, dict[str, Any]] = self.manifest["parts"]
            self._check_names()
        except BaseException:
            self._zip.close()
            raise

    def check(self) -> None:
        """Read every part once and hold it to its size and hash."""
        for name, said in self.parts.items():
            digest, size = hashlib.sha256(), 0
            for block in self._blocks(name):
                digest.update(block)
                size += len(block)
            if size != said.get("size") or digest.hexdigest() != said.get("sha256"):
                raise BadExport(f"{name} is damaged: size or checksum is not the one in the manifest.")
            if (found := FILE.fullmatch(name)) and found[1] != digest.hexdigest():
                raise BadExport(f"{name} is not the file of that hash.")

    def rows(self, kind: str) -> Iterator[tuple[int, dict[str, Any]]]:
        """The rows of a kind with their line numbers."""
        for number, data in enumerate(self._lines(f"data/{kind}.jsonl"), start=1):
            try:
                yield number, read_line(data)
            except BadRow as bad:
                raise BadExport(f"{kind}, line {number}: {bad}.") from None

    def file(self, digest: str) -> bytes:
        """The bytes of a hash."""
        name = f"files/{digest}"
        if name not in self.parts or self._infos[name].file_size > MAX_FILE:
            raise BadExport(f"The file {digest[:64]!r} is named in a row and is not in the export, or is too big.")
        data = b"".join(self._blocks(name))
        if hashlib.sha256(data).hexdigest() != digest:
            raise BadExport(f"{name} is not the file of that hash.")
        return data

    @property
    def kinds(self) -> list[str]:
        """The kinds that it holds."""
        return [found[1] for name in self.parts if (found := DATA.fullmatch(name))]

    @property
    def files(self) -> list[str]:
        """The hashes of its files."""
        return [found[1] for name in self.parts if (found := FILE.fullmatch(name))]

    def _manifest(self) -> dict[str, Any]:
        if MANIFEST not in self._infos or self._infos[MANIFEST].file_size > MAX_MANIFEST:
            raise BadExport("It holds no manifest that can be read: it is cut off, or no export.")
        try:
            found = read_line(self._zip.read(MANIFEST))
        except (BadRow, *BROKEN) as bad:
            raise BadExport(f"The manifest {bad}.") from None
        form, version, parts = found.get("format"), found.get("format_version"), found.get("parts")
        if form != FORMAT or version != FORMAT_VERSION or isinstance(version, bool):
            raise BadExport(f"It is {str(form)[:40]!r} version {str(version)[:9]}, not {FORMAT} {FORMAT_VERSION}.")
        if not isinstance(parts, dict) or not all(isinstance(said, dict) for said in parts.values()):
            raise BadExport("The manifest names no parts.")
        return found

    def _check_names(self) -> None:
        there = set(self._infos) - {MANIFEST}
        if missing := sorted(self.parts.keys() - there):
            raise BadExport(f"It lacks {missing[0][:100]!r} ({len(missing)} missing).")
        if added := sorted(there - self.parts.keys()):
            raise BadExport(f"It holds {added[0][:100]!r}, which its manifest does not name.")

    def _blocks(self, name: str) -> Iterator[bytes]:
        left = self._infos[name].file_size
        try:
            with self._zip.open(name) as part:
                while block := part.read(BLOCK):
                    left -= len(block)
                    if left < 0:
                        raise BadExport(f"{name} unpacks to more than it says.")
                    yield block
        except BROKEN as fault:
            if isinstance(fault, BadExport):
                raise
            raise BadExport(f"{name} cannot be unpacked: {fault}") from None

    def _lines(self, name: str) -> Iterator[bytes]:
        rest = b""
        for block in self._blocks(name):
            *lines, rest = (rest + block).split(b"\n")
            yield from lines
            if len(rest) > MAX_LINE:
                raise BadExport(f"{name} holds a line of more than {MAX_LINE // 1024**2} MB.")
        if rest:
            raise BadExport(f"{name} ends within a line: it is cut off.")

    def __enter__(self) -> "Reader":
        return self

    def __exit__(self, *fault: object) -> None:
        self._zip.close()


def _bounded(infos: list[zipfile.ZipInfo]) -> dict[str, zipfile.ZipInfo]:
    """Every part by its name, once it is clear that each has a name and a size that an export has."""
    found: dict[str, zipfile.ZipInfo] = {}
    for info in infos:
        name = info.filename
        if name != MANIFEST and not DATA.fullmatch(name) and not FILE.fullmatch(name):
            raise BadExport(f"It holds {name[:100]!r}, which is no part of an export.")
        if name in found:
            raise BadExport(f"It holds {name!r} twice.")
        if info.flag_bits & 1:
            raise BadExport(f"{name} is locked by a password; an export has none.")
        if info.file_size > BLOCK and info.file_size > info.compress_size * MAX_RATIO:
            raise BadExport(f"{name} unpacks to {info.file_size // 1024**2:,} MB, far more than it can hold.")
        found[name] = info
    if sum(info.file_size for info in found.values()) > MAX_WHOLE:
        raise BadExport(f"It unpacks to more than {MAX_WHOLE // 1024**3} GB.")
    return found
