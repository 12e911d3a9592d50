"""The coverage report of an assembly: each joint, tack and final, as of a day: procedure, record, person, margins.

Joints that state the same are reported together, under all their numbers: what holds for one holds for the others.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Any

from codes.units import System
from codes.verdict import Finding, Outcome
from codes.words import lower_first
from joints.answers import JointAnswer, PhaseAnswer, count
from joints.day import Day
from joints.models import Assembly, Joint
from joints.papers.coverage_facts import PEOPLE, coverage_facts
from joints.papers.explained import Explained, explained, shown_findings, shown_procedures, verdicts_of
from joints.papers.stated import joint_words
from joints.ready import day_of
from register.languages import in_own_language
from register.own_units.findings import finding_in
from register.own_units.words import sentence_in
from register.papers.kinds import Kind, register
from register.papers.names import plain
from register.papers.printing import Draft

TITLES = {"final": "Final weld", "tack": "Tacks"}
"""Parts of a gas that are not in it are covered without being worth a line."""


@dataclass(frozen=True, slots=True)
class Line:
    """One finding: what was asked, allowed, by which clause, how far from the limit, and what it rests on."""

    label: str
    wanted: str
    allowed: str
    margin: str
    clause: str
    because: str
    outcome: str


@dataclass(frozen=True, slots=True)
class Phase:
    """One phase of a group of joints."""

    title: str
    outcome: str
    sentence: str
    procedures: tuple[str, ...]
    records: str
    people: tuple[str, ...]
    more_people: int
    lines: tuple[Line, ...]
    others: int


@dataclass(frozen=True, slots=True)
class Group:
    """Joints that state the same, with both phases. `numbers` as people write them: "3, 4 and 7"."""

    numbers: tuple[str, ...]
    stated: str
    outcome: str
    phases: tuple[Phase, ...]

    @property
    def heading(self) -> str:
        """Example: "Joints 3, 4 and 7"."""
        return f"Joint{'s' if len(self.numbers) > 1 else ''} {listed(self.numbers)}"

    @property
    def named(self) -> str:
        """The same within a line, for a phase that may begin another side. Example: "joints 3, 4 and 7"."""
        return lower_first(self.heading)


@dataclass(frozen=True, slots=True)
class Report:
    """The whole report."""

    job: str
    assembly: str
    asked: tuple[tuple[str, str], ...]
    on: date
    groups: tuple[Group, ...]
    counts: Mapping[str, int] = field(default_factory=dict)

    @property
    def sentence(self) -> str:
        """The answer first."""
        total, covered = sum(self.counts.values()), self.counts.get("covered", 0)
        if total == covered:
            return f"{'All ' if total > 1 else ''}{count(total, 'joint is', 'joints are')} covered, tack and final."
        open_ones = [f"{n} {word}" for word, n in self.counts.items() if n and word != "covered"]
        return f"{covered} of {count(total, 'joint is', 'joints are')} covered; {', '.join(open_ones)}."


def report(assembly: Assembly, day: Day, system: System = System.SI) -> Report:
    """The report on the day."""
    return told(explained(assembly, day), system)


def told(found: Explained, system: System = System.SI) -> Report:
    """What was answered, in words."""
    groups = tuple(_group(joints, answer, found, system) for joints, answer in found.groups)
    counts = {o.value: 0 for o in sorted(Outcome, key=lambda o: -o.rank)}
    for group in groups:
        counts[group.outcome] += len(group.numbers)
    assembly = found.assembly
    return Report(str(assembly.job), str(assembly), _asked(assembly), found.on, groups, counts)


def _asked(assembly: Assembly) -> tuple[tuple[str, str], ...]:
    job = assembly.job
    return (
        ("Procedures qualified to", f"{job.procedure_code}{f', level {job.level}' if job.level else ''}"),
        ("Application standard", " ".join(filter(None, (job.application_standard, job.execution_class)))),
        ("Client", job.client),
    )


def _group(joints: Sequence[Joint], answer: JointAnswer, found: Explained, system: System) -> Group:
    phases = tuple(_phase(one, found, system) for one in (answer.final, answer.tack))
    numbers = tuple(joint.number for joint in joints)
    return Group(numbers, joint_words(joints[0], system), answer.outcome.value, phases)


def _phase(answer: PhaseAnswer, found: Explained, system: System) -> Phase:
    shown = shown_procedures(answer)
    people = list(dict.fromkeys(f"{one.person_name}, {_certificate(one)}" for one in answer.people))
    verdicts = list(verdicts_of(answer))
    lines = tuple(_line(finding, system) for finding in shown_findings(verdicts))
    if any(verdict.worst for verdict in verdicts):
        lines = tuple(dict.fromkeys(lines))
    every = sum(len({f.variable for f in verdict.findings}) for verdict in verdicts)
    rests = (found.rests[one.revision_id].words if one.revision_id in found.rests else "" for one in shown)
    return Phase(
        title=TITLES[answer.phase],
        outcome=answer.outcome.value,
        sentence=sentence_in(answer.sentence, system),
        procedures=tuple(one.label for one in shown),
        records="; ".join(dict.fromkeys(rests)),
        people=tuple(people[:PEOPLE]),
        more_people=max(0, len(people) - PEOPLE),
        lines=lines,
        others=max(0, every - len({line.label for line in lines})),
    )


def _certificate(one: Any) -> str:
    return str(one.label.removeprefix(f"{one.person_name}, "))


def _line(finding: Finding, system: System) -> Line:
    shown = finding_in(finding, system)
    return Line(
        finding.label,
        shown.wanted or "not stated",
        _allowed(shown),
        shown.margin_text,
        str(finding.clause),
        sentence_in(finding.because, system),
        finding.outcome.value,
    )


def _allowed(shown: Finding) -> str:
    """What is allowed and what else must be stated; that the joint does not state the variable stands beside it."""
    alone = not shown.wanted and shown.missing == f"{lower_first(shown.label)} not stated"
    return "; ".join(dict.fromkeys(filter(None, (shown.allowed, "" if alone else shown.missing))))


def listed(numbers: Sequence[str]) -> str:
    """Example: ("3", "4", "7") gives "3, 4 and 7"."""
    return ", ".join(numbers[:-1]) + (" and " if len(numbers) > 1 else "") + numbers[-1]


@in_own_language
def content(subject_id: str, on: date) -> dict[str, Any] | None:
    """What a report states, in SI figures."""
    assembly = Assembly.objects.select_related("job").filter(pk=subject_id).first()
    return None if assembly is None else content_of(report(assembly, day_of(on)))


def facts(subject_id: str, on: date) -> dict[str, Any] | None:
    """What that says, whatever the words."""
    assembly = Assembly.objects.select_related("job").filter(pk=subject_id).first()
    return None if assembly is None else coverage_facts(explained(assembly, day_of(on)))


def content_of(found: Report) -> dict[str, Any]:
    """As JSON values."""
    return {**asdict(found), "on": found.on.isoformat(), "sentence": found.sentence}


KIND = register(Kind("coverage", "coverage report", content, facts))


@in_own_language
def draft(assembly: Assembly, on: date, system: System) -> Draft:
    """The report before it is printed."""
    known = explained(assembly, day_of(on))
    found = told(known)

    def context() -> dict[str, Any]:
        shown = found if system is System.SI else told(known, system)
        return {
            "what": "Coverage report",
            "lead": f"{assembly.job}: {assembly.job.title} · {assembly.title} · as of {on.isoformat()}",
            "report": shown,
        }

    title = f"{assembly}, coverage"
    stem = plain("coverage", assembly.job.number, assembly.mark, on.isoformat())
    said, template = content_of(found), "joints/papers/coverage_sheet.html"
    return Draft(KIND, assembly, title, stem, on, said, template, context, facts=coverage_facts(known))
