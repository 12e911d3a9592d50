"""Which clock an edition's certificates live by: six-monthly confirmations, or the welding itself.

Nobody tells: the edition's own `periods` is asked whether it understands an event, so a new standard needs no entry.
"""

from datetime import date
from enum import StrEnum
from functools import cache

from codes.editions import Edition
from codes.readings import DEFAULTS
from codes.validity import Event, ValidityInput
from qualifications.models import Certificate, CertificateEvent, WeldLogEntry
from qualifications.periods import edition_of, validity_input

Kind = CertificateEvent.Kind
PROBED_ON = date(2000, 1, 1)
PROBE_FACTS = {"process": "135", "employer": "any"}


class Clock(StrEnum):
    """What keeps a certificate alive. NONE: it does not lapse for want of a signature, or is not judged."""

    CONFIRMED = "confirmed"
    USED = "used"
    NONE = "none"


def clock_of(certificate: Certificate) -> Clock:
    """The clock of a certificate."""
    known = edition_of(certificate.code)
    if known is None:
        return Clock.NONE
    if takes(known, Kind.USE):
        return Clock.USED
    return Clock.CONFIRMED if takes(known, Kind.CONFIRMATION) else Clock.NONE


def takes(known: Edition, kind: str) -> bool:
    """True where the edition's clock understands events of this kind."""
    return _takes(known.key, kind)


@cache
def _takes(key: str, kind: str) -> bool:
    known = edition_of(key)
    if known is None or known.periods is None:
        return False
    asked = ValidityInput(PROBED_ON, option="a", events=(Event(kind, PROBED_ON),), facts=PROBE_FACTS)
    return not known.periods(asked, DEFAULTS).missing


def kinds_that_end(certificate: Certificate) -> tuple[str, ...]:
    """The events by which somebody ends a certificate before its time."""
    ends: tuple[str, ...] = (Kind.REVOCATION,)
    if certificate.option == Certificate.Option.C and clock_of(certificate) is Clock.CONFIRMED:
        ends += (Kind.MANUFACTURER_CHANGED, Kind.ISO_3834_LOST, Kind.QUALITY_NOT_SHOWN)
    return ends


def details_of_use(certificate: Certificate, entry: WeldLogEntry) -> dict[str, str]:
    """What an event of use says of a logged weld. The employer only where the test states one to compare with."""
    said = {"process": entry.process, "mechanisation": entry.mechanisation, "used_on": entry.on.isoformat()}
    said |= {"weld_log": str(entry.pk)}
    return said | employer_now(certificate)


def employer_now(certificate: Certificate) -> dict[str, str]:
    """Whom the weld was made for: the person's employer now, where both that and the one of the test are stated."""
    tested_for = validity_input(certificate, events=()).facts.get("employer")
    return {"employer": certificate.person.employer} if tested_for and certificate.person.employer else {}
