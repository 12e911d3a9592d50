"""Taking a copy of the database while it is in use, and putting one back: SQLite and PostgreSQL."""

import os
import sqlite3
import subprocess
from pathlib import Path
from typing import Any

from django.db import connection

from register.backup.archive import BadBackup

DUMPS = {"sqlite": "database.sqlite3", "postgresql": "database.dump"}
# Rows that `migrate` makes by itself; a database that holds nothing else is empty.
MADE_BY_MIGRATE = {
    "django_migrations",
    "django_content_type",
    "auth_permission",
    "auth_group",
    "register_audithead",
    "register_plant",
    "sqlite_sequence",
}


class DatabaseFault(RuntimeError):
    """A program of the database failed; the message is what it said."""


def dump(folder: Path) -> Path:
    """A consistent copy of the database in use, in a new file. Writers are not held up."""
    path = folder / DUMPS[connection.vendor]
    connection.ensure_connection()
    if connection.vendor == "sqlite":
        _dump_sqlite(path)
    else:
        _run(["pg_dump", "--format=custom", "--no-owner", "--no-privileges", f"--file={path}", _address()])
    return path


def load(path: Path) -> None:
    """Put a copy in the place of all that the database holds: all of it, or nothing.

    Raises BadBackup where it is the copy of another kind of database, DatabaseFault where the database refuses.
    """
    if path.name != DUMPS[connection.vendor]:
        raise BadBackup(f"The backup is of another kind of database; this register runs on {connection.vendor}.")
    connection.ensure_connection()
    if connection.vendor == "sqlite":
        _load_sqlite(path)
    else:
        _load_postgres(path)
    connection.close()


def holds_data() -> list[str]:
    """The tables that hold more than `migrate` puts there."""
    with connection.cursor() as cursor:
        names = sorted(set(connection.introspection.table_names(cursor)) - MADE_BY_MIGRATE)
        return [name for name in names if _has_rows(cursor, name)]


def _has_rows(cursor: Any, table: str) -> bool:
    cursor.execute(f"SELECT 1 FROM {connection.ops.quote_name(table)} LIMIT 1")
    return cursor.fetchone() is not None


def _dump_sqlite(path: Path) -> None:
    copy = sqlite3.connect(path)
    try:
        connection.connection.backup(copy)  # type: ignore[union-attr]
        copy.execute("PRAGMA journal_mode=DELETE")
        (found,) = copy.execute("PRAGMA integrity_check").fetchone()
    finally:
        copy.close()
    if found != "ok":
        raise DatabaseFault(f"The copy of the database is not sound: {found}")


def _load_sqlite(path: Path) -> None:
    source = sqlite3.connect(path)
    try:
        source.backup(connection.connection)  # type: ignore[arg-type]
    except sqlite3.Error as fault:
        raise DatabaseFault(f"The database refused ({fault}). Stop the register, then repeat.") from fault
    finally:
        source.close()


def _load_postgres(path: Path) -> None:
    """As one transaction: drop all, make all. The script is written first, so that a broken dump changes nothing."""
    script = path.with_suffix(".sql")
    _run(["pg_restore", "--no-owner", "--no-privileges", f"--file={script}", str(path)])
    address = _address()
    connection.close()
    fresh = "DROP SCHEMA public CASCADE; CREATE SCHEMA public;"
    options = ["--no-psqlrc", "--quiet", "--single-transaction", "--set=ON_ERROR_STOP=1", "--output=/dev/null"]
    _run(["psql", *options, f"--command={fresh}", f"--file={script}", address])


def _address() -> str:
    """The database for the programs of PostgreSQL, without the password."""
    from psycopg.conninfo import make_conninfo

    known = {"host", "port", "dbname", "user", "sslmode", "sslrootcert", "sslcert", "sslkey", "service"}
    given = connection.get_connection_params()
    return make_conninfo(**{key: value for key, value in given.items() if key in known})


def _run(command: list[str]) -> None:
    """Run a program of PostgreSQL; the password goes by the environment, where no list of processes shows it."""
    password = {"PGPASSWORD": str(connection.settings_dict["PASSWORD"])} if connection.settings_dict["PASSWORD"] else {}
    try:
        done = subprocess.run(command, env={**os.environ, **password}, capture_output=True, text=True, check=False)
    except FileNotFoundError as fault:
        raise DatabaseFault(f"{command[0]} is missing. Debian: apt-get install postgresql-client") from fault
    if done.returncode:
        raise DatabaseFault(f"{command[0]} failed: {done.stderr.strip()[-500:]}")
