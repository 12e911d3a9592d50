"""The answer to one joint: per phase the procedures and the people, or the nearest of each, and why not."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Protocol

from codes.verdict import Finding, Outcome, Verdict
from codes.words import lower_first
from joints.misses import Misses

SAME_TWICE = re.compile(r"((?:[\w+]+ )?\([^()]*\)) to \1")
"""A pair of steels of which both are the same."""
GATES = "EN 1090-2"
"""The standard whose rules come before those of the procedure's code, and say themselves what they ask."""


@dataclass(frozen=True)
class ProcedureAnswer:
    """What one procedure revision says to one phase: the outcome at once, the verdict when somebody asks."""

    revision_id: int
    label: str
    misses: Misses
    explain: Callable[[], tuple[Verdict, str]] = field(repr=False, compare=False)

    @property
    def outcome(self) -> Outcome:
        """The answer."""
        return self.misses.outcome

    @cached_property
    def _explained(self) -> tuple[Verdict, str]:
        return self.explain()

    @property
    def verdict(self) -> Verdict:
        """Every finding."""
        return self._explained[0]

    @property
    def allows(self) -> str:
        """Who refuses, in words that go before the allowed range: "the records of WPS 014 rev C allow"."""
        return self._explained[1]


@dataclass(frozen=True)
class CertificateAnswer:
    """What one certificate says to one phase as welded to the named procedure, validity on the day included."""

    certificate_id: int
    person_id: int
    person_name: str
    label: str
    procedure: str
    misses: Misses
    explain: Callable[[], Verdict] = field(repr=False, compare=False)

    @property
    def outcome(self) -> Outcome:
        """The answer."""
        return self.misses.outcome

    @cached_property
    def verdict(self) -> Verdict:
        """Every finding."""
        return self.explain()


@dataclass(frozen=True)
class PhaseAnswer:
    """One phase: the covering procedures, or the nearest; the certificates that count, or the nearest.

    `serving` is how many procedures serve the phase at all.
    """

    phase: str
    outcome: Outcome
    procedures: tuple[ProcedureAnswer, ...]
    people: tuple[CertificateAnswer, ...]
    nearest_certificate: CertificateAnswer | None
    explain_place: Callable[[], Verdict] | None = field(repr=False, compare=False)
    notes: tuple[str, ...]
    reasons: tuple[str, ...]
    serving: int
    say: Callable[[], str] = field(repr=False, compare=False)

    @cached_property
    def sentence(self) -> str:
        """The answer in one sentence."""
        return self.say()

    @cached_property
    def place(self) -> Verdict | None:
        """What the workstation and the job's own gates say; None where they say nothing."""
        return self.explain_place() if self.explain_place is not None else None

    @property
    def covering(self) -> tuple[ProcedureAnswer, ...]:
        """The procedures that cover the phase."""
        return tuple(p for p in self.procedures if p.outcome is Outcome.COVERED)

    @property
    def labels(self) -> tuple[str, ...]:
        """The names of the procedures that cover it."""
        return tuple(procedure.label for procedure in self.covering)

    @property
    def nearest_procedure(self) -> ProcedureAnswer | None:
        """The procedure that comes nearest; the first that covers, if any does."""
        return self.procedures[0] if self.procedures else None

    @property
    def person_ids(self) -> frozenset[int]:
        """The people who may weld it."""
        return frozenset(answer.person_id for answer in self.people)


@dataclass(frozen=True, slots=True)
class JointAnswer:
    """Both phases, the worst outcome of them, and the answer in one sentence."""

    on: date
    outcome: Outcome
    sentence: str
    tack: PhaseAnswer
    final: PhaseAnswer

    @property
    def phases(self) -> tuple[PhaseAnswer, PhaseAnswer]:
        """Tack and final."""
        return self.tack, self.final

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reason keys of both phases, each once, prefixed with whom they concern; those of the sentence first."""
        return reasons_as_told(self.tack, self.final)


class Told(Protocol):
    """What the order of the reasons needs to know of a phase."""

    @property
    def outcome(self) -> Outcome:
        """The answer."""

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why not, as keys."""


def final_is_told(tack: Outcome, final: Outcome) -> bool:
    """Whether the sentence of a joint tells of the final weld: the worse phase is told, the final weld of equals."""
    return tack.rank >= final.rank


def reasons_as_told(tack: Told, final: Told) -> tuple[str, ...]:
    """The reasons of both phases, each once, first those of the phase that the sentence of the joint tells of."""
    both = (final, tack) if final_is_told(tack.outcome, final.outcome) else (tack, final)
    return tuple(dict.fromkeys(reason for phase in both for reason in phase.reasons))


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """The worst of the outcomes; covered where there is none."""
    return min(outcomes, key=lambda outcome: outcome.rank, default=Outcome.COVERED)


def count(number: int, one: str, many: str) -> str:
    """A number with its noun. Example: count(3, "person", "people") is "3 people"."""
    return f"{number:,} {one if number == 1 else many}"


def refusal(finding: Finding, allows: str) -> str:
    """Why not, in one line. Example: "parent thickness 32 mm, its records allow 3 to 30 mm"."""
    return SAME_TWICE.sub(r"\1", _refusal(finding, allows))


def _refusal(finding: Finding, allows: str) -> str:
    label = lower_first(finding.label)
    if finding.variable == "on" and finding.allowed == "not valid":
        return f"not valid on {finding.wanted}: {finding.because}"
    if finding.clause.standard.startswith(GATES) and finding.because and finding.wanted:
        # A gate says itself who asks for what; "allows" would name the wrong one.
        what = f"{label} {finding.wanted}" if finding.variable != "on" else f"on {finding.wanted}"
        return f"{finding.because}; {what}, {finding.missing or f'allowed {finding.allowed}'}"
    if finding.outcome is Outcome.NOT_STATED:
        if not finding.wanted and not finding.missing.startswith("unknown"):
            return finding.missing or f"{label} not stated"
        return f"{label} {finding.wanted or 'not stated'}, {finding.missing or f'{allows} {finding.allowed}'}"
    if (finding.wanted, finding.allowed) == ("yes", "no"):
        return f"{label}, {allows} none"
    allowed = finding.because if finding.allowed == "nothing" and finding.because else f"{allows} {finding.allowed}"
    return f"{label} {finding.wanted}, {allowed}"
