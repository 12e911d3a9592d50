"""The bytes: written whole under their own hash, read back only if they still have it."""

import os
import tempfile
from hashlib import sha256
from pathlib import Path

from django.conf import settings


class Damaged(OSError):
    """The file is missing or no longer what was attached; restore it from the backup."""


def folder() -> Path:
    """Where evidence lies, VAR_DIR/evidence unless EVIDENCE_DIR is set; part of every backup."""
    return Path(getattr(settings, "EVIDENCE_DIR", "") or Path(settings.VAR_DIR) / "evidence")


def path_of(digest: str) -> Path:
    """The file of a hash. Raises ValueError for what is no SHA-256."""
    if len(digest) != 64 or not set(digest) <= set("0123456789abcdef"):
        raise ValueError("no SHA-256")
    return folder() / digest[:2] / digest


def digests() -> set[str]:
    """The hashes of all that is kept."""
    found = {path.name for path in folder().glob("[0-9a-f][0-9a-f]/*")}
    return {name for name in found if len(name) == 64 and set(name) <= set("0123456789abcdef")}


def keep(data: bytes) -> str:
    """Keep bytes and return their hash. The same bytes are kept once; a crash half-way leaves no file of that name."""
    digest = sha256(data).hexdigest()
    path = path_of(digest)
    if path.exists() and sha256(path.read_bytes()).hexdigest() == digest:
        return digest
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, unfinished = tempfile.mkstemp(dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(unfinished, path)
    except BaseException:
        Path(unfinished).unlink(missing_ok=True)
        raise
    return digest


def read(digest: str) -> bytes:
    """The bytes of a hash. Raises Damaged where they are missing or differ."""
    try:
        data = path_of(digest).read_bytes()
    except OSError:
        raise Damaged(f"the file {digest[:12]} is missing from {folder()}") from None
    if sha256(data).hexdigest() != digest:
        raise Damaged(f"the file {digest[:12]} in {folder()} is not what was attached")
    return data
