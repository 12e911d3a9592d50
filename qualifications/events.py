"""Acts on a certificate: confirm, prolong, revoke, correct. Each writes one event and one entry of the log of acts.

Every act raises ValueError with a sentence for the reader where it cannot be done; nothing is then written.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from django.db import transaction
from django.utils.translation import gettext

from codes.readings import DEFAULTS, Settings
from codes.validity import Event, State
from qualifications.clocks import Clock, clock_of, details_of_use, employer_now
from qualifications.models import Certificate, CertificateEvent, Person, WeldLogEntry
from qualifications.own_clocks import lives
from qualifications.periods import counted, is_judged, state
from qualifications.witness import note
from register.plants.reach import current
from register.roles import Capability, can

Kind = CertificateEvent.Kind


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signs, on which day, and on what evidence. `user` is whoever enters it.

    `welds`: the entries of the log it rests on; `used_on`: the day of a weld that is evidenced in words, `used_with`
    its processes, where the certificate is of several.
    """

    on: date
    name: str
    user: Any
    role: str = ""
    evidence: str = ""
    details: Mapping[str, str] = field(default_factory=dict)
    welds: Sequence[WeldLogEntry] = ()
    used_on: date | None = None
    used_with: Mapping[str, str] = field(default_factory=dict)


def may_confirm(user: Any, person: Person) -> bool:
    """True for QA and coordinators, and for the supervisor whom the person reports to; at the person's own plant."""
    if not current().holds(person.plant_id):
        return False
    if can(user, Capability.RECORD_CONFIRMATION):
        return True
    return can(user, Capability.CONFIRM_OWN_PEOPLE) and person.supervisor_id == user.pk


def obstacle(
    certificate: Certificate, on: date, today: date, settings: Settings = DEFAULTS, state_shown: bool = False
) -> str:
    """Why a confirmation signed on a day cannot be recorded, "" where it can; `state_shown`: its state is read already.

    A signature dated after the lapse revives nothing, so it is refused with the reason of the lapse.
    """
    if on > today:
        return gettext("A confirmation cannot be dated %(on)s, later than today.") % {"on": on.isoformat()}
    if on < certificate.welded_on:
        return gettext("The test piece was welded on %(welded_on)s; nothing can be confirmed before it.") % {
            "welded_on": certificate.welded_on.isoformat()
        }
    if clock_of(certificate) is Clock.USED:
        # The day of the weld decides, not that of the signature; whether it helps shows when it is recorded.
        return ""
    if any(e.kind == Kind.CONFIRMATION and e.on == on for e in counted(certificate.events.all())):
        return gettext("It is confirmed with the date %(on)s already.") % {"on": on.isoformat()}
    found = state(certificate, on, settings) if is_judged(certificate) else None
    if found is None or found.valid:
        return ""
    return way_on(found) if state_shown else refusal(found)


def refusal(found: State) -> str:
    """Why an invalid certificate cannot be confirmed, and what would be right."""
    return f"It is not valid on {found.on.isoformat()}: {found.because} ({found.clause}). {way_on(found)}"


def way_on(found: State) -> str:
    """What would be right in place of a confirmation, for a page that says beside it why the certificate is invalid."""
    if found.reason == "validity_confirmation":
        return (
            "A late signature does not revive it; a new test is needed. "
            "If it was signed in time on paper, give the date of that signature."
        )
    if found.missing:
        return "Complete the certificate first."
    return "There is nothing to confirm on this day. If it was signed while valid, give the date of that signature."


def cautions(certificate: Certificate, on: date, today: date, settings: Settings = DEFAULTS) -> list[str]:
    """What whoever enters a confirmation must have said knowingly before it is recorded."""
    if clock_of(certificate) is Clock.USED:
        now = state(certificate, today, settings)
        text = f"As recorded it is not valid today: {now.because}. Welds made in time and entered late change that."
        return [] if now.valid or now.missing else [text]
    said: list[str] = []
    last = max((e.on for e in counted(certificate.events.all())), default=None)
    if last is not None and on < last:
        said.append(f"The date lies before the last entry on file, of {last.isoformat()}.")
    if on < today and is_judged(certificate) and not state(certificate, today, settings).valid:
        said.append(f"Without this entry the certificate is not valid today; signed in time on {on.isoformat()}, "
                    "and entered late, it changes that.")  # fmt: skip
    return said


def confirm(
    certificate: Certificate, by: Signature, today: date, settings: Settings = DEFAULTS
) -> tuple[CertificateEvent, ...]:
    """Record a confirmation, or, where the welding itself keeps the certificate alive, the welds.

    Raises ValueError where `obstacle` names one, where no evidence is stated, or where it would change nothing.
    """
    if not by.evidence.strip() and not by.welds:
        raise ValueError("State the evidence: at least one weld of the last six months, with joint and date.")
    with transaction.atomic():
        held = _locked(certificate)
        problem = obstacle(held, by.on, today, settings)
        if problem:
            raise ValueError(f"{held.number}: {problem}")
        if clock_of(held) is Clock.USED:
            return _write_uses(held, by, settings)
        return (_write(held, Kind.CONFIRMATION, _with_welds(by)),)


