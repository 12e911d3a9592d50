"""Everything out: a line for each row of each kind, and every file by its hash, as of one moment."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.db import connection, transaction
from django.db.migrations.recorder import MigrationRecorder
from django.db.models import Model
from django.utils import timezone

from register.evidence import store
from register.evidence.models import EvidenceFile
from register.exchange.archive import Writer
from register.exchange.kinds import LEFT_OUT, kinds
from register.exchange.values import fields_of, line, plain
from register.models import AuditHead
from register.users.accounts import roles_of

ROWS_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Done:
    """What went out or came in."""

    sha256: str
    rows: int
    files: int
    trail_end: str


def take_out(target: Path) -> Done:
    """Write the whole register to a new file. Raises FileExistsError, register.evidence.store.Damaged, OSError.

    Bytes of rows (issued sheets) are read a second time when the files are written, so that none is held in memory.
    """
    with Writer(target) as writer, snapshot():
        kept: dict[str, tuple[type[Model], Any, str]] = {}
        counted = {label: writer.add(f"data/{label}.jsonl", _lines(model, kept)) for label, model in kinds().items()}
        stored = _stored()
        files = _files(writer, kept, stored)
        end = str(AuditHead.objects.filter(pk=1).first() or "")
        about = {
            "version": settings.VERSION,
            "made_at": timezone.now().isoformat(),
            "time_zone": settings.TIME_ZONE,
            "trail_end": end,
            "migrations": sorted(map(list, MigrationRecorder(connection).applied_migrations())),
            "rows": counted,
            "stored": stored,
            "left_out": dict(LEFT_OUT),
        }
        return Done(writer.finish(about), sum(counted.values()), files, end)


@contextmanager
def snapshot() -> Iterator[None]:
    """All that is read is as of one moment, and nobody who writes is held up."""
    if connection.in_atomic_block:
        yield
    elif connection.vendor == "sqlite":
        connection.ensure_connection()
        # A plain BEGIN reads and takes no lock for writing; Django's own would (settings.SQLITE_OPTIONS).
        with connection.cursor() as cursor:
            cursor.execute("BEGIN")
            try:
                yield
            finally:
                cursor.execute("ROLLBACK")
    else:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            yield


def _lines(model: type[Model], kept: dict[str, tuple[type[Model], Any, str]]) -> Iterator[bytes]:
    """The rows of a table, in order of key."""
    names = [field.attname for field in fields_of(model)]
    for row in model._base_manager.order_by("pk").iterator(chunk_size=ROWS_AT_ONCE):
        values: dict[str, Any] = {}
        for name in names:
            column = (model, row.pk, name)
            values[name] = plain(getattr(row, name), lambda data, at=column: _noted(data, kept, at))  # type: ignore[misc]
        if isinstance(row, User):
            values["roles"] = roles_of(row)
        yield line(values)


def _noted(data: bytes, kept: dict[str, tuple[type[Model], Any, str]], at: tuple[type[Model], Any, str]) -> str:
    from hashlib import sha256

    digest = sha256(data).hexdigest()
    kept.setdefault(digest, at)
    return digest


def _stored() -> list[str]:
    """The hashes of what lies in the store: scans, lists and models that were sent in; of missing scans too."""
    found = store.digests() | set(EvidenceFile.objects.values_list("sha256", flat=True).distinct())
    return sorted(found)


def _files(writer: Writer, kept: dict[str, tuple[type[Model], Any, str]], stored: list[str]) -> int:
    """The bytes of rows, then what is stored, each once."""
    for digest, (model, pk, name) in sorted(kept.items()):
        data = model._base_manager.values_list(name, flat=True).get(pk=pk)
        writer.add(f"files/{digest}", iter([bytes(data)]))
    others = [digest for digest in stored if digest not in kept]
    for digest in others:
        writer.add(f"files/{digest}", iter([store.read(digest)]))
    return len(kept) + len(others)
