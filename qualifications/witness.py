"""Signed events and the trail speak of each other: noted there as signed, and compared when it is verified."""

import json
from collections import Counter
from collections.abc import Iterator
from datetime import UTC
from typing import Any

from qualifications.models import Certificate, CertificateEvent
from register.audit import record_act
from register.languages import in_own_language
from register.models import AuditEntry

CERTIFICATE = Certificate._meta.label_lower
RECORDED = "recorded "
"""What the acts that write an event begin with."""
SIGNED = "signed"
"""Under this name an act notes how it was signed; acts of earlier versions did not."""
HOLDER = "holder"
EVENT = "event"
"""Under this name an act notes the key of its event, since a correction names by key what it voids."""
Key = tuple[str, str]
"""Certificate, and the event as JSON."""


@in_own_language
def note(event: CertificateEvent, by: Any) -> AuditEntry:
    """Write to the trail what was signed; `by` is whoever entered it (None: the register itself)."""
    after = said(event) | {SIGNED: _signed(event) | {HOLDER: event.certificate.person_id, EVENT: event.pk}}
    return record_act(by, f"{RECORDED}{event.get_kind_display()}", event.certificate, after=after)


def said(event: CertificateEvent) -> dict[str, Any]:
    """What an event says, as JSON values."""
    own = {"kind": str(event.kind), "on": event.on.isoformat(), "by": event.by_name, "evidence": event.evidence}
    own |= {"reason": event.reason} | ({"voids": event.voids_id} if event.voids_id else {})
    return dict(event.details) | own


def _signed(event: CertificateEvent) -> dict[str, Any]:
    """In which position, from which account, and when it was entered."""
    at = event.recorded_at.astimezone(UTC).isoformat(timespec="microseconds")
    return {"role": event.by_role, "account": event.by_user_id, "at": at}


def unlike() -> Iterator[str]:
    """In a sentence each: events that no act of the trail wrote as they are, acts whose event is not on file, and
    certificates that were signed for as somebody else's.
    """
    on_file = {
        one.pk: _key(str(one.certificate_id), said(one), _signed(one)) for one in CertificateEvent.objects.iterator()
    }
    acts = AuditEntry.objects.filter(subject_type=CERTIFICATE, act__startswith=RECORDED).order_by("number")
    noted: Counter[Key] = Counter()
    by_key: dict[int, Key] = {}
    holders: dict[str, set[Any]] = {}
    for act in acts.iterator():
        after = dict(act.after or {})
        signed = dict(after.pop(SIGNED, None) or {})
        if HOLDER in signed:
            holders.setdefault(act.subject_id, set()).add(signed.pop(HOLDER))
        event = signed.pop(EVENT, None)
        key = _key(act.subject_id, after, signed)
        noted[key] += 1
        by_key.setdefault(event, key)
    held = Counter(on_file.values())
    yield from _on_file(held - noted, noted - held)
    yield from (
        f"{_named(key)} stands where another was signed." for pk, key in on_file.items() if by_key.get(pk, key) != key
    )
    yield from _holders(holders)


def _on_file(more: Counter[Key], less: Counter[Key]) -> Iterator[str]:
    """Events beyond those noted, and acts beyond those on file; an act that does not say how it was signed fits any."""
    for key in more.elements():
        bare = _key(key[0], {name: value for name, value in json.loads(key[1]).items() if name != SIGNED}, {})
        if less[bare] > 0:
            less[bare] -= 1
        else:
            yield f"{_named(key)} is on file, and no act in the trail says so."
    for key in less.elements():
        yield f"{_named(key)} stands in the trail, and is not on file as it was signed."


def _holders(noted: dict[str, set[Any]]) -> Iterator[str]:
    """A certificate stays that of the person for whom it was signed."""
    now = {str(pk): person for pk, person in Certificate.objects.values_list("pk", "person")}
    for certificate, people in noted.items():
        if certificate in now and people != {now[certificate]}:
            named = Certificate.objects.get(pk=certificate)
            yield f"The certificate {named} was signed for as that of another person than the one on file."


def _key(certificate: str, after: dict[str, Any], signed: dict[str, Any]) -> Key:
    return certificate, json.dumps(after | ({SIGNED: signed} if signed else {}), sort_keys=True)


def _named(key: Key) -> str:
    said_of = json.loads(key[1])
    certificate = Certificate.objects.filter(pk=key[0]).first()
    return f"The {said_of.get('kind')} of {said_of.get('on')} of certificate {certificate or key[0]}"
