"""All certificates with their events, read lean and read again only where something changed.

An answer is worked out from the rows once and kept beside their versions. Every question first asks the database for
one stamp, which every kept version of a row and every event changes; where it is another, the events that came since,
or else the versions of all rows, say which of them to read again. So nothing that was written, here or by another
process, is ever missed, whatever the order in which transactions end. Inside an open transaction nothing is kept: what
it wrote may yet be taken back.
"""

import json
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from datetime import date
from functools import lru_cache
from threading import Lock
from typing import Any, NamedTuple

from django.db import connection
from django.db.models import Count, Max, QuerySet, TextField
from django.db.models.functions import Cast

from codes.readings import DEFAULTS, Settings
from qualifications.due_index import DueIndex
from qualifications.models import Certificate, CertificateEvent, Person
from qualifications.offers import CertificateOffer, offer
from register.memory import many_lasting_objects
from register.plants.reach import current

Version = tuple[object, ...]
NO_DETAILS: dict[str, str] = {}
AT_ONCE = 500
"""Keys in one query; SQLite takes a limited number of parameters."""


class EventRow(NamedTuple):
    """An event as far as validity looks at it; named like the model, so that either will do."""

    pk: int
    certificate_id: int
    kind: str
    on: date
    by_name: str
    reason: str
    details: Any
    voids_id: int | None


class Reading:
    """The offers under one choice of readings, with the index of what falls due."""

    def __init__(self, settings: Settings) -> None:
        self._settings = dict(settings)
        self._lock = Lock()
        self._stamp: Stamp | None = None
        self._versions: dict[int, Version] = {}
        self._known: dict[int, CertificateOffer] = {}
        self.offers: tuple[CertificateOffer, ...] = ()
        self._index = DueIndex()
        self._indexed: tuple[CertificateOffer, ...] = ()

    def refresh(self) -> tuple[CertificateOffer, ...]:
        """The offers as they stand now, by name of person."""
        with self._lock:
            # Read before the rows: what is written in between is then seen by the next question.
            now = stamp()
            if now == self._stamp:
                return self.offers
            versions = self._versions_at(now)
            stale = [pk for pk, version in versions.items() if self._versions.get(pk) != version]
            with many_lasting_objects(len(stale) > AT_ONCE):
                fresh = {one.certificate_id: one for one in _read(stale, len(versions), self._settings)}
            known = {pk: fresh.get(pk) or self._known.get(pk) for pk in versions}
            offers = tuple(one for one in known.values() if one is not None)
            if connection.in_atomic_block:
                return offers
            self._stamp = now
            if versions != self._versions or list(versions) != [one.certificate_id for one in self.offers]:
                self._versions, self._known = versions, {one.certificate_id: one for one in offers}
                self.offers = offers
            return self.offers

    def _versions_at(self, stamp: "Stamp") -> dict[int, Version]:
        """The versions of all rows; where nothing but events came, only those of the certificates they are of."""
        if self._stamp is None or stamp.rows != self._stamp.rows:
            return _versions()
        # Events are never changed or taken away, so those with later numbers are all, if their number is right.
        later = CertificateEvent.objects.filter(pk__gt=self._stamp.last_event, pk__lte=stamp.last_event)
        owners = list(later.order_by().values_list("certificate", flat=True)[: AT_ONCE + 1])
        if len(owners) > AT_ONCE or len(owners) != stamp.events - self._stamp.events:
            return _versions()
        return self._versions | _versions(set(owners))

    def index(self, offers: tuple[CertificateOffer, ...]) -> DueIndex:
        """What falls due of these offers; made on the first question, and then only brought up to date."""
        with self._lock:
            if offers is not self.offers:
                return DueIndex(offers)
            if offers is not self._indexed:
                with many_lasting_objects(len(offers) > AT_ONCE and not self._indexed):
                    self._index.update(offers)
                self._indexed = offers
            return self._index


@lru_cache(maxsize=16)
def _reading(settings: tuple[tuple[str, str], ...], reach: tuple[int, ...] | None) -> Reading:
    return Reading(dict(settings))


