"""The archive: a tar.gz of the database, the files, and a manifest that names each with its SHA-256.

database.sqlite3 or database.dump     the database
files/<folder>/...                    the folders of settings.BACKED_UP_FOLDERS
manifest.json                         last: format, version, instant, database, migrations, end of the trail, parts
"""

import hashlib
import json
import os
import tarfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import IO, Any

FORMAT = "weld-register-backup"
FORMAT_VERSION = 1
MANIFEST = "manifest.json"
FILES = "files"
BLOCK = 1024 * 1024


class BadBackup(ValueError):
    """The archive cannot be used; the message says why."""


class _Hashed:
    """A file that is hashed while it is read."""

    def __init__(self, file: IO[bytes]) -> None:
        self.file, self.hash, self.size = file, hashlib.sha256(), 0

    def read(self, size: int = -1) -> bytes:
        block = self.file.read(size)
        self.hash.update(block)
        self.size += len(block)
        return block


def pack(target: Path, database: Path, folders: dict[str, Path], about: dict[str, Any]) -> str:
    """Write the archive whole or not at all, readable by its owner only; return its SHA-256.

    The database goes in first: files are only ever added, so each that it names is there when the folders are read.
    Raises FileExistsError if the target is there already.
    """
    if target.exists():
        raise FileExistsError(f"{target} is there already; a backup never overwrites another.")
    draft = target.with_name(f".{target.name}.{os.getpid()}")
    try:
        with draft.open("xb") as file:
            os.chmod(draft, 0o600)
            with tarfile.open(fileobj=file, mode="w:gz", format=tarfile.PAX_FORMAT) as tar:
                _fill(tar, database, folders, about)
            file.flush()
            os.fsync(file.fileno())
        os.link(draft, target)
    finally:
        draft.unlink(missing_ok=True)
    return sha256(target)


def _fill(tar: tarfile.TarFile, database: Path, folders: dict[str, Path], about: dict[str, Any]) -> None:
    parts = {database.name: _add(tar, database, database.name)}
    for folder, top in sorted(folders.items()):
        for path in walk(top):
            name = str(PurePosixPath(FILES, folder, *path.relative_to(top).parts))
            parts[name] = _add(tar, path, name)
    said = {"format": FORMAT, "format_version": FORMAT_VERSION, **about, "database": database.name, "parts": parts}
    text = json.dumps(said, indent=1, ensure_ascii=False).encode()
    info = tarfile.TarInfo(MANIFEST)
    info.size, info.mode = len(text), 0o600
    tar.addfile(info, BytesIO(text))


def _add(tar: tarfile.TarFile, path: Path, name: str) -> dict[str, Any]:
    with path.open("rb") as file:
        info = tarfile.TarInfo(name)
        stat = os.fstat(file.fileno())
        info.size, info.mtime, info.mode = stat.st_size, int(stat.st_mtime), 0o600
        hashed = _Hashed(file)
        tar.addfile(info, hashed)  # type: ignore[arg-type]
    return {"sha256": hashed.hash.hexdigest(), "size": hashed.size}


def walk(top: Path) -> Iterator[Path]:
    """Every plain file below a folder, in order; links are left out."""
    for folder, subfolders, names in os.walk(top):
        subfolders.sort()
        for name in sorted(names):
            path = Path(folder, name)
            if path.is_file() and not path.is_symlink():
                yield path


def unpack(archive: Path, into: Path) -> dict[str, Any]:
    """Unpack into an empty folder and hold every part to its checksum; return the manifest. Raises BadBackup."""
    try:
        with tarfile.open(archive, "r:gz") as tar:
            for member in tar:
                _take_out(tar, member, into)
    except (tarfile.TarError, EOFError, OSError) as fault:
        raise BadBackup(f"{archive} cannot be read as a backup: {fault}") from fault
    manifest = read_manifest(into)
    check_parts(manifest["parts"], into)
    return manifest


def _take_out(tar: tarfile.TarFile, member: tarfile.TarInfo, into: Path) -> None:
    """One plain file below `into`, written by ourselves: no links, no owners, no way out of the folder."""
    parts = PurePosixPath(member.name).parts
    source = tar.extractfile(member) if member.isfile() else None
    if source is None or not parts or ".." in parts or member.name.startswith("/"):
        raise BadBackup(f"The backup holds {member.name[:100]!r}, which is no plain file below it.")
    target = into.joinpath(*parts)
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("xb") as file:
        while block := source.read(BLOCK):
            file.write(block)


def read_manifest(folder: Path) -> dict[str, Any]:
    """The manifest of an unpacked archive. Raises BadBackup."""
    try:
        manifest: dict[str, Any] = json.loads((folder / MANIFEST).read_bytes())
        form, version, parts = manifest["format"], manifest["format_version"], manifest["parts"]
        if form != FORMAT or version != FORMAT_VERSION or manifest["database"] not in parts:
            raise BadBackup(f"The manifest is of {form!r} version {version!r}, not {FORMAT} version {FORMAT_VERSION}.")
    except (OSError, ValueError, KeyError, TypeError) as fault:
        if isinstance(fault, BadBackup):
            raise
        raise BadBackup("The backup holds no manifest that can be read: it is cut off, or no backup.") from fault
    return manifest


def check_parts(parts: dict[str, dict[str, Any]], folder: Path) -> None:
    """Hold every file to the manifest: none changed, missing or added. Raises BadBackup."""
    there = {path.relative_to(folder).as_posix() for path in walk(folder)} - {MANIFEST}
    if missing := sorted(parts.keys() - there):
        raise BadBackup(f"The backup lacks {missing[0]} ({len(missing)} missing).")
    if added := sorted(there - parts.keys()):
        raise BadBackup(f"The backup holds {added[0]}, which its manifest does not name.")
    for name, part in parts.items():
        if sha256(folder / name) != part["sha256"]:
            raise BadBackup(f"{name} is damaged: its checksum is not the one in the manifest.")


def sha256(path: Path) -> str:
    """The checksum of a file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
