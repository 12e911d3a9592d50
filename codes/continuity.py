"""Certificates that live on use: AWS D1.1 6.2.3 and ASME IX QW-322, one algorithm, every gap checked.

A qualification lasts as long as its holder welds with the process, for the employer of the test; it lapses when no
weld was made for six months, whatever is welded later. Only a renewal test opens it again. The codes differ in the
last good day, in what a renewal must be after a revocation, and in clauses.

Each process of a test has a clock of its own: a certificate of several counts only while all of them run (strict: it
is offered whole). An act counts for the processes that it names; one that names none keeps none of them alive, a full
renewal test all, and a failed renewal holds up all.

A renewal test that fails while the certificate is valid ends nothing by itself: both codes end a qualification where
there is a specific reason to question the ability, which somebody decides on. Until then the state says so.

Facts: `process` and `transfer_mode` of the test (of several processes with commas between), `employer`.
Event kinds and their details:
"use", one weld made, with `process`, `mechanisation`, and where known `transfer_mode`, `employer`, `used_on`;
"confirmation", a signature that states the day of a weld in `used_on`; process and employer where they differ;
"renewal", a test passed, with `full_test` or `like_production` where the code asks, and `trained_on` after a failure;
"failed_renewal", with `process` too; "revocation" with `why`. Processes are ISO 4063 numbers; an act made with several
names them with commas between, in `transfer_mode` the mode of each.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import product, zip_longest

from codes.aws_processes import given_process, letter_name
from codes.clauses import Clause
from codes.dates import add_months
from codes.validity import Due, Ending, Event, Period, Question, Validity, ValidityInput

MONTHS = 6
HAND = ("manual", "partly_mechanised")
MACHINE = ("fully_mechanised", "automatic")
# On one day: a weld counts before a failure, a revocation after it, and a renewal is the last word.
ORDER = {"use": 0, "confirmation": 0, "failed_renewal": 1, "revocation": 2, "renewal": 3}
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Rules:
    """What one code adds.

    `modes`: whose use counts, by hand or by machine. `lapses_on_day`: the day six months after a use is itself too
    late (ASME IX, strict), else it is the last good one (AWS D1.1). `mode_apart`: GMAW-S is a process of its own.
    `from_results`: valid only from the day the results were accepted. `clock`: False where use is not asked for.
    `one_of_several`: the clock is that of one process of a test made with several.
    """

    start: Clause
    use: Clause
    revoke: Clause
    renew: Clause
    modes: tuple[str, ...]
    lapses_on_day: bool
    mode_apart: bool
    from_results: bool
    revoked_renewal: tuple[str, str]
    clock: bool = True
    one_of_several: bool = False

    def last_day(self, used: date) -> date | None:
        """The last good day after a use. Example: used on 15 January, 15 July (AWS D1.1) or 14 July (ASME IX)."""
        if not self.clock:
            return None
        return add_months(used, MONTHS) - (DAY if self.lapses_on_day else timedelta(0))


def continuity_periods(given: ValidityInput, rules: Rules) -> Validity:
    """The validity of a certificate from its test and its events; several periods where it was renewed.

    Example: tested on 10 January 2025 and not used, it is valid to 10 July 2025 under AWS D1.1, to 9 July under IX.
    """
    missing = _missing(given)
    if missing:
        told = tuple(part for event in given.events for part in event.stated)
        return Validity((), Ending("missing_data", f"not stated: {missing}", rules.use, told), missing)
    each = _by_process(given, rules)
    if len(each) > 1:
        return _while_all_run([_of_one(one, replace(rules, one_of_several=True)) for one in each])
    return _of_one(each[0], rules)


def _by_process(given: ValidityInput, rules: Rules) -> list[ValidityInput]:
    """The input for each process of the test, by the names that the code gives them; one where none is stated."""
    found: dict[str, dict[str, str]] = {}
    for process, mode in _pairs(given.facts) or [("", None)]:
        found.setdefault(_name(process, mode, rules), {"process": process, "transfer_mode": mode or ""})
    return [replace(given, facts={**given.facts, **one}) for one in found.values()]


def _while_all_run(lives: Sequence[Validity]) -> Validity:
    """The days on which every clock runs, each stretch with the ending that comes first."""
    periods = []
    for together in product(*(one.periods for one in lives)):
        last = max(together, key=lambda one: one.start)
        first = min(together, key=lambda one: one.end or date.max)
        if first.end is None or last.start <= first.end:
            every = dict.fromkeys(due for one in together for due in one.dues)
            dues = tuple(due for due in every if first.end is None or due.by <= first.end)
            asked = tuple(dict.fromkeys(question for one in together for question in one.questions))
            periods.append(Period(last.start, first.end, last.opened, first.ending, dues, asked))
    never = next((one for one in lives if not one.periods), None)
    periods.sort(key=lambda one: one.start)
    if periods:
        periods[-1] = replace(periods[-1], ending=_standing(periods[-1], lives))
    return Validity(tuple(periods), (never or lives[0]).before)


def _standing(last: Period, lives: Sequence[Validity]) -> Ending:
    """Why the last common stretch ended and none follows: a clock that was opened again is not what stands."""
    left = [one.periods[-1] for one in lives if one.periods[-1].start <= (last.end or date.max)]
    if last.end is None or not left or last.ending in [one.ending for one in left]:
        return last.ending
    nearest = min(left, key=lambda one: one.end or date.max)
    if nearest.end == last.end:
        return nearest.ending
    because = f"{last.ending.because}; {nearest.ending.because}"
    return replace(last.ending, because=because, told=(*last.ending.told, *nearest.ending.told))


def _of_one(given: ValidityInput, rules: Rules) -> Validity:
    start = max(given.tested_on, given.results_on or given.tested_on) if rules.from_results else given.tested_on
    walk = _Walk(rules, given, start, given.tested_on)
    for day, event in _acts(given):
        walk.take(day, event)
    before = Ending("validity_not_started", f"validity starts on {start}", rules.start, (start.isoformat(),))
    return Validity(walk.finish(), walk.ending if walk.never_valid else before)


def _missing(given: ValidityInput) -> str:
    unknown = [event for event in given.events if event.kind not in ORDER]
    if unknown:
        # It might be the end of the certificate, so nothing can be said before it is understood.
        return f'what the event "{unknown[0].kind}" of {unknown[0].on} means; known: {", ".join(ORDER)}'
    for fact, words in (("process", "the process of the test"), ("employer", "the employer of the test")):
        if any(event.details.get(fact) for event in given.events) and not given.facts.get(fact, "").strip():
            return words
    return ""


def _acts(given: ValidityInput) -> Iterator[tuple[date, Event]]:
    """The events by the day they count on: for a signed use the day of the weld."""
    dated = [(_day(event), event) for event in given.events]
    yield from sorted(dated, key=lambda pair: (pair[0], ORDER[pair[1].kind]))


def _day(event: Event) -> date:
    stated = event.details.get("used_on", "") if event.kind in ("use", "confirmation") else ""
    try:
        return date.fromisoformat(stated) if stated else event.on
    except ValueError:
        return event.on


@dataclass
class _Walk:
    """The way through the events: open or not, since when, last used when."""

    rules: Rules
    given: ValidityInput
    opened: date | None
    used: date
    opening: str = ""
    periods: list[Period] = field(default_factory=list)
    dues: list[Due] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    refused: str = ""
    refused_told: tuple[str, ...] = ()
    failed_on: date | None = None
    revoked: bool = False
    ending: Ending = field(init=False)

    def __post_init__(self) -> None:
        results = self.opened is not None and self.opened > self.used
        self.opening = "valid from the day the test " + ("results were accepted" if results else "piece was welded")
        self.ending = Ending("validity_not_started", "no test", self.rules.start)

    @property
    def never_valid(self) -> bool:
        """True where the test gave no period at all."""
        return not self.periods

    def take(self, day: date, event: Event) -> None:
        """One event, in order of date."""
        if day < self.given.tested_on:
            return
        self._lapse_before(day)
        if event.kind == "revocation":
            why = event.details.get("why", "").rstrip(". ")
            text = f"revoked on {day}" + (f": {why}" if why else "")
            self._close(day - DAY, Ending("revoked", text, self.rules.revoke, (day.isoformat(), why)))
            self.revoked = True
        elif event.kind == "failed_renewal":
            if not _other_process(event, self.given, self.rules):
                self._fail(day, event)
        elif event.kind == "renewal":
            self._renew(day, event)
        elif self.opened is not None:
            problem = _problem(event, self.given, self.rules)
            if problem:
                self.refused, self.refused_told = f"; the weld of {day} does not count: {problem}", event.stated
            else:
                self._use(day)

    def finish(self) -> tuple[Period, ...]:
        """All periods; the last one runs to the day by which the next weld is due."""
        last = self.rules.last_day(self.used)
        if self.opened is not None and last is None:
            ending = Ending("", "no end while ability is not questioned", self.rules.use)
            self.periods.append(Period(self.opened, None, self.opening, ending, questions=tuple(self.questions)))
        elif last is not None:
            self._close(last, self._lapse(last))
        return tuple(self.periods)

    def _fail(self, day: date, event: Event) -> None:
        """A failed test: training comes before the next one, and what is valid is put in question."""
        self.failed_on, why = day, event.details.get("why", "").rstrip(". ")
        which = self._process() if self.rules.one_of_several else ""
        text = f"the renewal test of {day}{f' with {which}' if which else ''} failed{f': {why}' if why else ''}"
        self.questions.append(Question(day, text, self.rules.revoke, event.stated))

    def _process(self) -> str:
        facts = self.given.facts
        return _name(facts.get("process", ""), facts.get("transfer_mode"), self.rules)

    def _use(self, day: date) -> None:
        self._due(day)
        self.used, self.refused, self.refused_told = day, "", ()

    def _due(self, done_on: date | None) -> None:
        last = self.rules.last_day(self.used)
        if last is not None:
            due = Due("weld with the process", last, self.rules.use, since=self.used, done_on=done_on)
            self.dues.append(due)

    def _lapse_before(self, day: date) -> None:
        last = self.rules.last_day(self.used)
        if last is not None and last < day:
            self._close(last, self._lapse(last))

    def _lapse(self, last: date) -> Ending:
        text, which = f"no weld with the process after {self.used}, so it lapsed on {last + DAY}{self.refused}", ""
        if self.rules.one_of_several:
            which = self._process()
            text = f"no weld with {which} after {self.used}, so it lapsed on {last + DAY}{self.refused}"
        told = (which, self.used.isoformat(), (last + DAY).isoformat(), *self.refused_told)
        return Ending("continuity", text, self.rules.use, told)

    def _close(self, end: date, ending: Ending) -> None:
        if self.opened is None:
            return
        self._due(None)
        self.ending = ending
        if end >= self.opened:
            dues = tuple(self.dues)
            self.periods.append(Period(self.opened, end, self.opening, ending, dues, tuple(self.questions)))
        self.opened, self.dues, self.questions = None, [], []

    def _renew(self, day: date, event: Event) -> None:
        problem = _renewal_problem(event, self)
        if problem:
            self._say(f"the renewal of {day} does not count: {problem}", event.stated)
            return
        # Passed, after the training that a failure asks for: the failure is settled, also for the next renewal.
        self.failed_on = None
        self.questions = [replace(one, settled_on=one.settled_on or day) for one in self.questions]
        if self.opened is not None:
            self._use(day)
        else:
            self.opened, self.used, self.opening = day, day, f"renewed by the test of {day}"
            self.refused, self.refused_told, self.revoked, self.questions = "", (), False, []

    def _say(self, text: str, told: tuple[str, ...]) -> None:
        """Add to why it is not valid: to the last period's ending, where there is one."""
        if self.opened is not None:
            self.refused, self.refused_told = f"; {text}", told
            return
        because = f"{self.ending.because}; {text}"
        self.ending = replace(self.ending, because=because, told=(*self.ending.told, *told))
        if self.periods:
            last = self.periods[-1]
            self.periods[-1] = replace(last, ending=self.ending)


