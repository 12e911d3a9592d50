"""What a lapse would uncover: joints of running jobs that only one certificate covers, and when it would lapse.

Everything is asked as of the day asked about, with the certificates in question taken away; all others are taken to be
kept valid. A joint counts where somebody may weld it now and nobody could then, in either phase.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Q

from codes.verdict import Outcome
from joints.bulk import Core, Engine
from joints.bulk_judge import Question, Said
from joints.bulk_people import NOBODY
from joints.day import Answered, Day
from joints.demands import JointDemand
from joints.models import Job, Joint
from qualifications.due import WITHIN, DueItem, falls_due

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Loss:
    """Joints of one job that would have nobody."""

    job: Job
    joints: int

    def __str__(self) -> str:
        return f"{self.joints} joint{'s' if self.joints != 1 else ''} of job {self.job.number}"


@dataclass(frozen=True, slots=True)
class Lapse:
    """One certificate, the first day on which it would not count, and what would then have nobody."""

    item: DueItem
    on: date
    losses: tuple[Loss, ...]

    @property
    def sentence(self) -> str:
        """Example: "If 135-7 of Ada Krol lapses on 2027-03-03, 14 joints of job 24-031 have nobody."."""
        said = " and ".join(str(loss) for loss in self.losses)
        one = sum(loss.joints for loss in self.losses) == 1
        return (
            f"If {self.item.number} of {self.item.person_name} lapses on {self.on.isoformat()}, "
            f"{said} {'has' if one else 'have'} nobody."
        )


@dataclass(frozen=True, slots=True)
class Together:
    """What would have nobody if nothing at all were done within so many days."""

    days: int
    certificates: int
    losses: tuple[Loss, ...]

    @property
    def sentence(self) -> str:
        """Example: "If nothing is done within 30 days, 3 certificates lapse and 20 joints of job 7 have nobody."."""
        lapse = "1 certificate lapses" if self.certificates == 1 else f"{self.certificates} certificates lapse"
        start = f"If nothing is done within {self.days} days, {lapse}"
        if not self.losses:
            return f"{start}; no joint still to be welded loses the last person who may weld it."
        said = " and ".join(str(loss) for loss in self.losses)
        one = sum(loss.joints for loss in self.losses) == 1
        return f"{start} and {said} {'has' if one else 'have'} nobody."


@dataclass(frozen=True, slots=True)
class Uncovered:
    """The answer: certificate by certificate, the earliest first, and all together by horizon."""

    lapses: tuple[Lapse, ...]
    together: tuple[Together, ...]


@dataclass(frozen=True, slots=True)
class _Weld:
    """A joint of a running job: its job, the day it is planned for, and who may weld it now, phase by phase."""

    job_id: int
    planned: date | None
    people: tuple[frozenset[int], frozenset[int]]


def uncovered_by_lapse(day: Day, within: Sequence[int] = WITHIN) -> Uncovered:
    """What the lapses of the coming days would uncover. A handful of queries and one engine for each that matters."""
    items = [i for i in falls_due(day.certificates, day.on, within, settings=day.settings) if i.is_ahead]
    first = _first_of_each(items)
    if not first:
        return Uncovered((), ())
    jobs = {job.pk: job for job in _jobs(day.on, max(item.by for item in first) + DAY)}
    welds = _welds(day, jobs)
    only = Counter(pk for weld in welds.values() for able in weld.people if len(able) == 1 for pk in able)
    lapses = []
    for item in first:
        if item.person_id in only and (losses := _losses(day, welds, jobs, {item.certificate_id: item})):
            lapses.append(Lapse(item, item.by + DAY, losses))
    return Uncovered(tuple(lapses), tuple(_together(day, first, welds, jobs, within)))


def _first_of_each(items: Iterable[DueItem]) -> list[DueItem]:
    """The earliest thing to do for each certificate: left undone, it ends the certificate."""
    found: dict[int, DueItem] = {}
    for item in items:
        known = found.get(item.certificate_id)
        if known is None or item.by < known.by:
            found[item.certificate_id] = item
    return sorted(found.values(), key=lambda item: (item.by, item.person_name, item.number))


def _jobs(first: date, last: date) -> list[Job]:
    """The jobs that are welded on some day between two days."""
    rows = Job.objects.filter(Q(starts_on__isnull=True) | Q(starts_on__lte=last))
    return list(rows.filter(Q(ends_on__isnull=True) | Q(ends_on__gte=first)))


def _welds(day: Day, jobs: dict[int, Job]) -> dict[int, _Weld]:
    """The joints of the jobs that somebody may weld now, by key."""
    rows = Joint.objects.filter(assembly__job__in=jobs)
    facts = {pk: (job, planned) for pk, job, planned in rows.values_list("pk", "assembly__job_id", "weld_date")}
    answers = _without(day, ()).answers(rows.order_by("pk"))
    return {one.pk: _Weld(*facts[one.pk], _able(one)) for one in answers if any(_able(one))}


def _able(one: Answered) -> tuple[frozenset[int], frozenset[int]]:
    return one.result.tack.person_ids, one.result.final.person_ids


def _losses(day: Day, welds: dict[int, _Weld], jobs: dict[int, Job], gone: dict[int, DueItem]) -> tuple[Loss, ...]:
    """What has nobody once some certificates are gone, each from the day after its own.

    Somebody who loses several is taken to be gone with the first: rather a warning too many.
    """
    lapse: dict[int, date] = {}
    for item in gone.values():
        lapse[item.person_id] = min(item.by + DAY, lapse.get(item.person_id, date.max))
    people = lapse.keys()
    # Only a joint whose every welder of a phase loses a certificate can be left without anybody.
    asked = {
        pk: weld
        for pk, weld in welds.items()
        if any(able and able <= people for able in weld.people)
        and _is_then(weld, jobs[weld.job_id], _last(weld, lapse))
    }
    if not asked:
        return ()
    without = _without(day, gone.keys())
    rows = Joint.objects.filter(assembly__job__in={weld.job_id for weld in asked.values()})
    lost: Counter[int] = Counter()
    for one in without.answers(rows.order_by("pk")):
        weld = asked.get(one.pk)
        if weld is not None and not all(left for had, left in zip(weld.people, _able(one), strict=True) if had):
            lost[weld.job_id] += 1
    found = [Loss(jobs[pk], number) for pk, number in lost.items()]
    return tuple(sorted(found, key=lambda loss: (-loss.joints, loss.job.number)))


def _last(weld: _Weld, lapse: dict[int, date]) -> date:
    """The day on which the last of those who may weld it is gone, for the phase in which that comes first."""
    return min(max(lapse[pk] for pk in able) for able in weld.people if able and all(pk in lapse for pk in able))


def _is_then(weld: _Weld, job: Job, on: date) -> bool:
    """True where the job runs on a day and the joint is planned for then, for later, or for no day."""
    if job.starts_on is not None and job.starts_on > on:
        return False
    if weld.planned is not None:
        return weld.planned >= on
    return job.ends_on is None or job.ends_on >= on


def _without(day: Day, gone: Iterable[int]) -> Day:
    """The same day without some certificates, to be asked who may weld and nothing else."""
    taken = set(gone)
    other = day.with_people(one for one in day.certificates if one.certificate_id not in taken)
    other.kept = lambda day: _WhoOnly(day.procedures, day.certificates, day.on, day.settings)
    return other


class _WhoOnly(Engine):
    """Says who may weld; why nobody may is not worked out."""

    def _refused(self, asked: Question, joint: JointDemand, said: Sequence[Said], good: int, placed: bool) -> Core:
        return Core(Outcome.OUTSIDE, (), NOBODY, (), None)


def _together(
    day: Day, first: Sequence[DueItem], welds: dict[int, _Weld], jobs: dict[int, Job], within: Sequence[int]
) -> Iterable[Together]:
    """By horizon; one at which nothing more lapses than at the one before is left out."""
    before = 0
    for days in within:
        gone = {item.certificate_id: item for item in first if item.days <= days}
        if len(gone) > before:
            yield Together(days, len(gone), _losses(day, welds, jobs, gone))
        before = len(gone)
