"""Joints that hang on one person: nobody else may make the tacks, or the final weld, on the day asked about."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from joints.ahead.holders import Held, People
from joints.answers import count
from joints.bulk_people import Holders
from joints.day import Day

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
    listed = [
        Hanging(pk, people.names[pk], tuple(held.values()), _ends(people, phases[pk], today.on))
        for pk, held in found.items()
    ]
    return tuple(sorted(listed, key=lambda one: (-len(one.joints), one.name)))


def _ends(people: People, phases: set[Holders], on: date) -> date | None:
    """The first day on which one of the phases has nobody; somebody else may take over before that."""
    days = []
    for holders in phases:
        keys = sorted({key for way in holders for held in way for key in held})
        days += [turn for turn in people.turns(keys, on, on + FAR) if not people.able(holders, turn)][:1]
    return min(days, default=None)
