"""Joints that hang on one person: nobody else may make the tacks, or the final weld, on the day asked about."""

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache, partial

from joints.ahead.holders import DAY, Held, People
from joints.answers import count
from joints.bulk_people import Holders
from joints.day import Day
from qualifications.lending.models import Loan
from qualifications.lending.where import counting

Here = Callable[[date], Callable[[int, int | None], bool]]
"""Day to who counts at the plant on it (qualifications.lending.where.counting)."""
FAR = timedelta(days=3 * 366)
"""So far ahead the last day of a person is looked for."""


@dataclass(frozen=True, slots=True)
class Hanging:
    """One person, the joints that hang on them, and the first day on which some of these have nobody."""

    person_id: int
    name: str
    joints: tuple[Held, ...]
    ends: date | None

    @property
    def sentence(self) -> str:
        """Example: "Ada Krol alone may weld 14 joints; from 2027-03-02 the first of them have nobody."."""
        return f"{self.name} {self.words}"

    @property
    def words(self) -> str:
        """The same after the name."""
        said = f"alone may weld {count(len(self.joints), 'joint', 'joints')}"
        if self.ends is None:
            whom = "it is" if len(self.joints) == 1 else "none of them is"
            never = "not left" if len(self.joints) == 1 else "left"
            return f"{said}; as certificates stand {whom} {never} without anybody within three years."
        whom = "it has" if len(self.joints) == 1 else "the first of them have"
        return f"{said}; from {self.ends} {whom} nobody."


def hanging(joints: Sequence[Held], today: Day) -> tuple[Hanging, ...]:
    """By person, whoever carries most first. A joint that already has nobody for its tacks or its final weld hangs on
    no one: whoever makes the other of the two cannot make it alone."""
    people = People(today.certificates)
    found: dict[int, dict[int, Held]] = {}
    phases: dict[int, set[Holders]] = {}
    for one in (held for held in joints if people.covered(held, today.on)):
        for holders in one.phases:
            able = people.able(holders, today.on)
            if len(able) == 1:
                (person,) = able
                found.setdefault(person, {})[one.pk] = one
                phases.setdefault(person, set()).add(holders)
    lent = _turns_of_loans(people, today)
    here = cache(partial(counting, today.plant)) if today.plant is not None else None  # a query a day, not a phase
    listed = [
        Hanging(pk, people.names[pk], tuple(held.values()), _ends(people, phases[pk], today.on, lent, here))
        for pk, held in found.items()
    ]
    return tuple(sorted(listed, key=lambda one: (-len(one.joints), one.name)))


def _ends(people: People, phases: set[Holders], on: date, lent: Set[date], here: Here | None) -> date | None:
    """The first day on which one of the phases has nobody; somebody else may take over before that. Whoever is lent to
    the plant goes back, and its own people may be lent away."""
    homes = {offer.person_id: offer.plant_id for offer in people.by_key.values()}
    days: list[date] = []
    for holders in phases:
        keys = sorted({key for way in holders for held in way for key in held})
        for turn in sorted({*people.turns(keys, on, on + FAR), *lent}):
            able = people.able(holders, turn)
            if able and here is not None:
                counts = here(turn)
                able = frozenset(pk for pk in able if counts(pk, homes[pk]))
            if not able:
                days.append(turn)
                break
    return min(days, default=None)


def _turns_of_loans(people: People, today: Day) -> Set[date]:
    """The days ahead on which somebody who counts today is lent away or goes back."""
    if today.plant is None:
        return frozenset()
    found = set()
    for loan in Loan.everything.filter(person_id__in=people.names):
        ends = (loan.from_on, loan.until + DAY if loan.until is not None else None)
        found.update(day for day in ends if day is not None and today.on < day <= today.on + FAR)
    return found
