"""Who may weld each joint of a job on any day, from the certificates as they stand."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from joints.bulk_people import Holders
from joints.day import Day
from joints.demands import joint_demand
from joints.models import Job, Joint
from qualifications.offers import CertificateOffer

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Held:
    """A joint, and who may make its tacks and its final weld. `asked`: some procedure and place allow it at all."""

    pk: int
    named: str
    phases: tuple[Holders, Holders]

    @property
    def asked(self) -> bool:
        """True where both phases wait for nobody but a person."""
        return all(self.phases)


class People:
    """The certificates of one day of asking, by key, and who holds one that is valid on a day."""

    def __init__(self, certificates: Sequence[CertificateOffer]) -> None:
        self.by_key = {offer.certificate_id: offer for offer in certificates}
        self._valid: dict[tuple[int, date], bool] = {}
        self._able: dict[tuple[Holders, date], frozenset[int]] = {}

    def able(self, holders: Holders, on: date) -> frozenset[int]:
        """The people who may weld a phase on a day."""
        known = self._able.get((holders, on))
        if known is None:
            found: frozenset[int] = frozenset()
            for way in holders:
                each = [frozenset(self.by_key[pk].person_id for pk in held if self.valid(pk, on)) for held in way]
                found |= frozenset.intersection(*each)
            known = self._able[holders, on] = found
        return known

    def valid(self, key: int, on: date) -> bool:
        """True where a certificate counts on a day."""
        if (key, on) not in self._valid:
            self._valid[key, on] = self.by_key[key].validity.state(on).valid
        return self._valid[key, on]

    def covered(self, held: Held, on: date) -> bool:
        """True where somebody may make the tacks and somebody the final weld."""
        return all(self.able(holders, on) for holders in held.phases)

    def turns(self, keys: Sequence[int], after: date, until: date) -> list[date]:
        """The days after one day, up to another, on which a certificate begins to count or no longer counts."""
        found = set()
        for key in keys:
            for period in self.by_key[key].validity.periods:
                ends = (period.start, period.end + DAY if period.end is not None else None)
                found.update(day for day in ends if day is not None and after < day <= until)
        return sorted(found)

    @cached_property
    def names(self) -> dict[int, str]:
        """The people by key."""
        return {offer.person_id: offer.person_name for offer in self.by_key.values()}


def held_joints(job: Job, day: Day) -> Iterator[Held]:
    """The joints of a job in its order."""
    rows = Joint.objects.filter(assembly__job=job).select_related("assembly", "final_workstation", "tack_workstation")
    with day.engine.lock:
        for joint in rows.order_by("assembly__order_key", "assembly_id", "order_key", "pk"):
            demand = joint_demand(joint, job, day.settings)
            tack, final = (day.engine.holders(phase, demand) for phase in demand.phases)
            yield Held(joint.pk, f"{joint.assembly.mark}/{joint.number}", (tack, final))


def certificates_of(joints: Sequence[Held]) -> list[int]:
    """The certificates that count for some joint, by key."""
    return sorted({key for one in joints for holders in one.phases for way in holders for held in way for key in held})
