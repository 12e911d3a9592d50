"""Seals against what is on file: the chain of seals, each sealed row, and each row against its last version."""

from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.apps import apps
from django.core.exceptions import ObjectDoesNotExist
from django.db import models

from register.base.days import at_the_works
from register.trail.chain import START
from register.trail.models import AuditEntry, AuditHead, VersionSeal
from register.trail.seal import DIGEST_BYTES, read, row_digest, seal_hash
from register.trail.sealing import last_of, sealed_fields
from register.trail.versions import DELETED, SILENT, gone, unlike_rows, versioned

ROWS_AT_ONCE = 2000
DROPPED: dict[str, frozenset[str]] = {}
"""By table: columns that seals of earlier versions hold and that a migration took away, which names them here."""


@dataclass(slots=True)
class Kept:
    """What the seals hold of one table: the digest of each row by its key, and over which columns it is.

    Packed, since a register holds a million versions and more.
    """

    digests: bytearray = field(default_factory=bytearray)
    over: "array[int]" = field(default_factory=lambda: array("H"))
    """By key: the place in `columns`, counted from 1; 0 for a row that is not sealed."""
    columns: list[str] = field(default_factory=list)
    sealed: int = 0
    latest: str = ""
    """The columns of the last seal."""

    def begin(self, kind: str, columns: str) -> str:
        """Take up the next seal of the table; why its columns cannot be, or "".

        A seal over fewer columns than the one before, or over none that there ever was, would let the rest be changed.
        """
        if columns == self.latest:
            return ""
        now, said = _columns(kind), set(columns.split())
        if now is not None and (left := sorted(set(self.latest.split()) & now - said)):
            return f"leaves out {', '.join(left)}, which the one before it holds"
        if now is not None and (odd := sorted(said - now - DROPPED.get(kind, frozenset()))):
            return f"holds {', '.join(odd)}, which the table never had"
        self.latest = columns
        return ""

    def add(self, pk: int, digest: bytes, columns: str) -> bool:
        """Take a row; False where it was sealed already with another digest."""
        if pk >= len(self.over):
            more = max(pk + 1, 2 * len(self.over)) - len(self.over)
            self.over.extend(array("H", bytes(2 * more)))
            self.digests.extend(bytes(DIGEST_BYTES * more))
        if self.over[pk]:
            return self.of(pk) == digest
        if columns not in self.columns:
            self.columns.append(columns)
        self.over[pk] = self.columns.index(columns) + 1
        self.digests[pk * DIGEST_BYTES : (pk + 1) * DIGEST_BYTES] = digest
        self.sealed += 1
        return True

    def place(self, pk: int) -> int:
        """Where in `columns` a row stands, from 1; 0 where nothing sealed it."""
        return self.over[pk] if 0 <= pk < len(self.over) else 0

    def of(self, pk: int) -> bytes:
        """The digest of a sealed row."""
        return bytes(self.digests[pk * DIGEST_BYTES : (pk + 1) * DIGEST_BYTES])


def _columns(kind: str) -> set[str] | None:
    """The sealed columns of a table as it is now; None where there is no such table any more."""
    try:
        return set(sealed_fields(apps.get_model(kind)))
    except LookupError:
        return None


def written_once() -> list[type[models.Model]]:
    """Tables whose rows are sealed as they are written and never change."""
    return [model for model in apps.get_models() if getattr(model, "sealed_rows", False)]


def unlike() -> Iterator[str]:
    """In a sentence each: where the chain of seals breaks, rows that are not as they were sealed, rows that are not
    as their last version has them.
    """
    kept: dict[str, Kept] = {}
    if problem := _walk(kept):
        yield f"The seals of versions do not hold: {problem}"
        return
    pairs = list(versioned(apps.get_models()))
    for table in [*(versions for _, versions in pairs), *written_once()]:
        yield from _rows(table, kept.pop(table._meta.label_lower, Kept()))
    for rows, versions in pairs:
        yield from _as_last(rows, versions)