def _with_welds(by: Signature) -> Signature:
    """The signature with its welds as text, and their keys."""
    if not by.welds:
        return by
    text = "\n".join(filter(None, [*(weld.text for weld in by.welds), by.evidence.strip()]))
    keys = {"weld_log": ",".join(str(weld.pk) for weld in by.welds)}
    return replace(by, evidence=text, details={**by.details, **keys})


def _write_uses(held: Certificate, by: Signature, settings: Settings) -> tuple[CertificateEvent, ...]:
    """One event for each weld, so that every gap between them can be checked."""
    signed = [
        (Kind.USE, replace(by, evidence=weld.text, details={**by.details, **details_of_use(held, weld)}))
        for weld in sorted(by.welds, key=lambda weld: weld.on)
    ]
    if by.evidence.strip():
        if by.used_on is None:
            raise ValueError("Give the day of the weld: on it rests how long the certificate stays valid.")
        said = {"used_on": by.used_on.isoformat(), **employer_now(held), **by.used_with}
        signed.append((Kind.CONFIRMATION, replace(by, details={**by.details, **said})))
    new = [Event(kind, one.on, one.name, dict(one.details)) for kind, one in signed]
    problem = _changes_nothing(held, *new, settings=settings)
    if problem:
        raise ValueError(f"{held.number}: {problem}")
    return tuple(_write(held, kind, one) for kind, one in signed)


def confirm_each(
    certificates: Sequence[Certificate], by: Mapping[int, Signature], today: date, settings: Settings = DEFAULTS
) -> int:
    """Confirm several at once: all or none. `by` holds the signature of each by its key."""
    with transaction.atomic():
        for one in certificates:
            confirm(one, by[one.pk], today, settings)
    return len(certificates)


def prolong(certificate: Certificate, by: Signature, today: date, settings: Settings = DEFAULTS) -> CertificateEvent:
    """Record a prolongation under option b. Raises ValueError where it would not lengthen the validity."""
    with transaction.atomic():
        held = _locked(certificate)
        if by.on > today:
            raise ValueError(f"A prolongation cannot be dated {by.on.isoformat()}, later than today.")
        if held.option != Certificate.Option.B:
            raise ValueError(f"Only option b is prolonged; this certificate states option {held.option or 'none'}.")
        event = Event(Kind.PROLONGATION, by.on, by.name, dict(by.details))
        problem = _changes_nothing(held, event, settings=settings)
        if problem:
            raise ValueError(problem)
        return _write(held, Kind.PROLONGATION, by)


def renew(
    certificate: Certificate, passed: bool, by: Signature, reason: str, today: date, settings: Settings = DEFAULTS
) -> CertificateEvent:
    """Record a renewal test, passed or failed. Raises ValueError where it would change nothing."""
    kind = Kind.RENEWAL if passed else Kind.FAILED_RENEWAL
    if not passed and not reason.strip():
        raise ValueError("Say what the test failed on.")
    if by.on > today:
        raise ValueError(f"It cannot be dated {by.on.isoformat()}, later than today.")
    with transaction.atomic():
        held = _locked(certificate)
        if clock_of(held) is not Clock.USED:
            raise ValueError(f"A certificate of {held.code} is not renewed by a test of this kind; enter a new one.")
        event = Event(kind, by.on, by.name, dict(by.details))
        problem = _changes_nothing(held, event, settings=settings) if passed else ""
        if problem:
            raise ValueError(problem)
        return _write(held, kind, by, reason=reason.strip())


def questions_after(
    certificate: Certificate, on: date, today: date, said: Mapping[str, str], settings: Settings = DEFAULTS
) -> list[str]:
    """What a renewal test that failed on a day leaves to somebody's decision: nothing where the certificate is invalid.

    `said`: the processes it was made with, where the certificate is of several.
    """
    failed = Event(Kind.FAILED_RENEWAL, on, details=dict(said))
    found = state(certificate, today, settings, (failed,)) if is_judged(certificate) else None
    return [
        f"The certificate stays valid after this entry. {question.clause} ends a qualification where there is a "
        f"specific reason to question the ability, and a failed test may be one. Whether it is, the welding "
        f"coordinator decides: if so, revoke the certificate; until then it counts for joints inside its range."
        for question in (found.questions if found else ())
        if question.on == on
    ][:1]


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


def _changes_nothing(certificate: Certificate, *new: Event, settings: Settings) -> str:
    """Why events would leave periods and dues as they are, "" where they change them or nothing is judged."""
    if not is_judged(certificate):
        return ""
    before, found = lives(certificate, settings=settings), lives(certificate, new, settings)
    after = found[0]
    if after.missing:
        return gettext("It cannot be judged: %(because)s.") % {"because": after.before.because}
    if [[(p.end, p.dues) for p in one.periods] for one in before] != [
        [(p.end, p.dues) for p in one.periods] for one in found
    ]:
        return ""
    endings = (*(p.ending for p in after.periods), after.before)
    said = " ".join(ending.because for ending in endings if "does not count" in ending.because)
    return gettext("This would not lengthen the validity: %(value)s.") % {"value": said or _general(certificate)}


def _general(certificate: Certificate) -> str:
    if clock_of(certificate) is Clock.USED:
        return gettext(
            "the welds were made after it lapsed, or are on file already; after a lapse only a renewal test helps"
        )
    return gettext("both welds must lie in the last six months of the term, tests and signature before its end")


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
    note(event, by.user)
    return event
