"""Validity as of any date: dated events become periods, each with the reason it starts and ends."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from codes.clauses import Clause


@dataclass(frozen=True, slots=True)
class Event:
    """Something dated that happened to a certificate.

    `kind`: "confirmation", "prolongation", "revocation" or what else the code's package names.
    `details`: what the kind needs, as text (see the package), for example the dates of two prolongation welds.
    """

    kind: str
    on: date
    by: str = ""
    details: Mapping[str, str] = field(default_factory=dict)

    @property
    def stated(self) -> tuple[str, ...]:
        """What is on file of it, whatever is made of that."""
        return self.kind, self.on.isoformat(), *(f"{name}: {self.details[name]}" for name in sorted(self.details))


@dataclass(frozen=True, slots=True)
class ValidityInput:
    """What a certificate states of its own life. `facts`: conditions of an option as text ("yes", "no", "3")."""

    tested_on: date
    option: str = ""
    results_on: date | None = None
    printed_until: date | None = None
    events: tuple[Event, ...] = ()
    facts: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Ending:
    """Why a period ends (or why there is none): reason key, sentence and clause.

    `told`: the days, and what somebody wrote, that the sentence is made of; other words for the same leave it as it is.
    """

    reason: str
    because: str
    clause: Clause
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Due:
    """Something that must happen by a date, that day included, for the certificate to stay valid.

    It stands from `since` on and, where it was done, until the day before `done_on`.
    """

    act: str
    by: date
    clause: Clause
    since: date | None = None
    done_on: date | None = None

    def stands(self, on: date) -> bool:
        """True where it is still to be done on that day."""
        started = self.since is None or self.since <= on
        return started and on <= self.by and (self.done_on is None or on < self.done_on)


@dataclass(frozen=True, slots=True)
class Question:
    """What gives reason to question a certificate that stays valid: somebody must decide, no rule does.

    It stands from `on` until the day before `settled_on`. `told`: as in `Ending`.
    """

    on: date
    because: str
    clause: Clause
    told: tuple[str, ...] = ()
    settled_on: date | None = None

    def stands(self, on: date) -> bool:
        """True where it is still open on that day."""
        return self.on <= on and (self.settled_on is None or on < self.settled_on)


@dataclass(frozen=True, slots=True)
class Period:
    """A stretch of validity, both days included; `end` None means without end."""

    start: date
    end: date | None
    opened: str
    ending: Ending
    dues: tuple[Due, ...] = ()
    questions: tuple[Question, ...] = ()

    def holds(self, on: date) -> bool:
        """True where the day lies in the period."""
        return self.start <= on and (self.end is None or on <= self.end)


@dataclass(frozen=True, slots=True)
class State:
    """The answer for one day. `dues` is what must happen next, earliest first; `missing` names unstated facts;
    `questions`: what somebody must decide on.

    `since`: the first day of the period that holds the day. `told`: as in `Ending`, of an invalid one; else of its
    questions.
    """

    on: date
    valid: bool
    reason: str
    because: str
    clause: Clause
    until: date | None = None
    dues: tuple[Due, ...] = ()
    missing: str = ""
    since: date | None = None
    told: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()


@dataclass(frozen=True, slots=True)
class Validity:
    """All periods of a certificate in order of date; `before` says why it is not valid before the first."""

    periods: tuple[Period, ...]
    before: Ending
    missing: str = ""

    def state(self, on: date) -> State:
        """The state on a day, past or future. Where a fact the option needs is not stated, nothing is valid."""
        ending = self.before
        for period in self.periods:
            if period.holds(on):
                dues = tuple(sorted((d for d in period.dues if d.stands(on)), key=lambda d: d.by))
                asked = tuple(question for question in period.questions if question.stands(on))
                because = "; ".join([period.opened, *(question.because for question in asked)])
                clause, told = period.ending.clause, tuple(text for question in asked for text in question.told)
                return State(on, True, "", because, clause, period.end, dues, "", period.start, told, asked)
            if period.end is not None and period.end < on:
                ending = period.ending
        return State(on, False, ending.reason, ending.because, ending.clause, missing=self.missing, told=ending.told)