def _problem(event: Event, given: ValidityInput, rules: Rules) -> str:
    """Why a weld keeps nothing alive, "" where it does."""
    said = event.details
    if event.kind == "confirmation" and not said.get("used_on"):
        return "the signature names no day of welding"
    try:
        used = date.fromisoformat(said.get("used_on") or event.on.isoformat())
    except ValueError:
        return "its day is not written as 2026-03-31"
    if used > event.on:
        return f"it was signed on {event.on}, before it was made"
    if event.kind == "use":
        for name in ("process", "mechanisation"):
            if not said.get(name, "").strip():
                return f"its {name} is not stated"
    return _mismatch(event, given, rules)


def _mismatch(event: Event, given: ValidityInput, rules: Rules) -> str:
    """What differs from the test: process, hand or machine, employer."""
    said, facts = event.details, given.facts
    process = said.get("process", "").strip()
    if rules.one_of_several and not process and said.get("full_test") != "yes":
        return "its process is not stated"
    if other := _other_process(event, given, rules):
        return other
    mode = said.get("mechanisation", "").strip()
    if mode and mode not in rules.modes:
        return f"{mode.replace('_', ' ')} welding keeps no qualification of this kind alive"
    employer = said.get("employer", "").strip()
    if employer and employer.casefold() != facts.get("employer", "").strip().casefold():
        return f"it was made for {employer}, the test for {facts.get('employer', '').strip()}"
    return ""