def reading(settings: Settings = DEFAULTS) -> Reading:
    """What is kept under these readings, of the plants in sight."""
    return _reading(tuple(sorted(settings.items())), current().key)


def all_offers(settings: Settings = DEFAULTS) -> tuple[CertificateOffer, ...]:
    """The offers of all certificates on file, by name of person; worked out anew only where something changed."""
    return reading(settings).refresh()


def index_of(offers: Iterable[CertificateOffer], settings: Settings = DEFAULTS) -> DueIndex:
    """The index of what falls due for some offers: the kept one where they are the kept ones."""
    return reading(settings).index(offers) if isinstance(offers, tuple) else DueIndex(offers)


class Stamp(NamedTuple):
    """What changes with every write: events, and all else that an answer is made from."""

    events: int
    last_event: int
    rows: Version


def stamp() -> Stamp:
    """One short query. Rows and their kept versions are counted too, as the latest number alone may hide an earlier one
    whose transaction ended later.
    """
    counted = (Certificate, Person, Certificate.history.model, Person.history.model)
    latest = (Certificate.history.model, Person.history.model)
    events = CertificateEvent._meta.db_table
    parts = [f"(SELECT COUNT(*) FROM {events})", f"(SELECT MAX(id) FROM {events})"]
    parts += [f"(SELECT COUNT(*) FROM {model._meta.db_table})" for model in counted]
    parts += [f"(SELECT MAX({model._meta.pk.column}) FROM {model._meta.db_table})" for model in latest]
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {', '.join(parts)}")
        count, last, *rows = cursor.fetchone()
    return Stamp(count, last or 0, tuple(rows))


def _versions(of: Collection[int] | None = None) -> dict[int, Version]:
    """Key -> what changes whenever the certificate, its holder or its events do; in order of name. `of`: only these."""
    events, certificates = CertificateEvent.objects.all(), Certificate.objects.all()
    if of is not None:
        events, certificates = events.filter(certificate__in=of), certificates.filter(pk__in=of)
    numbers = events.order_by().values_list("certificate_id").annotate(Count("pk"), Max("pk"))
    counted = {pk: (number, last) for pk, number, last in numbers}
    rows = certificates.order_by("person__name", "code", "number", "pk").values_list(
        "pk", Cast("changed_at", TextField()), Cast("person__changed_at", TextField())
    )
    return {pk: (own, holder, *counted.get(pk, ())) for pk, own, holder in rows}


def _read(keys: list[int], of: int, settings: Settings) -> Iterator[CertificateOffer]:
    """The offers of some certificates; all are asked for without naming them."""
    if len(keys) == of:
        yield from _made(Certificate.objects.all(), CertificateEvent.objects.all(), settings)
        return
    for start in range(0, len(keys), AT_ONCE):
        part = keys[start : start + AT_ONCE]
        certificates = Certificate.objects.filter(pk__in=part)
        yield from _made(certificates, CertificateEvent.objects.filter(certificate__in=part), settings)


def _made(
    certificates: QuerySet[Certificate], events: QuerySet[CertificateEvent], settings: Settings
) -> Iterator[CertificateOffer]:
    by_certificate = defaultdict(list)
    names = [Cast(name, TextField()) if name == "details" else name for name in EventRow._fields]
    for *said, details, voids in events.order_by("certificate_id", "on", "recorded_at", "pk").values_list(*names):
        # Most events state no details; reading 100,000 empty ones takes half a second.
        plain = json.loads(details) if details not in ("", "{}", None) else NO_DETAILS
        event = EventRow(*said, plain, voids)
        by_certificate[event.certificate_id].append(event)
    held = list(certificates)
    # A person holds several certificates; joined in, each would be made once for each of them.
    people = {one.pk: one for one in Person.objects.filter(certificates__in=certificates).distinct()}
    for one in held:
        if one.person_id in people:
            one.person = people[one.person_id]
        yield offer(one, settings, by_certificate.get(one.pk, ()))
