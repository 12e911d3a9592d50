"""Versions and rows that are written once get a seal in the transaction that writes them.

A seal notes the digest of each row; the seals are chained by hash, and every act notes the seal that was the last. So a
version that is changed, dated back, slipped in or taken away past the register is found (register.trail.sealed).
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from itertools import islice
from typing import Any

from django.db import connection, models, transaction
from django.dispatch import receiver
from django.utils import timezone
from simple_history.manager import HistoryManager
from simple_history.signals import post_create_historical_record

from register.trail.chain import START
from register.trail.models import VersionSeal, held_head
from register.trail.seal import row_digest, seal_hash, written

AT_ONCE = 500
ROWS_IN_A_SEAL = 5000

Waiting = dict[type[models.Model], list[int]]
_waiting: ContextVar[Waiting | None] = ContextVar("versions_to_seal", default=None)


def sealed_fields(model: type[models.Model]) -> list[str]:
    """The columns that a seal holds: all but the key, and such as the register empties itself (an account deleted)."""
    return [
        field.attname
        for field in model._meta.concrete_fields
        if not field.primary_key and getattr(field.remote_field, "on_delete", None) is not models.SET_NULL
    ]


def digests(model: type[models.Model], pks: Sequence[int], fields: Sequence[str]) -> Iterator[tuple[int, bytes]]:
    """Key and digest of each of these rows that is on file, as it is on file."""
    for some in _parts(sorted(set(pks)), AT_ONCE):
        rows = model._base_manager.filter(pk__in=some).order_by("pk").values_list("pk", *fields)
        yield from ((pk, row_digest(pk, values)) for pk, *values in rows)


def seal(model: type[models.Model], pks: Iterable[int]) -> None:
    """Seal rows that were just written, in the transaction that wrote them; within `gathered`, at its end."""
    waiting = _waiting.get()
    if waiting is not None:
        waiting.setdefault(model, []).extend(pks)
    elif keys := list(pks):
        write_seals(model, keys)


def keep_rows(model: Any, rows: Sequence[Any]) -> None:
    """Write rows that are never changed (`sealed_rows`), and seal them."""
    with transaction.atomic(savepoint=False):
        made = model.objects.bulk_create(rows, batch_size=AT_ONCE)
        seal(model, [row.pk for row in made])


@contextmanager
def gathered() -> Iterator[None]:
    """Work on many rows: what is written inside gets one seal for each kind, at the end and in one transaction.

    The end of the chain is then held for a moment only, not for as long as the work lasts.
    """
    if _waiting.get() is not None:
        yield
        return
    found: Waiting = {}
    with transaction.atomic():
        token = _waiting.set(found)
        try:
            yield
        finally:
            _waiting.reset(token)
        _write(found)


def seal_waiting() -> None:
    """Seal what was gathered so far, so that the act that is about to be written notes it."""
    _write(_waiting.get() or {})


def _write(found: Waiting) -> None:
    while found:
        write_seals(*found.popitem())


def write_seals(model: Any, pks: Sequence[int], seals: Any = VersionSeal, held: Any = held_head) -> None:
    """Write the seal of these rows; of very many, several. A migration gives the tables as they are in its time."""
    fields = sealed_fields(model)
    with transaction.atomic(savepoint=False):
        head = held(connection.alias)
        for rows in _parts(digests(model, pks, fields), ROWS_IN_A_SEAL):
            number, previous = last_of(head.versions)
            facts = {"at": timezone.now(), "kind": model._meta.label_lower}
            facts |= {"fields": " ".join(fields), "rows": written(rows)}
            number, digest = number + 1, seal_hash(number + 1, previous_hash=previous, **facts)
            seals._base_manager.create(number=number, previous_hash=previous, hash=digest, **facts)
            head.versions = f"{number}:{digest}"
        head.save()


def last_of(versions: str | None) -> tuple[int, str]:
    """Number and hash of the last seal, from how a head or an act notes it."""
    number, _, digest = (versions or f"0:{START}").partition(":")
    return int(number), digest


def _parts(rows: Iterable[Any], size: int) -> Iterator[list[Any]]:
    left = iter(rows)
    while part := list(islice(left, size)):
        yield part


class SealedVersions(HistoryManager):
    """Versions that are written many at once say nothing to signals; they are sealed here."""

    def bulk_history_create(self, *args: Any, **kwargs: Any) -> Any:
        with transaction.atomic(savepoint=False):
            made = super().bulk_history_create(*args, **kwargs)
            if made:
                seal(self.model, [version.pk for version in made])
            return made


@receiver(post_create_historical_record, dispatch_uid="register.trail.seal_version")
def seal_version(sender: Any, history_instance: Any, **kwargs: Any) -> None:
    """Seal the version that was just written."""
    seal(type(history_instance), [history_instance.pk])
