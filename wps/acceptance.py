"""Which execution classes of EN 1090-2 accept a record as it stands on a day, and how long it has lain unused."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from codes.check import finding
from codes.editions import edition
from codes.en_1090_2_2018 import USUAL
from codes.limits import Limit
from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from codes.values import Steel, SteelPair, Value, atoms
from codes.verdict import Finding, Outcome
from wps.evidence import gate_facts
from wps.models import TestRecord

STANDARD = "EN 1090-2:2018"
CLASSES = ("EXC1", "EXC2", "EXC3", "EXC4")
OF_THE_RECORD = frozenset({"qualification_method", "level", "wpqr_age"})
"""Reasons that concern the record itself, whatever the joint asks for."""
BANDS = (("grades up to S355", Decimal(355)), ("grades above S355", Decimal(460)))
"""Words, and a yield that stands for them: the age of a record counts differently above S355."""


@dataclass(frozen=True, slots=True)
class Accepted:
    """One execution class and band of grades: the answer, and the findings behind it, worst first."""

    execution_class: str
    grades: str
    outcome: Outcome
    findings: tuple[Finding, ...]

    @property
    def word(self) -> str:
        """What the answer waits for: a test, where one opens the gate; else nothing more to say."""
        waits = self.outcome is Outcome.NOT_STATED and any(found.needs for found in self.findings)
        return "before a test" if waits else ""

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why it is not simply accepted: what is needed or missing, and the rule with its clause."""
        return tuple(_reason(found) for found in self.findings)


def _reason(found: Finding) -> str:
    """A finding about a record in a sentence; the joint's own value says nothing here."""
    said = found.because or found.allowed
    asked = f"{found.missing}; " if found.missing else ""
    words = f"{asked}{said}"
    return f"{words[:1].upper()}{words[1:]} ({found.clause})."


def acceptance(record: TestRecord, on: date, settings: Settings = DEFAULTS) -> tuple[Accepted, ...]:
    """An answer for every class, for each band of grades where they differ. Raises BadField for unreadable pieces.

    Example: a record at level 1 is accepted in EXC1 only.
    """
    limits = [limit for limit in _limits(record, settings) if limit.clause.standard == STANDARD]
    found: list[Accepted] = []
    for name in CLASSES:
        answers = [_answer(name, words, _demand(record, name, mpa, on), limits) for words, mpa in BANDS]
        first = answers[0]
        alike = all((one.outcome, one.findings) == (first.outcome, first.findings) for one in answers)
        found += [Accepted(name, "all grades", first.outcome, first.findings)] if alike else answers
    return tuple(found)


def route_scope(record: TestRecord, settings: Settings = DEFAULTS) -> str:
    """What the route's own standard asks of every joint, whatever the class; "" where it asks nothing more."""
    found = (limit for limit in _limits(record, settings) if limit.clause.standard != STANDARD)
    return "; ".join(dict.fromkeys(f"{limit.because} ({limit.clause})" for limit in found))


def _limits(record: TestRecord, settings: Settings) -> list[Limit]:
    (gates,) = edition(STANDARD).limit_sets([record_facts(record)], settings)
    return [limit for limit in gates.limits if limit.reason in OF_THE_RECORD]


def record_facts(record: TestRecord) -> dict[str, Value]:
    """The record's facts as the gates ask for them; the day of the test counts where it was not used since."""
    facts: dict[str, Value] = dict(gate_facts(record))
    facts |= {"qualification_route": record.route, "last_used_on": used_on(record).isoformat()}
    return facts | ({"level": Decimal(record.level)} if record.level is not None else {})


def used_on(record: TestRecord) -> date:
    """The day from which the record counts as unused."""
    return record.last_used_on or record.welded_on


def unused_for(record: TestRecord, on: date) -> str:
    """How long it has lain unused, in words. Example: "1 year 2 months, counted from the day of the test"."""
    since = used_on(record)
    if since > on:
        return "not yet welded on this day"
    months = (on.year - since.year) * 12 + on.month - since.month - (on.day < since.day)
    years, rest = divmod(months, 12)
    parts = [f"{n} {word}{'' if n == 1 else 's'}" for n, word in ((years, "year"), (rest, "month")) if n]
    start = "last use" if record.last_used_on else "the day of the test"
    return f"{' '.join(parts) or 'less than a month'}, counted from {start}"


def tests_shown(record: TestRecord) -> tuple[tuple[str, str], ...]:
    """The extra tests that gates may ask for, and what the record shows of each."""
    try:
        facts = gate_facts(record)
    except BadField:
        return ()
    cold = facts.get("impact_tested_at")
    return (
        ("Impact tests", f"at {cold} °C" if cold is not None else "none on the record"),
        ("Micro section", "accepted" if facts.get("micro_section") == "yes" else "none on the record"),
        ("Cruciform test", "accepted" if facts.get("cruciform_tested") == "yes" else "none on the record"),
    )


def _demand(record: TestRecord, execution_class: str, mpa: Decimal, on: date) -> dict[str, Value]:
    steel = Steel("", mpa)
    found: dict[str, Value] = {**USUAL, "execution_class": execution_class, "on": on.isoformat()}
    found["steels"] = SteelPair(steel, steel)
    degrees = [atom for piece in record.tested() for atom in atoms(piece.get("mechanisation", ()))]
    return found | ({"mechanisation": degrees[0] if len(degrees) == 1 else tuple(degrees)} if degrees else {})


def _answer(execution_class: str, grades: str, demand: Mapping[str, Value], limits: Sequence[Limit]) -> Accepted:
    found = [one for limit in limits if (one := finding(demand, limit)) is not None]
    found.sort(key=lambda one: one.outcome.rank)
    outcome = found[0].outcome if found else Outcome.COVERED
    return Accepted(execution_class, grades, outcome, tuple(one for one in found if one.outcome is not Outcome.COVERED))
