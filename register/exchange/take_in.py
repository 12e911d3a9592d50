"""Everything in again, into an empty register: all of it or nothing, and the trail must verify as it did."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth.models import Group, User
from django.core.management.color import no_style
from django.db import DatabaseError, connection, transaction
from django.db.models import Model

from register.audit import record_act
from register.backup.databases import holds_data
from register.evidence import store
from register.evidence.models import EvidenceFile
from register.exchange.archive import BadExport, Reader
from register.exchange.kinds import kinds
from register.exchange.take_out import Done
from register.exchange.values import BadRow, Row, instance
from register.models import AccountState, AuditEntry, AuditHead, Plant, VersionSeal
from register.roles import Role
from register.trail.verify import verify
from register.users.stand import SECRETS
from register.users.witness import keep, unlike

AT_ONCE = 200
ACT = "took in an export"

Rows = Iterator[tuple[int, Row]]
Insert = Callable[[type[Model], list[Any]], None]
Loader = Callable[[Mapping[str, Callable[[], Rows]], Callable[[str, int, Row], Any], Insert], None]
"""A kind of loading of its own (settings.EXCHANGE_LOADERS): rows by kind, row to object, and how objects go in."""


class NotEmpty(ValueError):
    """There is data in the way; the message names it."""


def take_in(source: Path) -> Done:
    """Read an export into this register. Raises NotEmpty, BadExport; then nothing is saved and no file is left."""
    if found := holds_data():
        raise NotEmpty(f"The register holds data ({', '.join(found[:5])}). An export goes into an empty one only.")
    with Reader(source) as reader:
        _refuse_unknown(reader)
        reader.check()
        with _new_files(reader) as read:
            try:
                with transaction.atomic():
                    rows = _load(reader, read)
                    _check_accounts(reader)
                    _check_trail(reader)
                    note = f"version {str(reader.manifest.get('version'))[:20]}, made {_text(reader, 'made_at')}"
                    record_act(None, ACT, after={"trail_end": _text(reader, "trail_end"), "rows": rows}, note=note)
            except DatabaseError as refusal:
                raise BadExport(f"The database refuses what it holds: {refusal}") from None
        return Done("", rows, len(reader.files), _text(reader, "trail_end"))


def _text(reader: Reader, name: str) -> str:
    return str(reader.manifest.get(name, ""))[:100]


def _refuse_unknown(reader: Reader) -> None:
    known = kinds()
    if other := sorted(set(reader.kinds) - set(known)):
        raise BadExport(f"It holds rows of {other[0]}, which this version ({settings.VERSION}) does not take in.")


@contextmanager
def _new_files(reader: Reader) -> Iterator[Callable[[str], bytes]]:
    """How bytes are read; scans that were put into the store are taken away again where it fails."""
    before = {digest for digest in reader.files if store.path_of(digest).exists()}
    try:
        yield reader.file
    except BaseException:
        for digest in set(reader.files) - before:
            store.path_of(digest).unlink(missing_ok=True)
        raise


def _load(reader: Reader, read: Callable[[str], bytes]) -> int:
    """All rows; how many. Foreign keys are looked at when all are there."""
    models, held = kinds(), set(reader.kinds)
    counted: dict[str, int] = {}

    def made(kind: str, number: int, row: Row) -> Any:
        counted[kind] = counted.get(kind, 0) + 1
        try:
            return instance(models[kind], row, read, also=("roles",) if kind == "auth.user" else ())
        except BadRow as bad:
            raise BadExport(f"{kind}, line {number}: {bad}.") from None

    if Plant._meta.label_lower in held:
        # Those that come in, with their keys, take the place of the one that every register begins with.
        Plant.objects.all().delete()
    own: set[str] = set()
    for path in settings.EXCHANGE_LOADERS:
        loader = import_module(path)
        own |= set(loader.KINDS)
        if held & set(loader.KINDS):
            loader.load({kind: lambda kind=kind: _rows(reader, kind) for kind in loader.KINDS}, made, insert)
    for kind in sorted(held - own):
        objects = ((made(kind, number, row), row) for number, row in reader.rows(kind))
        _insert_all(models[kind], objects, kind)
    _place_stored(reader)
    connection.check_constraints()
    _renew_sequences(list(models.values()))
    return sum(counted.values())


def _rows(reader: Reader, kind: str) -> Rows:
    return reader.rows(kind) if kind in reader.kinds else iter(())


def _insert_all(model: type[Model], objects: Iterable[tuple[Any, Row]], kind: str) -> None:
    batch: list[Any] = []
    roles: dict[Any, list[str]] = {}
    for one, row in objects:
        if kind == "auth.user":
            one.set_unusable_password()
            roles[one.pk] = _roles(row)
        batch.append(one)
        if len(batch) >= AT_ONCE:
            insert(model, batch)
            batch = []
    insert(model, batch)
    groups, belongs = dict(Group.objects.values_list("name", "pk")), User.groups.through
    # Without a word to whoever keeps how accounts stand: their states come in by themselves.
    belongs.objects.bulk_create(
        belongs(user_id=pk, group_id=groups[name]) for pk, names in roles.items() for name in names if name in groups
    )


def _roles(row: Row) -> list[str]:
    """The roles of an account; other words give none."""
    said = row.get("roles")
    return sorted({name for name in said if name in set(Role)}) if isinstance(said, list) else []


def insert(model: type[Model], objects: list[Any]) -> None:
    """Put rows in as they were: no moment of today, no history entry, no signal."""
    fields = list(model._meta.concrete_fields)
    at_once = connection.ops.bulk_batch_size(fields, objects) if objects else 1
    for start in range(0, len(objects), max(at_once, 1)):
        model._base_manager._insert(objects[start : start + at_once], fields=fields, using=connection.alias, raw=True)


def _place_stored(reader: Reader) -> None:
    """Scans, lists and models into the store. Raises BadExport where one is missing."""
    said = reader.manifest.get("stored")
    stored = {str(digest) for digest in said} if isinstance(said, list) else set()
    if lacking := set(EvidenceFile.objects.values_list("sha256", flat=True).distinct()) - stored:
        raise BadExport(f"It lacks the scan {min(lacking)[:12]!r} that a row names.")
    for digest in sorted(stored):
        store.keep(reader.file(digest))


def _check_accounts(reader: Reader) -> None:
    """The accounts are those that were sealed, but for what does not come along. Here they have no password yet."""
    if AccountState._meta.label_lower in reader.kinds and (found := next(unlike(SECRETS), "")):
        raise BadExport(f"Its accounts are not those of the register it came from: {found}")


def _check_trail(reader: Reader) -> None:
    """The end of the chain is that of the register it came from, and the chain and what is on file agree."""
    last = AuditEntry.objects.order_by("-number").first()
    if last is not None:
        seal = VersionSeal.objects.last()
        ends = {"number": last.number, "hash": last.hash, "versions": str(seal) if seal is not None else None}
        AuditHead.objects.update_or_create(pk=1, defaults=ends)
    keep()
    try:
        found = verify(_text(reader, "trail_end"))
    except ValueError as fault:
        raise BadExport(f"Its trail cannot be verified: {fault}") from None
    except (TypeError, LookupError, AttributeError, RecursionError, ArithmeticError) as fault:
        raise BadExport(f"What it holds is of another shape than the register writes ({fault!r:.80}).") from None
    if not found.whole:
        raise BadExport(f"Its trail does not verify: {found.problem or found.differs}")


def _renew_sequences(models: list[type[Model]]) -> None:
    """New rows get keys after those that came in."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)