def _walk(kept: dict[str, Kept]) -> str:
    """Take up all seals; why they do not follow one another, or ""."""
    acts = AuditEntry.everything.filter(versions__isnull=False).order_by().values_list("versions", flat=True)
    noted = dict(map(last_of, acts.distinct()))
    head = AuditHead.objects.filter(pk=1).first()
    number, last = last_of(head.versions if head is not None else None)
    noted.setdefault(number, last)
    previous, at = START, 0
    for seal in VersionSeal.objects.order_by("number").iterator(ROWS_AT_ONCE):
        at += 1
        if seal.number != at:
            return f"seal {at} is missing."
        facts = (seal.number, seal.at, seal.kind, seal.fields, seal.rows, previous)
        if seal.previous_hash != previous or seal.hash != seal_hash(*facts):
            return f"seal {at} of {at_the_works(seal.at)} ({seal.kind}) was changed after it was written."
        if noted.get(at, seal.hash) != seal.hash:
            return f"seal {at} of {at_the_works(seal.at)} ({seal.kind}) is not the one that the trail notes."
        previous, own = seal.hash, kept.setdefault(seal.kind, Kept())
        if left := own.begin(seal.kind, seal.fields):
            return f"seal {at} of {at_the_works(seal.at)} ({seal.kind}) {left}."
        for pk, digest in read(seal.rows):
            if not own.add(pk, digest, seal.fields):
                return f"seal {at} of {at_the_works(seal.at)} seals row {pk} of {seal.kind} once more, and otherwise."
    missing = max(noted) - at
    return f"seals {at + 1} to {max(noted)} are missing at the end." if missing > 0 else ""


def _rows(table: Any, kept: Kept) -> Iterator[str]:
    """Rows that are not as they were sealed, that nothing sealed, or that are gone."""
    names, found = sealed_fields(table), 0
    chosen = [_places(columns.split(), names) for columns in kept.columns]
    for pk, *values in table._base_manager.order_by("pk").values_list("pk", *names).iterator(ROWS_AT_ONCE):
        place = kept.place(pk)
        if not place:
            yield f"{_named(table, pk)} is on file, and no seal holds it."
            continue
        found += 1
        places = chosen[place - 1]
        if places is not None and row_digest(pk, [values[at] for at in places]) != kept.of(pk):
            yield f"{_named(table, pk)} was changed after it was sealed."
    if found < kept.sealed:
        held = set(table._base_manager.values_list("pk", flat=True))
        first = next(pk for pk, place in enumerate(kept.over) if place and pk not in held)
        yield f"{_what(table)} {first} was sealed, and is gone."


def _places(sealed: list[str], names: list[str]) -> list[int] | None:
    """Where the sealed columns stand among those of now; None where one is no longer there to be compared."""
    return [names.index(name) for name in sealed] if set(names).issuperset(sealed) else None


def _as_last(rows: Any, versions: Any) -> Iterator[str]:
    """Rows that somebody changed, put in or took away past their versions."""
    for pk in unlike_rows(rows, versions):
        row, last = rows._base_manager.get(pk=pk), versions._base_manager.filter(id=pk).order_by("-pk").first()
        what = f"{_what(rows)} {_said(row, pk)}"
        if last is None or last.history_type == DELETED:
            yield f"{what} is on file, and {'its last version says that it was deleted' if last else 'has no version'}."
            continue
        names = [
            str(field.verbose_name)
            for field in rows._meta.concrete_fields
            if field.column not in SILENT and getattr(row, field.attname) != getattr(last, field.attname)
        ]
        yield f"{what} is not as its last version has it ({_by(last)}): {', '.join(names) or 'its form'} changed since."
    for pk in gone(rows, versions):
        last = versions._base_manager.get(pk=pk)
        yield f"{_what(rows)} {_said(last, last.id)} is gone, and no version says that it was deleted ({_by(last)})."


def _named(table: Any, pk: int) -> str:
    """A sealed row in words: whose version, of when and by whom."""
    row = table._base_manager.get(pk=pk)
    if hasattr(row, "history_date"):
        return f"The version of {_what(table).lower()} {_said(row, row.id)} ({_by(row)}, row {pk})"
    return f"{_what(table)} {_said(row, pk)}"


def _what(table: Any) -> str:
    name = str(table._meta.verbose_name)
    return name.removeprefix("historical ").capitalize()


def _by(version: Any) -> str:
    return f"{at_the_works(version.history_date)} {version.history_user_name or 'the register'}"


def _said(row: Any, key: int) -> str:
    """What a row calls itself; by its key where what it belongs to is gone."""
    try:
        return str(getattr(row, "history_object", row))
    except (ObjectDoesNotExist, AttributeError):
        return str(key)