def _other_process(event: Event, given: ValidityInput, rules: Rules) -> str:
    """Why an act was made with another process than the test, "" where not, or where it names none."""
    said, facts = event.details, given.facts
    if not said.get("process", "").strip():
        return ""
    tested = _name(facts.get("process", ""), facts.get("transfer_mode"), rules)
    welded = [_name(process, mode, rules) for process, mode in _pairs(said)]
    return "" if tested in welded else f"it was made with {' and '.join(welded)}, the test with {tested}"


def _pairs(said: Mapping[str, str]) -> list[tuple[str, str | None]]:
    """Each process that is named, with its transfer mode where one is."""
    processes, modes = (said.get(name, "").split(",") for name in ("process", "transfer_mode"))
    both = zip_longest(processes, modes[: len(processes)], fillvalue="")
    return [(process.strip(), mode.strip() or None) for process, mode in both if process.strip()]


def _name(process: str, mode: str | None, rules: Rules) -> str:
    """The process as the code counts it; a number without letters stays as it is."""
    name = given_process(process.strip(), mode) if rules.mode_apart else letter_name(process.strip())
    return name or process


def _renewal_problem(event: Event, walk: _Walk) -> str:
    said = event.details
    if said.get("passed", "yes") != "yes":
        return "the test was not passed"
    different = _mismatch(event, walk.given, walk.rules)
    if different:
        return different
    key, words = walk.rules.revoked_renewal
    if walk.revoked and said.get(key) != "yes":
        return f"after a revocation it must be {words}"
    if walk.failed_on is not None:
        trained = said.get("trained_on", "")
        if not walk.failed_on.isoformat() <= trained <= event.on.isoformat():
            return f"the one of {walk.failed_on} failed, and no further training since is stated"
    return ""
