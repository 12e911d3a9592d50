"""The offers of procedures kept between questions: read again only where something changed.

Every question asks the database for the versions of the revisions in force and of their records, in two short queries;
an offer is used again only for the very versions it was made from. So nothing that was written, here or by another
process, is ever missed. Approved revisions and their runs cannot change otherwise (wps/triggers.py). Inside an open
transaction nothing is kept: what it wrote may yet be taken back.
"""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from threading import Lock

from django.db import connection
from django.db.models import TextField
from django.db.models.functions import Cast

from codes.readings import DEFAULTS, Settings
from wps.models import ProcedureRevision
from wps.offers import ProcedureOffer, fetched, in_force, offer

Version = tuple[object, ...]
Key = tuple[tuple[tuple[str, str], ...], int, Version]
FULL = 20_000
"""So many offers are kept at most; then all are forgotten."""
AT_ONCE = 500
"""Keys in one query; SQLite takes a limited number of parameters."""

_known: dict[Key, ProcedureOffer] = {}
_lock = Lock()


def offers_in_force(on: date, settings: Settings = DEFAULTS) -> tuple[ProcedureOffer, ...]:
    """The offers of all revisions in force on a day, by number of the procedure."""
    said = tuple(sorted(settings.items()))
    versions = versions_in_force(on)
    found = {pk: _known.get((said, pk, version)) for pk, version in versions.items()}
    missing = [pk for pk, known in found.items() if known is None]
    if missing:
        fresh = {one.revision_id: one for one in _made(missing, len(versions), on, settings)}
        found |= fresh
        if not connection.in_atomic_block:
            with _lock:
                if len(_known) > FULL:
                    _known.clear()
                _known.update({(said, pk, versions[pk]): one for pk, one in fresh.items()})
    return tuple(one for one in found.values() if one is not None)


def versions_in_force(on: date) -> dict[int, Version]:
    """Key -> all that an offer changes with, in order of number; which records count on the day is part of it."""
    revisions = in_force(on)
    texts = [Cast(name, TextField()) for name in ("changed_at", "procedure__changed_at")]
    rows = list(revisions.values_list("pk", *texts))
    pairs = ProcedureRevision.records.through.objects.filter(procedurerevision__in=revisions.order_by())
    records: defaultdict[int, list[Version]] = defaultdict(list)
    for revision, record, changed, welded, withdrawn in pairs.order_by("testrecord_id").values_list(
        "procedurerevision_id", "testrecord_id", Cast("testrecord__changed_at", TextField()),
        "testrecord__welded_on", "testrecord__withdrawn_on",
    ):  # fmt: skip
        gone = withdrawn is not None and withdrawn <= on
        records[revision].append((record, changed, welded > on, gone))
    return {pk: (*changed, tuple(records[pk])) for pk, *changed in rows}


def _made(keys: list[int], of: int, on: date, settings: Settings) -> Iterator[ProcedureOffer]:
    """The offers of some revisions; many are asked for without naming them."""
    chosen = in_force(on) if len(keys) > AT_ONCE or len(keys) == of else in_force(on).filter(pk__in=keys)
    wanted = set(keys)
    for revision in fetched(chosen):
        if revision.pk in wanted:
            yield offer(revision, on, settings)
