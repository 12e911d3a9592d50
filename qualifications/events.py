"""Acts on a certificate: confirm, prolong, revoke, correct. Each writes one event and one entry of the log of acts.

Every act raises ValueError with a sentence for the reader where it cannot be done; nothing is then written.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db import transaction

from codes.readings import DEFAULTS, Settings
from codes.validity import Event, State
from qualifications.models import Certificate, CertificateEvent, Person
from qualifications.periods import counted, is_judged, state, validity
from register.audit import record_act
from register.roles import Capability, can

Kind = CertificateEvent.Kind


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signs, on which day, and on what evidence. `user` is whoever enters it."""

    on: date
    name: str
    user: Any
    role: str = ""
    evidence: str = ""
    details: Mapping[str, str] = field(default_factory=dict)


def may_confirm(user: Any, person: Person) -> bool:
    """True for QA and coordinators, and for the supervisor whom the person reports to."""
    if can(user, Capability.RECORD_CONFIRMATION):
        return True
    return can(user, Capability.CONFIRM_OWN_PEOPLE) and person.supervisor_id == user.pk


def obstacle(certificate: Certificate, on: date, today: date, settings: Settings = DEFAULTS) -> str:
    """Why a confirmation signed on a day cannot be recorded, "" where it can.

    A signature dated after the lapse revives nothing, so it is refused with the reason of the lapse.
    """
    if on > today:
        return f"A confirmation cannot be dated {on.isoformat()}, later than today."
    if on < certificate.welded_on:
        return f"The test piece was welded on {certificate.welded_on.isoformat()}; nothing can be confirmed before it."
    if any(e.kind == Kind.CONFIRMATION and e.on == on for e in counted(certificate.events.all())):
        return f"It is confirmed with the date {on.isoformat()} already."
    found = state(certificate, on, settings) if is_judged(certificate) else None
    return refusal(found) if found is not None and not found.valid else ""


def refusal(found: State) -> str:
    """Why an invalid certificate cannot be confirmed, and what would be right."""
    text = f"It is not valid on {found.on.isoformat()}: {found.because} ({found.clause}). "
    if found.reason == "validity_confirmation":
        return (
            text
            + "A late signature does not revive it; a new test is needed. "
            + ("If it was signed in time on paper, give the date of that signature.")
        )
    if found.missing:
        return text + "Complete the certificate first."
    return text + "There is nothing to confirm."


def cautions(certificate: Certificate, on: date, today: date, settings: Settings = DEFAULTS) -> list[str]:
    """What whoever enters a confirmation must have said knowingly before it is recorded."""
    said: list[str] = []
    last = max((e.on for e in counted(certificate.events.all())), default=None)
    if last is not None and on < last:
        said.append(f"The date lies before the last entry on file, of {last.isoformat()}.")
    if on < today and is_judged(certificate) and not state(certificate, today, settings).valid:
        said.append(f"Without this entry the certificate is not valid today; signed in time on {on.isoformat()}, "
                    "and entered late, it changes that.")  # fmt: skip
    return said


def confirm(certificate: Certificate, by: Signature, today: date) -> CertificateEvent:
    """Record a confirmation. Raises ValueError where `obstacle` names one, or no evidence is stated."""
    if not by.evidence.strip():
        raise ValueError("State the evidence: at least one weld of the last six months, with joint and date.")
    with transaction.atomic():
        held = _locked(certificate)
        problem = obstacle(held, by.on, today)
        if problem:
            raise ValueError(f"{held.number}: {problem}")
        return _write(held, Kind.CONFIRMATION, by)


def confirm_each(certificates: Sequence[Certificate], by: Mapping[int, Signature], today: date) -> int:
    """Confirm several at once: all or none. `by` holds the signature of each by its key."""
    with transaction.atomic():
        for one in certificates:
            confirm(one, by[one.pk], today)
    return len(certificates)


def prolong(certificate: Certificate, by: Signature, today: date) -> CertificateEvent:
    """Record a prolongation under option b. Raises ValueError where it would not lengthen the validity."""
    with transaction.atomic():
        held = _locked(certificate)
        if by.on > today:
            raise ValueError(f"A prolongation cannot be dated {by.on.isoformat()}, later than today.")
        if held.option != Certificate.Option.B:
            raise ValueError(f"Only option b is prolonged; this certificate states option {held.option or 'none'}.")
        problem = _changes_nothing(held, Event(Kind.PROLONGATION, by.on, by.name, dict(by.details)))
        if problem:
            raise ValueError(problem)
        return _write(held, Kind.PROLONGATION, by)


def end(certificate: Certificate, kind: str, by: Signature, reason: str, today: date) -> CertificateEvent:
    """Record a revocation, or what ended option c. From that day on the certificate does not count."""
    if not reason.strip():
        raise ValueError("State the reason.")
    if by.on > today:
        raise ValueError(f"It cannot be dated {by.on.isoformat()}, later than today.")
    with transaction.atomic():
        held = _locked(certificate)
        if kind != Kind.REVOCATION and held.option != Certificate.Option.C:
            raise ValueError("Only option c ends in this way; revoke the certificate instead.")
        return _write(held, kind, by, reason=reason.strip())


def correct(event: CertificateEvent, by: Signature, reason: str) -> CertificateEvent:
    """Void an event that was entered by mistake; both stay on file.

    Raises ValueError where it is voided already, is itself a correction, or no reason is given.
    """
    if not reason.strip():
        raise ValueError("Say why the entry was a mistake.")
    with transaction.atomic():
        held = _locked(event.certificate)
        if CertificateEvent.objects.filter(voids=event).exists():
            raise ValueError("This entry is voided already.")
        if event.kind == Kind.CORRECTION:
            raise ValueError("A correction cannot be voided; enter what is right anew.")
        return _write(held, Kind.CORRECTION, by, reason=reason.strip(), voids=event)


def _changes_nothing(certificate: Certificate, event: Event) -> str:
    """Why an event would leave periods and dues as they are, "" where it changes them or is not judged."""
    if not is_judged(certificate):
        return ""
    before, after = validity(certificate), validity(certificate, extra=(event,))
    if [(p.end, p.dues) for p in before.periods] != [(p.end, p.dues) for p in after.periods]:
        return ""
    said = " ".join(p.ending.because for p in after.periods if "does not count" in p.ending.because)
    general = "both welds must lie in the last six months of the term, tests and signature before its end"
    return f"This would not lengthen the validity: {said or general}."


def _locked(certificate: Certificate) -> Certificate:
    """The certificate as it is on file, held until the act is done: two who sign at once come one after the other."""
    return Certificate.objects.select_for_update(of=("self",)).select_related("person").get(pk=certificate.pk)


def _write(
    certificate: Certificate, kind: str, by: Signature, reason: str = "", voids: CertificateEvent | None = None
) -> CertificateEvent:
    event = CertificateEvent.objects.create(
        certificate=certificate,
        kind=kind,
        on=by.on,
        by_name=by.name,
        by_role=by.role,
        by_user=by.user,
        evidence=by.evidence.strip(),
        reason=reason,
        details=dict(by.details),
        voids=voids,
    )
    after = {"kind": str(kind), "on": by.on.isoformat(), "by": by.name, "evidence": by.evidence, "reason": reason}
    after |= {"voids": voids.pk} if voids is not None else {}
    record_act(by.user, f"recorded {event.get_kind_display()}", certificate, after=after | dict(by.details))
    return event
