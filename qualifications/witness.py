"""Signed events and the trail speak of each other: noted there as signed, and compared when it is verified."""

import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from qualifications.models import Certificate, CertificateEvent
from register.audit import record_act
from register.models import AuditEntry

CERTIFICATE = Certificate._meta.label_lower
RECORDED = "recorded "
"""What the acts that write an event begin with."""
Key = tuple[str, str]
"""Certificate, and the event as JSON."""


def note(event: CertificateEvent, by: Any) -> AuditEntry:
    """Write to the trail what was signed; `by` is whoever entered it (None: the register itself)."""
    return record_act(by, f"{RECORDED}{event.get_kind_display()}", event.certificate, after=said(event))


def said(event: CertificateEvent) -> dict[str, Any]:
    """What an event says, as JSON values."""
    own = {"kind": str(event.kind), "on": event.on.isoformat(), "by": event.by_name, "evidence": event.evidence}
    own |= {"reason": event.reason} | ({"voids": event.voids_id} if event.voids_id else {})
    return dict(event.details) | own


def unlike() -> Iterator[str]:
    """In a sentence each: events that no act of the trail wrote as they are, and acts whose event is not on file."""
    held = Counter(_key(str(event.certificate_id), said(event)) for event in CertificateEvent.objects.iterator())
    acts = AuditEntry.objects.filter(subject_type=CERTIFICATE, act__startswith=RECORDED).order_by("number")
    noted = Counter(_key(act.subject_id, act.after or {}) for act in acts.iterator())
    for key in held - noted:
        yield f"{_named(key)} is on file, and no act in the trail says so."
    for key in noted - held:
        yield f"{_named(key)} stands in the trail, and is not on file as it was signed."


def _key(certificate: str, after: dict[str, Any]) -> Key:
    return certificate, json.dumps(after, sort_keys=True)


def _named(key: Key) -> str:
    said_of = json.loads(key[1])
    certificate = Certificate.objects.filter(pk=key[0]).first()
    return f"The {said_of.get('kind')} of {said_of.get('on')} of certificate {certificate or key[0]}"
