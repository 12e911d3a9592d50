"""Invented people and certificates for tests."""

from datetime import UTC, date, datetime
from typing import Any

from qualifications.models import Certificate, CertificateEvent, Person, WeldLogEntry

FILLET = {
    "process": "135",
    "transfer_mode": "spray",
    "weld_type": "fillet",
    "product": "plate",
    "filler_group": "FM1",
    "filler_type": "S",
    "parent_t": "10",
    "position": "PB",
    "run_type": "multi_run",
}
WELDED = date(2025, 1, 31)


def person(name: str = "Ada Krol", **facts: Any) -> Person:
    """A person; the stamp is made from the name."""
    facts.setdefault("identification", name.upper().replace(" ", "-"))
    return Person.objects.create(name=name, **facts)


def certificate(holder: Person | None = None, **facts: Any) -> Certificate:
    """A fillet certificate of option a, welded on 31 January 2025."""
    values = {
        "code": "ISO 9606-1:2012",
        "kind": "welder",
        "number": "W-1",
        "pieces": [FILLET],
        "welded_on": WELDED,
        "option": "a",
        "examining_body": "Test House North",
    }
    return Certificate.objects.create(person=holder or person(), **values | facts)


def event(of: Certificate, on: date, kind: str = "confirmation", **facts: Any) -> CertificateEvent:
    """An event, recorded on the day it is dated."""
    facts.setdefault("by_name", "Marek Holt")
    facts.setdefault("recorded_at", datetime(on.year, on.month, on.day, 12, tzinfo=UTC))
    return CertificateEvent.objects.create(certificate=of, kind=kind, on=on, **facts)


def logged(holder: Person, on: date, **facts: Any) -> WeldLogEntry:
    """An entry of the weld log inside the range of `certificate`."""
    values = {
        "process": "135",
        "mechanisation": "partly_mechanised",
        "weld_type": "fillet",
        "position": "PB",
        "joint": "B12/3",
        "wps": "014",
    }
    return WeldLogEntry.objects.create(person=holder, on=on, **values | facts)
