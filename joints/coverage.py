"""Joint to answer: which approved procedure covers it, who may weld it that day, or exactly why not.

Both phases must be covered, each by a procedure and by a person. The worst answer is the joint's.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from codes.clauses import Clause, Mark
from codes.limits import Limit, OneOf
from codes.readings import DEFAULTS, Settings
from codes.verdict import Outcome, Verdict
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer, ProcedureAnswer, worst
from joints.demands import JointDemand, PhaseDemand, Requirements
from joints.gates import Gate, joint_gates
from joints.judge import Judge
from joints.merge import owned_by, welded
from joints.misses import Misses
from joints.people import covering
from joints.procedures import covering_and_nearest, procedure_answer
from joints.requirements import could_count, joined
from joints.sentences import joint_sentence, phase_sentence
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer

WORKSTATION = Clause("Workstation", "processes it runs", Mark.OWN)
NO_PROCEDURE, NOBODY = "procedure:none approved", "person:nobody"


def answer(
    joint: JointDemand,
    procedures: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    on: date,
    settings: Settings = DEFAULTS,
) -> JointAnswer:
    """The explained answer. `procedures` are those approved on the day; certificates state their own validity."""
    judge = Judge(on, settings)
    tack, final = (phase_answer(phase, joint, procedures, certificates, judge) for phase in joint.phases)
    return JointAnswer(on, worst((tack.outcome, final.outcome)), joint_sentence(tack, final, on), tack, final)


def phase_answer(
    phase: PhaseDemand,
    joint: JointDemand,
    procedures: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    judge: Judge,
) -> PhaseAnswer:
    """The answer to one phase."""
    asked, on = joint.requirements, judge.on
    serving = _serving(procedures, phase, asked)
    chosen, found = covering_and_nearest(serving, phase, asked, judge)
    answers = tuple(found[index] for index in chosen)
    people, miss = _people(phase, asked, [serving[index] for index in chosen], certificates, judge)
    place = place_of(phase, joint, judge)
    outcome = worst(_outcomes(answers, people, miss, place))
    return PhaseAnswer(
        phase=phase.phase,
        outcome=outcome,
        procedures=answers,
        people=people,
        nearest_certificate=miss,
        explain_place=place.explain if place is not None else None,
        notes=phase.notes,
        reasons=_reasons(answers, people, miss, place),
        serving=len(serving),
        say=lambda: phase_sentence(
            phase.phase, answers, people, miss, place and place.explain(), on, asked.procedure_code, phase.notes
        ),
    )


def ranked_procedures(
    phase: PhaseDemand, joint: JointDemand, procedures: Sequence[ProcedureOffer], on: date, settings: Settings
) -> tuple[ProcedureAnswer, ...]:
    """Every procedure that serves the phase, nearest first."""
    judge = Judge(on, settings)
    serving = _serving(procedures, phase, joint.requirements)
    answers = [procedure_answer(offer, phase, joint.requirements, judge) for offer in serving]
    return tuple(sorted(answers, key=lambda answer: answer.misses.key))


def _serving(procedures: Sequence[ProcedureOffer], phase: PhaseDemand, asked: Requirements) -> list[ProcedureOffer]:
    """The procedures for this phase that could count for the job at all; no other is named as the nearest."""
    return [one for one in procedures if phase.phase in one.serves and could_count(one, asked.procedure_code)]


def _people(
    phase: PhaseDemand,
    asked: Requirements,
    chosen: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    judge: Judge,
) -> tuple[tuple[CertificateAnswer, ...], CertificateAnswer | None]:
    """Who covers the phase as welded to the chosen procedures; the nearest certificate where nobody does."""
    found: dict[int, CertificateAnswer] = {}
    owned, code = owned_by(phase.demands), asked.procedure_code
    boxes = [(o.label, [welded(o, d, owned) for d in phase.demands]) for o in chosen] or [("", list(phase.demands))]
    for label, demands in boxes:
        for one in covering(judge.hopeful(certificates, demands, code), demands, label, judge.on, code):
            found.setdefault(one.certificate_id, one)
    if found:
        return tuple(sorted(found.values(), key=lambda a: (a.person_name, a.certificate_id))), None
    label, demands = boxes[0]
    return (), judge.nearest(certificates, demands, label, code)


@dataclass(frozen=True, slots=True)
class Place:
    """What the workstation and the job's own gates say to a phase: the misses at once, the verdict when asked."""

    misses: Misses
    explain: Callable[[], Verdict]


def place_of(phase: PhaseDemand, joint: JointDemand, judge: Judge) -> Place | None:
    """What the workstation and the job's own gates say to the phase; None where they say nothing."""
    gates = place_gates(phase, joint, judge.on, judge.settings)
    if not gates:
        return None
    pairs = [(gate, demand) for gate in gates for demand in phase.demands]
    return Place(
        judge.placed(phase, gates),
        lambda: joined(gates[0].label, phase.demands[0], [gate.verdict(demand) for gate, demand in pairs]),
    )


def place_gates(phase: PhaseDemand, joint: JointDemand, on: date, settings: Settings) -> list[Gate]:
    """The gates of the workstation and of the job itself."""
    gates: list[Gate] = []
    if phase.place is not None and phase.place.processes:
        gates.append(_workstation(phase.place.name, phase.place.processes))
    gate = joint_gates(phase, joint, on, settings)
    return [*gates, gate] if gate is not None else gates


@lru_cache(maxsize=256)
def _workstation(name: str, processes: tuple[str, ...]) -> Gate:
    because = f"{name} runs these processes"
    return Gate(name, "", (Limit("process", OneOf(processes), WORKSTATION, because, reason="workstation"),))


def _outcomes(
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Place | None,
) -> list[Outcome]:
    found = [procedures[0].outcome if procedures else Outcome.OUTSIDE]
    if not people:
        found.append(_miss_outcome(miss))
    return found + ([place.misses.outcome] if place is not None else [])


def _miss_outcome(miss: CertificateAnswer | None) -> Outcome:
    """What nobody means: outside, unless only something unstated keeps the nearest certificate from it."""
    not_stated = miss is not None and miss.outcome is Outcome.NOT_STATED
    return Outcome.NOT_STATED if not_stated else Outcome.OUTSIDE


def _reasons(
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Place | None,
) -> tuple[str, ...]:
    """Why not, as keys: "procedure:parent_t", "person:position", "place:workstation"."""
    found = [f"procedure:{key}" for key in procedures[0].misses.reasons] if procedures else [NO_PROCEDURE]
    if not people:
        found += [f"person:{key}" for key in miss.misses.reasons] if miss and miss.misses.reasons else [NOBODY]
    return tuple(found + ([f"place:{key}" for key in place.misses.reasons] if place is not None else []))
