"""The same answers for many joints: equal demands are asked once, and most of them by bit masks.

A demand that some procedure and person cover is found by masks alone. Only what is left is asked of the explaining
checker, so that reasons and outcome of an uncovered joint are its own. A property test holds the two together.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from codes.bulk import Compiled
from codes.check import finding
from codes.limits import Limit
from codes.readings import DEFAULTS, Settings
from codes.values import Value
from codes.verdict import Outcome
from joints.answers import worst
from joints.coverage import phase_answer, place_verdict
from joints.demands import JointDemand, PhaseDemand, Requirements
from joints.merge import counts, merged, owned_by
from joints.people import as_welded, kind_wanted
from joints.procedures import procedure_answer
from joints.requirements import record_verdict, system_of
from joints.sentences import covered_sentence, joint_sentence
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer

Demand = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class PhaseResult:
    """One phase, without its findings."""

    outcome: Outcome
    sentence: str
    labels: tuple[str, ...]
    person_ids: frozenset[int]
    reasons: tuple[str, ...] = ()


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
        self.procedures, self.certificates, self.on, self.settings = procedures, certificates, on, settings
        self._windows = _Windows(procedures)
        self._evidence = [_Evidence(offer, on, settings) for offer in procedures]
        self._people = _People(certificates, on)
        self._known: dict[Hashable, PhaseResult] = {}

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
        place = place_verdict(phase, joint, self.on, self.settings)
        if place is not None and place.outcome is not Outcome.COVERED:
            return None
        good = self._covering(phase, joint.requirements)
        people: set[int] = set()
        owned = owned_by(phase.demands)
        for index in good:
            boxes = [merged(self.procedures[index], demand, owned) for demand in phase.demands]
            people |= self._people.able(boxes, joint.requirements.procedure_code)
        if not people:
            return None
        labels = tuple(self.procedures[i].label for i in good)
        sentence = covered_sentence(phase.phase, labels, people, self.on)
        return PhaseResult(Outcome.COVERED, sentence, labels, frozenset(people))

    def _covering(self, phase: PhaseDemand, asked: Requirements) -> list[int]:
        """The procedures that cover the phase."""
        owned = owned_by(phase.demands)
        inside = self._windows.serving(phase.phase)
        for demand in phase.demands:
            inside &= self._windows.holding(demand, owned)
        return [i for i in _bits(inside) if self._evidence[i].covers(phase, asked, owned)]

    def _explained(self, phase: PhaseDemand, joint: JointDemand) -> PhaseResult:
        found = phase_answer(phase, joint, self.procedures, self.certificates, self.on, self.settings)
        return PhaseResult(found.outcome, found.sentence, found.labels, found.person_ids, found.reasons)


def _key(phase: PhaseDemand, joint: JointDemand) -> Hashable:
    """What makes two phases ask the same."""
    demands = tuple(tuple(sorted(demand.items(), key=lambda item: item[0])) for demand in phase.demands)
    return phase.phase, demands, phase.place, joint.requirements.key, joint.tack_length


def _bits(mask: int) -> list[int]:
    """The indexes of the set bits."""
    return [i for i in range(mask.bit_length()) if mask >> i & 1]


class _Windows:
    """The ranges that the procedures state, by variable; bit i stands for procedure i."""

    def __init__(self, procedures: Sequence[ProcedureOffer]) -> None:
        self._all = (1 << len(procedures)) - 1
        self._procedures = procedures
        self._limits: dict[str, list[tuple[int, Limit]]] = {}
        for index, offer in enumerate(procedures):
            for limit in offer.window.limits:
                self._limits.setdefault(limit.variable, []).append((index, limit))
        self._known: dict[tuple[str, Value | None], tuple[int, int]] = {}

    def serving(self, phase: str) -> int:
        """The procedures that serve a phase."""
        return sum(1 << i for i, offer in enumerate(self._procedures) if phase in offer.serves)

    def holding(self, demand: Demand, owned: frozenset[str]) -> int:
        """The procedures whose own ranges hold the demand; one that says nothing of it holds nothing."""
        holding, speaking = self._all, 0
        for variable in self._limits:
            if counts(variable, demand, owned):
                fits, speaks = self._column(variable, demand)
                holding &= fits
                speaking |= speaks
        return holding & speaking

    def _column(self, variable: str, demand: Demand) -> tuple[int, int]:
        key = (variable, demand.get(variable))
        known = self._known.get(key)
        if known is None:
            fits, speaks = self._all, 0
            for index, limit in self._limits[variable]:
                speaks |= 1 << index
                found = finding(demand, limit)
                if found is not None and found.outcome is not Outcome.COVERED:
                    fits &= ~(1 << index)
            known = self._known[key] = fits, speaks
        return known


class _Evidence:
    """The records of one procedure."""

    def __init__(self, offer: ProcedureOffer, on: date, settings: Settings) -> None:
        self._offer, self._on, self._settings = offer, on, settings
        self._owners = [record for record in offer.records for _ in record.sets]
        self._compiled = Compiled([limits for record in offer.records for limits in record.sets])

    def covers(self, phase: PhaseDemand, asked: Requirements, owned: frozenset[str]) -> bool:
        """True where every process of the phase lies inside the records that count."""
        if all(self._alone(demand, phase, asked, owned) for demand in phase.demands):
            return True
        if len(self._owners) < 2:
            return False
        # Several records together may do what none does alone.
        found = procedure_answer(self._offer, phase, asked, self._on, self._settings)
        return found.verdict.outcome is Outcome.COVERED

    def _alone(self, demand: Demand, phase: PhaseDemand, asked: Requirements, owned: frozenset[str]) -> bool:
        for index in self._compiled.covering(merged(self._offer, demand, owned)):
            gate = record_verdict(self._owners[index], asked, demand, phase.phase, self._on, self._settings)
            if gate is None or gate.outcome is Outcome.COVERED:
                return True
        return False


class _People:
    """The certificates that are valid on the day, by the kind and family of codes that is asked for."""

    def __init__(self, certificates: Sequence[CertificateOffer], on: date) -> None:
        valid = [offer for offer in certificates if offer.validity.state(on).valid]
        self._kinds: dict[tuple[str, str], tuple[Compiled, list[int]]] = {}
        systems = {system_of(offer.code) for offer in valid} | {""}
        for kind in {offer.kind for offer in valid}:
            for system in systems:
                chosen = [o for o in valid if o.kind == kind and system in ("", system_of(o.code))]
                sets = [(limits, offer.person_id) for offer in chosen for limits in offer.sets]
                self._kinds[kind, system] = Compiled([s for s, _ in sets]), [person for _, person in sets]

    def able(self, demands: Sequence[Demand], code: str) -> set[int]:
        """The people who cover every demand."""
        return set.intersection(*(self._able(demand, code) for demand in as_welded(demands)))

    def _able(self, demand: Demand, code: str) -> set[int]:
        known = self._kinds.get((kind_wanted(demand), system_of(code)))
        if known is None:
            return set()
        compiled, people = known
        return {people[index] for index in compiled.covering(demand)}
