"""When the answer of each joint changes in the coming weeks, given certificates and confirmations as they stand.

The procedures in force and their records change on days that are written down too: from each such day on, the joints
are asked anew. Between them only certificates begin and end.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from django.db.models import Q

from codes.dates import add_years
from codes.en_1090_2_2018.age import ROWS
from joints.ahead.holders import DAY, Held, People, certificates_of, held_joints
from joints.answers import count
from joints.day import Day
from joints.models import Job
from qualifications.lending.models import Loan
from wps.models import ProcedureRevision, TestRecord
from wps.releases.models import ProcedureRelease

WEEK = timedelta(days=7)
WEEKS = 26
"""Weeks that are looked ahead."""


@dataclass(frozen=True, slots=True)
class Change:
    """A day from which joints have nobody, or somebody again; `why`: what begins or ends that day, in words."""

    on: date
    lost: tuple[Held, ...]
    gained: tuple[Held, ...]
    why: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """Example: "From 2027-03-02 14 joints are no longer covered: 135-7 of Ada Krol no longer counts."."""
        parts = []
        if self.lost:
            parts.append(f"{count(len(self.lost), 'joint is', 'joints are')} no longer covered")
        if self.gained:
            again = count(len(self.gained), "joint is covered", "joints are covered")
            parts.append(f"{again} that {'is' if len(self.gained) == 1 else 'are'} not before")
        why = f": {'; '.join(self.why)}" if self.why else ""
        return f"From {self.on}, {' and '.join(parts)}{why}."


@dataclass(frozen=True, slots=True)
class Week:
    """A calendar week as the shop counts them, from its Monday (the first one from the day asked about)."""

    start: date
    covered: int
    total: int
    last: date
    """The Monday of the last week of several with the same count."""

    @property
    def words(self) -> str:
        """Example: "14", or "14 to 17" where nothing changes between them."""
        last = self.last.isocalendar().week
        return str(self.number) if last == self.number else f"{self.number} to {last}"

    @property
    def number(self) -> int:
        """The number of the week, ISO 8601."""
        return self.start.isocalendar().week

    @property
    def open(self) -> int:
        """Joints that are not covered on some day of the week."""
        return self.total - self.covered


@dataclass(frozen=True, slots=True)
class Forecast:
    """The weeks, and the days on which something changes. `covered`: the joints that are so on the day
    asked about, by key."""

    on: date
    until: date
    covered: frozenset[int]
    total: int
    weeks: tuple[Week, ...]
    changes: tuple[Change, ...]

    @property
    def spells(self) -> list[Week]:
        """The weeks, those in a row with the same count put together."""
        found: list[Week] = []
        for week in self.weeks:
            if found and found[-1].covered == week.covered:
                found[-1] = replace(found[-1], last=week.start)
            else:
                found.append(week)
        return found

    @property
    def sentence(self) -> str:
        """Example: "12 of 40 joints are covered on 2026-11-25; the first lose it in week 14, on 2027-04-05."."""
        if not self.total:
            return "No joints are on file yet."
        are = "is" if self.total == 1 else "are"
        start = f"{len(self.covered):,} of {self.total:,} joints {are} covered on {self.on}"
        first = next((change for change in self.changes if change.lost), None)
        if first is None:
            return f"{start}; none of them loses its cover until {self.until} as things stand."
        return f"{start}; the first to lose it do so in week {first.on.isocalendar().week}, on {first.on}."


def forecast(job: Job, today: Day, weeks: int = WEEKS) -> Forecast:
    """What changes for the joints of a job; what is not on file and signed yet counts for nothing."""
    until = today.on + weeks * WEEK
    steps = list(_steps(job, today, until))
    changes = tuple(change for change in _changes(steps) if change.lost or change.gained)
    first = steps[0]
    return Forecast(today.on, until, frozenset(first.good), first.total, tuple(_weeks(steps, until)), changes)


@dataclass(frozen=True, slots=True)
class _Step:
    """A day on which something may change, and the joints that are covered from it on."""

    on: date
    total: int
    good: dict[int, Held]
    why: tuple[str, ...]


def _steps(job: Job, today: Day, until: date) -> Iterator[_Step]:
    turns = _turns_of_procedures(today.on, until, bool(job.application_standard)) | _turns_of_plants(today.on, until)
    starts = [today.on, *sorted(turns)]
    before: Day | None = None
    for at, start in enumerate(starts):
        asked = (today if at == 0 else Day(start, today.settings)).at(job.plant_id)
        ends = starts[at + 1] - DAY if at + 1 < len(starts) else until
        joints, people = list(held_joints(job, asked)), People(asked.certificates)
        keys = certificates_of(joints)
        for on in (start, *people.turns(keys, start, ends)):
            good = {one.pk: one for one in joints if people.covered(one, on)}
            why = [*(_came_and_went(before, asked) if on == start else ()), *_certificates(people, keys, on)]
            yield _Step(on, len(joints), good, tuple(why))
        before = asked


def _turns_of_procedures(after: date, until: date, gates: bool) -> set[date]:
    """Days on which a procedure comes into force or ends, or on which a record begins to count or no longer does."""
    span = (after + DAY, until)
    found: set[date | None] = set()
    for name in ("approved_on", "ended_on"):
        found.update(ProcedureRevision.objects.filter(**{f"{name}__range": span}).values_list(name, flat=True))
    used = TestRecord.objects.filter(Q(withdrawn_on__isnull=True) | Q(withdrawn_on__gt=after))
    for welded, withdrawn, last in used.values_list("welded_on", "withdrawn_on", "last_used_on"):
        found.update({welded, withdrawn})
        if gates:
            # The age of a record is counted in years from its last use (EN 1090-2, 7.4.1.4).
            found.update(add_years(last or welded, row.years) + DAY for row in ROWS)
    return _within(found, span)


def _turns_of_plants(after: date, until: date) -> set[date]:
    """Days on which somebody is lent or comes back, or on which a procedure is released to another plant."""
    found: set[date | None] = set()
    for rows in (Loan.everything, ProcedureRelease.everything):
        for first, last in rows.values_list("from_on", "until"):
            found.update({first, last + DAY if last is not None else None})
    return _within(found, (after + DAY, until))


def _within(found: set[date | None], span: tuple[date, date]) -> set[date]:
    return {one for one in found if one is not None and span[0] <= one <= span[1]}


def _came_and_went(before: Day | None, now: Day) -> list[str]:
    """Which procedures and people came and went between two days, in words."""
    return [] if before is None else [*_procedures(before, now), *_people(before, now)]


def _people(before: Day, now: Day) -> list[str]:
    """Who is lent to the plant or goes back, and who of its own is lent away."""
    was, is_ = ({offer.person_id: offer.person_name for offer in one.certificates} for one in (before, now))
    gone = [f"{name} no longer counts here" for pk, name in was.items() if pk not in is_]
    come = [f"{name} counts here from now on" for pk, name in is_.items() if pk not in was]
    return gone + come


def _procedures(before: Day, now: Day) -> list[str]:
    """What came into force and what ended between two days, in words."""
    was, is_ = ({offer.revision_id: offer.label for offer in one.procedures} for one in (before, now))
    gone = [f"{label} is no longer in force" for pk, label in was.items() if pk not in is_]
    come = [f"{label} comes into force" for pk, label in is_.items() if pk not in was]
    return gone + come


def _certificates(people: People, keys: Sequence[int], on: date) -> list[str]:
    """Which of some certificates begin and end to count on a day, in words."""
    found = []
    for key in keys:
        offer = people.by_key[key]
        had, has = people.valid(key, on - DAY), people.valid(key, on)
        if had and not has:
            because = offer.validity.state(on).because
            found.append(f"{offer.number} of {offer.person_name} no longer counts ({because})")
        elif has and not had:
            found.append(f"{offer.number} of {offer.person_name} begins to count")
    return found


def _changes(steps: Sequence[_Step]) -> Iterator[Change]:
    for before, after in pairwise(steps):
        lost = tuple(one for pk, one in before.good.items() if pk not in after.good)
        gained = tuple(one for pk, one in after.good.items() if pk not in before.good)
        yield Change(after.on, lost, gained, after.why)


def _weeks(steps: Sequence[_Step], until: date) -> Iterator[Week]:
    """Joints count as covered in a week where they are so on each of its days."""
    start = steps[0].on
    while start < until:
        end = start + timedelta(days=7 - start.weekday())
        standing = [step for step in steps if step.on <= start][-1:]
        within = [*standing, *(step for step in steps if start < step.on < end)]
        good = set.intersection(*({*step.good} for step in within))
        yield Week(start, len(good), steps[0].total, start)
        start = end
