"""Where workers say that they live and how far they are, and where they read that somebody wants them to stop.

A claim rests on a lock that the operating system or the database drops by itself when its holder dies, so neither a
clock nor a time-out decides whether a worker still lives. All of it works while a long transaction is open.
"""

import secrets
import socket
from dataclasses import dataclass
from functools import cache
from typing import Protocol

from django.conf import settings
from django.db import connection
from django.utils.module_loading import import_string

WORKER, REQUEST = "worker", "request"
"""What may hold a claim: a worker, or a request that does small work itself."""
KEYS = 2**31 - 1


@dataclass(frozen=True, slots=True)
class Said:
    """How far a piece of work says it is. `total` 0: not known."""

    done: int = 0
    total: int = 0
    message: str = ""


class Hold(Protocol):
    """A claim's holder: alive as long as `alive` says so; `release` gives it up."""

    name: str

    def alive(self) -> bool: ...
    def release(self) -> None: ...


class Board(Protocol):
    """What every board can do."""

    def hold(self, kind: str) -> Hold:
        """A holder of a new name, alive until it is released or its process dies."""
        ...

    def alive(self) -> frozenset[str]:
        """The keys of all holders that live; `key_of` takes the key out of a name."""
        ...

    def workers(self) -> int:
        """How many workers live."""
        ...

    def tell(self, work: int, said: Said) -> None:
        """Say how far a piece of work is; readable at once, also from inside a transaction."""
        ...

    def told(self, work: int) -> Said | None:
        """What was last said of it, or None where the row of the work knows best."""
        ...

    def ask_cancel(self, work: int, by: str) -> None:
        """Ask that it be given up."""
        ...

    def cancel_asked(self, work: int) -> str:
        """Who asked that it be given up, or ""."""
        ...

    def forget(self, work: int) -> None:
        """It is over: nothing more is kept of it here."""
        ...


def new_name(kind: str) -> str:
    """A name that no other holder has. Example: "worker-shop1-7f3a90c2"."""
    return f"{kind}-{socket.gethostname()[:30]}-{secrets.randbelow(KEYS):08x}"


def key_of(name: str) -> str:
    """The part of a holder's name that is its own. Example: key_of("worker-shop1-7f3a90c2") is "7f3a90c2"."""
    return name.rpartition("-")[2]


def board() -> Board:
    """The board of this register: in the database on PostgreSQL, in files beside it on SQLite."""
    named = getattr(settings, "BACKGROUND_BOARD", "")
    kind = "Database" if connection.vendor == "postgresql" else "File"
    return _made(named or f"register.background.board_{kind.lower()}.{kind}Board")


@cache
def _made(path: str) -> Board:
    made: Board = import_string(path)()
    return made
