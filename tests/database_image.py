"""The empty SQLite database of the tests, made once by all migrations and copied from then on.

The migrations take far longer than most tests. Their outcome is kept in var/ under a name made of everything that
they are written in, so that a changed migration makes a new one; `migrate` runs on each copy all the same.
"""

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from fcntl import LOCK_EX, flock
from pathlib import Path
from typing import Any

import django
import pytest
from django.db.backends.sqlite3.creation import DatabaseCreation

ROOT = Path(__file__).resolve().parent.parent
KEPT = ROOT / "var" / "test-image"
WRITTEN_IN = ("*/migrations/*.py", "*/triggers.py", "register/apps.py", "register/plants/*.py", "register/roles.py",
              "register/trail/*.py", "joints/choices.py", "requirements*.txt")  # fmt: skip
"""The migrations and what they take from the register."""


def image() -> Path:
    """The file of the database that today's migrations make; it need not be there."""
    told = hashlib.sha256(f"{django.VERSION} {sqlite3.sqlite_version}".encode())
    for path in sorted({path for pattern in WRITTEN_IN for path in ROOT.glob(pattern)}):
        told.update(f"{path.relative_to(ROOT)}\0".encode() + path.read_bytes())
    return KEPT / f"{told.hexdigest()[:32]}.sqlite3"


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
