"""The empty SQLite database of the tests, made once by all migrations and copied from then on.

The migrations take far longer than most tests. Their outcome is kept in var/ under a name made of everything that
they are written in: the migrations, what runs after them, and all modules of the project that these import, however
far off. So no change that a migration could notice is hidden by what is kept; `migrate` runs on each copy all the same.
"""

import ast
import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from fcntl import LOCK_EX, flock
from pathlib import Path
from typing import Any

import django
import pytest
from django.db.backends.sqlite3.creation import DatabaseCreation

ROOT = Path(__file__).resolve().parent.parent
KEPT = ROOT / "var" / "test-image"
BEGUN_WITH = ("*/migrations/*.py", "*/apps.py", "register/settings.py")
"""The migrations, the apps that act after them, and what says which apps there are."""
BESIDE = ("requirements*.txt",)
"""The migrations of others, by their versions."""


def image() -> Path:
    """The file of the database that today's migrations make; it need not be there."""
    told = hashlib.sha256(f"{django.VERSION} {sqlite3.sqlite_version}".encode())
    for path in sorted({*written_in(ROOT), *_found(ROOT, BESIDE)}):
        told.update(f"{path.relative_to(ROOT)}\0".encode() + path.read_bytes())
    return KEPT / f"{told.hexdigest()[:32]}.sqlite3"


def written_in(root: Path) -> set[Path]:
    """The files that make the database of the project below `root`: those it begins with, and all they import."""
    found: set[Path] = set()
    left = _found(root, BEGUN_WITH)
    while left:
        path = left.pop()
        if path not in found:
            found.add(path)
            left |= {file for name in _imported(path) for file in _files_of(root, name)}
    return found


def _found(root: Path, patterns: Iterable[str]) -> set[Path]:
    return {path for pattern in patterns for path in root.glob(pattern)}


def _imported(path: Path) -> Iterator[str]:
    """What a file imports anywhere in it, as dotted names; the last part may be a name within a module."""
    for node in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{one.name}" for one in node.names)


def _files_of(root: Path, name: str) -> Iterator[Path]:
    """The modules of the project on the way to a dotted name, packages included; none of other libraries."""
    at = root
    for part in name.split("."):
        at /= part
        yield from (path for path in (at.with_name(f"{part}.py"), at / "__init__.py") if path.is_file())


def lay_out(folder: Path) -> None:
    """Put an empty register into a folder (VAR_DIR): a copy of the kept one; where none is kept, by all migrations."""
    kept = image()
    if kept.exists():
        shutil.copyfile(kept, folder / "register.sqlite3")
        return
    environment = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    environment |= {"VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "register.settings"}
    subprocess.run([sys.executable, "manage.py", "migrate", "-v0"], cwd=ROOT, env=environment, check=True)


@contextmanager
def copied() -> Iterator[None]:
    """While this lasts a new test database on SQLite begins as the kept one; where there is none it is kept."""
    plain_create, plain_begin = DatabaseCreation.create_test_db, DatabaseCreation._create_test_db
    kept = image()

    def begin(self: DatabaseCreation, verbosity: int, autoclobber: bool, keepdb: bool = False) -> str:
        name: str = plain_begin(self, verbosity, autoclobber, keepdb)
        if kept.exists():
            self.connection.close()
            self.connection.settings_dict["NAME"] = name
            self.connection.ensure_connection()
            with closing(sqlite3.connect(kept)) as held:
                held.backup(self.connection.connection)
        return name

    def create(self: DatabaseCreation, *args: Any, **kwargs: Any) -> str:
        kept.parent.mkdir(parents=True, exist_ok=True)
        # One process runs the migrations, the others wait for what it keeps.
        with (kept.parent / "lock").open("w") as lock:
            if not kept.exists():
                flock(lock, LOCK_EX)
            name: str = plain_create(self, *args, **kwargs)
            if not kept.exists():
                _keep(self.connection.connection, kept)
        return name

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(DatabaseCreation, "create_test_db", create)
        patch.setattr(DatabaseCreation, "_create_test_db", begin)
        yield


def _keep(made: sqlite3.Connection, kept: Path) -> None:
    """Keep a database under its name, whole or not at all, and let go of those of other migrations."""
    for old in kept.parent.glob("*.sqlite3*"):
        old.unlink(missing_ok=True)
    part = kept.with_suffix(".sqlite3-part")
    with closing(sqlite3.connect(part)) as copy:
        made.backup(copy)
    part.replace(kept)
