"""The same answers for many joints: equal demands are asked once, and most of them by bit masks.

A demand that some procedure and person cover is found by masks alone. Only what is left is asked of the explaining
answer, with a judge that looks up what it has judged before. A property test holds the two together.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from threading import Lock

from codes.readings import DEFAULTS, Settings
from codes.verdict import Outcome
from joints.answers import worst
from joints.bulk_columns import bits
from joints.bulk_judge import FastJudge
from joints.coverage import phase_answer, place_of
from joints.demands import JointDemand, PhaseDemand, Requirements
from joints.evidence import Asked
from joints.merge import merged, owned_by, welded
from joints.procedures import procedure_answer
from joints.sentences import covered_sentence, joint_sentence
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer


@dataclass(frozen=True)
class PhaseResult:
    """One phase, without its findings."""

    outcome: Outcome
    labels: tuple[str, ...]
    person_ids: frozenset[int]
    reasons: tuple[str, ...]
    say: Callable[[], str] = field(repr=False, compare=False)

    @cached_property
    def sentence(self) -> str:
        """The answer in one sentence."""
        return self.say()


@dataclass(frozen=True, slots=True)
class JointResult:
    """One joint, without its findings."""

    on: date
    tack: PhaseResult
    final: PhaseResult

    @property
    def sentence(self) -> str:
        """The answer in words."""
        return joint_sentence(self.tack, self.final, self.on)

    @property
    def outcome(self) -> Outcome:
        """The worse of the two phases."""
        return worst((self.tack.outcome, self.final.outcome))

    @property
    def reasons(self) -> tuple[str, ...]:
        """The reason keys of both phases, each once."""
        return tuple(dict.fromkeys((*self.tack.reasons, *self.final.reasons)))


class Engine:
    """The offers of one day, ready for many questions."""

    def __init__(
        self,
        procedures: Sequence[ProcedureOffer],
        certificates: Sequence[CertificateOffer],
        on: date,
        settings: Settings = DEFAULTS,
    ) -> None:
        self.procedures, self.certificates, self.on = procedures, certificates, on
        self._judge = FastJudge(procedures, certificates, on, settings)
        self._known: dict[Hashable, PhaseResult] = {}
        self.lock = Lock()
        """Held by whoever asks: the judge remembers what it was asked last."""

    @property
    def asked(self) -> int:
        """How many different phases were answered so far."""
        return len(self._known)

    def result(self, joint: JointDemand) -> JointResult:
        """The answer to one joint."""
        tack, final = (self._phase(phase, joint) for phase in joint.phases)
        return JointResult(self.on, tack, final)

    def _phase(self, phase: PhaseDemand, joint: JointDemand) -> PhaseResult:
        key = _key(phase, joint)
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._masked(phase, joint) or self._explained(phase, joint)
        return known

    def _masked(self, phase: PhaseDemand, joint: JointDemand) -> PhaseResult | None:
        """The answer where the phase is covered, else None."""
        place = place_of(phase, joint, self._judge)
        if place is not None and not place.misses.covered:
            return None
        good = self._covering(phase, joint.requirements)
        people: set[int] = set()
        owned = owned_by(phase.demands)
        for index in good:
            boxes = [welded(self.procedures[index], demand, owned) for demand in phase.demands]
            people |= self._judge.people.able(boxes, joint.requirements.procedure_code)
        if not people:
            return None
        labels, able = tuple(self.procedures[i].label for i in good), frozenset(people)
        return PhaseResult(
            Outcome.COVERED, labels, able, (), lambda: covered_sentence(phase.phase, labels, able, self.on)
        )

    def _covering(self, phase: PhaseDemand, asked: Requirements) -> list[int]:
        """The procedures that cover the phase."""
        owned = owned_by(phase.demands)
        inside = self._judge.columns.serving(phase.phase)
        for demand in phase.demands:
            inside &= self._judge.columns.holding(demand, owned)
        return [i for i in bits(inside) if self._backed(self.procedures[i], phase, asked, owned)]

    def _backed(self, offer: ProcedureOffer, phase: PhaseDemand, asked: Requirements, owned: frozenset[str]) -> bool:
        """True where every process of the phase lies inside the records that count."""
        questions = [Asked(d, merged(offer, d, owned), asked, phase.phase) for d in phase.demands]
        if all(self._judge.alone(offer, question) for question in questions):
            return True
        # Several records together may do what none does alone.
        return self._judge.together(offer) and procedure_answer(offer, phase, asked, self._judge).misses.covered

    def _explained(self, phase: PhaseDemand, joint: JointDemand) -> PhaseResult:
        found = phase_answer(phase, joint, self.procedures, self.certificates, self._judge)
        return PhaseResult(found.outcome, found.labels, found.person_ids, found.reasons, lambda: found.sentence)


def _key(phase: PhaseDemand, joint: JointDemand) -> Hashable:
    """What makes two phases ask the same."""
    demands = tuple(tuple(sorted(demand.items(), key=lambda item: item[0])) for demand in phase.demands)
    return phase.phase, demands, phase.place, joint.requirements.key, joint.tack_length
