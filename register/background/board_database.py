"""The board in PostgreSQL: advisory locks for who lives, a connection of its own for what is said.

Any number of workers on any number of machines share it. Each holder keeps one connection beside Django's, because
what Django's own connection writes inside a transaction is seen by nobody before its end. A pooler that shares
connections between transactions must not stand in between: the lock belongs to the session.
"""

from contextlib import suppress
from typing import Any

import psycopg
from django.db import Error, connection

from register.background.board import REQUEST, WORKER, Said, key_of, new_name

SPACES = {WORKER: 0x57454C44, REQUEST: 0x57454C45}
"""First halves of the advisory locks, so that they meet no others of the same database."""
TABLE = "register_work"


class DatabaseHold:
    """An advisory lock on a session of its own: the server drops it when the connection ends."""

    def __init__(self, kind: str) -> None:
        self._session = new_session()
        self.name = ""
        with connection.wrap_database_errors:
            while not self.name:
                name = new_name(kind)
                key = int(key_of(name), 16)
                taken = self._session.execute("SELECT pg_try_advisory_lock(%s, %s)", [SPACES[kind], key]).fetchone()
                self.name = name if taken[0] else ""

    def alive(self) -> bool:
        """True as long as the server answers on the session that holds the lock."""
        try:
            self._session.execute("SELECT 1")
        except psycopg.Error:
            return False
        return True

    def release(self) -> None:
        """End the session, and with it the lock."""
        self._session.close()


class DatabaseBoard:
    """Columns of the work itself, written past Django's connection."""

    def __init__(self) -> None:
        self._kept: Any = None

    def hold(self, kind: str) -> DatabaseHold:
        return DatabaseHold(kind)

    def alive(self) -> frozenset[str]:
        return frozenset(_held(list(SPACES.values())))

    def workers(self) -> int:
        return len(_held([SPACES[WORKER]]))

    def tell(self, work: int, said: Said) -> None:
        values = [said.done, said.total, said.message, work]
        self._ask(f"UPDATE {TABLE} SET done = %s, total = %s, message = %s WHERE id = %s AND state = 'running'", values)

    def told(self, work: int) -> Said | None:
        return None

    def ask_cancel(self, work: int, by: str) -> None:
        self._ask(f"UPDATE {TABLE} SET cancel_by = %s WHERE id = %s", [by, work])

    def cancel_asked(self, work: int) -> str:
        found = self._ask(f"SELECT cancel_by FROM {TABLE} WHERE id = %s", [work])
        row = found.fetchone() if found else None
        return row[0] if row else ""

    def forget(self, work: int) -> None:
        """Nothing is kept apart from the row."""

    def _ask(self, statement: str, values: list[Any]) -> Any:
        """Ask on the session kept for it, or on a new one where the server was restarted; None where neither answers.

        How far a piece of work is may stay unsaid: that must never end the work.
        """
        for _ in range(2):
            with suppress(psycopg.Error, Error):
                self._kept = self._kept if self._kept and not self._kept.closed else new_session()
                return self._kept.execute(statement, values)
            self._kept = None
        return None


def new_session() -> Any:
    """A connection of its own, each statement by itself; a peer that is gone is noticed within a minute."""
    # Past Django's cursors, so that nothing turns the driver's errors into Django's by itself.
    with connection.wrap_database_errors:
        session = connection.get_new_connection(connection.get_connection_params())
        session.autocommit = True
        session.execute("SET tcp_keepalives_idle = 20")
        session.execute("SET tcp_keepalives_interval = 10")
        session.execute("SET tcp_keepalives_count = 3")
        session.execute("SET lock_timeout = '2s'")
    return session


def _held(spaces: list[int]) -> list[str]:
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT objid FROM pg_locks WHERE locktype = 'advisory' AND granted AND objsubid = 2 AND classid::bigint "
            "= ANY(%s) AND database = (SELECT oid FROM pg_database WHERE datname = current_database())",
            [spaces],
        )
        return [f"{key:08x}" for (key,) in cursor.fetchall()]
