"""Joint to answer: which approved procedure covers it, who may weld it that day, or exactly why not.

Both phases must be covered, each by a procedure and by a person. The worst answer is the joint's.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from codes.check import check
from codes.clauses import Clause, Mark
from codes.limits import Limit, LimitSet, OneOf
from codes.readings import DEFAULTS, Settings
from codes.verdict import Outcome, Verdict
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer, ProcedureAnswer, worst
from joints.demands import JointDemand, PhaseDemand, Requirements
from joints.gates import joint_gates
from joints.merge import merged, owned_by
from joints.misses import Key
from joints.people import Demand, covering, nearest_certificate
from joints.procedures import covering_and_nearest, procedure_answer, window_misses
from joints.requirements import joined
from joints.sentences import joint_sentence, phase_sentence
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer

WORKSTATION = Clause("Workstation", "processes it runs", Mark.OWN)
NO_PROCEDURE, NOBODY = "procedure:none approved", "person:nobody"


Nearest = Callable[[Sequence[CertificateOffer], Sequence[Demand], str, date, str], CertificateAnswer | None]


@dataclass(frozen=True, slots=True)
class Known:
    """`windows`: the key of what each serving procedure's own ranges miss. `nearest`: finds the nearest certificate."""

    windows: Sequence[Key]
    nearest: Nearest


def answer(
    joint: JointDemand,
    procedures: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    on: date,
    settings: Settings = DEFAULTS,
) -> JointAnswer:
    """The explained answer. `procedures` are those approved on the day; certificates state their own validity."""
    tack, final = (phase_answer(phase, joint, procedures, certificates, on, settings) for phase in joint.phases)
    return JointAnswer(on, worst((tack.outcome, final.outcome)), joint_sentence(tack, final, on), tack, final)


def phase_answer(
    phase: PhaseDemand,
    joint: JointDemand,
    procedures: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    on: date,
    settings: Settings,
    known: Known | None = None,
) -> PhaseAnswer:
    """The answer to one phase. `known`: how far the candidates are off, where that was worked out before."""
    asked = joint.requirements
    serving = [offer for offer in procedures if phase.phase in offer.serves]
    windows = known.windows if known is not None else [window_misses(offer, phase).key for offer in serving]
    chosen, found = covering_and_nearest(serving, phase, asked, on, settings, windows)
    answers = tuple(found[index] for index in chosen)
    nearest = known.nearest if known is not None else nearest_certificate
    people, miss = _people(phase, asked, [serving[index] for index in chosen], certificates, on, nearest)
    place = place_verdict(phase, joint, on, settings)
    outcome = worst(_outcomes(answers, people, miss, place))
    return PhaseAnswer(
        phase=phase.phase,
        outcome=outcome,
        procedures=answers,
        people=people,
        nearest_certificate=miss,
        place=place,
        notes=phase.notes,
        reasons=_reasons(answers, people, miss, place),
        serving=len(serving),
        say=lambda: phase_sentence(phase.phase, answers, people, miss, place, on),
    )


def ranked_procedures(
    phase: PhaseDemand, joint: JointDemand, procedures: Sequence[ProcedureOffer], on: date, settings: Settings
) -> tuple[ProcedureAnswer, ...]:
    """Every procedure that serves the phase, nearest first."""
    serving = [offer for offer in procedures if phase.phase in offer.serves]
    answers = [procedure_answer(offer, phase, joint.requirements, on, settings) for offer in serving]
    return tuple(sorted(answers, key=lambda answer: answer.misses.key))


def _people(
    phase: PhaseDemand,
    asked: Requirements,
    chosen: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    on: date,
    nearest: Nearest,
) -> tuple[tuple[CertificateAnswer, ...], CertificateAnswer | None]:
    """Who covers the phase as welded to the chosen procedures; the nearest certificate where nobody does."""
    found: dict[int, CertificateAnswer] = {}
    owned = owned_by(phase.demands)
    boxes = [(o.label, [merged(o, d, owned) for d in phase.demands]) for o in chosen] or [("", list(phase.demands))]
    for label, demands in boxes:
        for one in covering(certificates, demands, label, on, asked.procedure_code):
            found.setdefault(one.certificate_id, one)
    if found:
        return tuple(sorted(found.values(), key=lambda a: (a.person_name, a.certificate_id))), None
    label, demands = boxes[0]
    return (), nearest(certificates, demands, label, on, asked.procedure_code)


def place_verdict(phase: PhaseDemand, joint: JointDemand, on: date, settings: Settings) -> Verdict | None:
    """What the workstation and the job's own gates say to the phase; None where they say nothing."""
    found: list[Verdict] = []
    if phase.place is not None and phase.place.processes:
        name = phase.place.name
        limit = Limit(
            "process", OneOf(phase.place.processes), WORKSTATION, f"{name} runs these processes", reason="workstation"
        )
        found = [check(demand, LimitSet(name, (limit,))) for demand in phase.demands]
    gate = joint_gates(phase, joint, on, settings)
    found += [gate.verdict(phase.demands[0])] if gate is not None else []
    return joined(found[0].label, phase.demands[0], found) if found else None


def _outcomes(
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Verdict | None,
) -> list[Outcome]:
    found = [procedures[0].outcome if procedures else Outcome.OUTSIDE]
    if not people:
        found.append(_miss_outcome(miss))
    return found + ([place.outcome] if place is not None else [])


def _miss_outcome(miss: CertificateAnswer | None) -> Outcome:
    """What nobody means: outside, unless only something unstated keeps the nearest certificate from it."""
    not_stated = miss is not None and miss.outcome is Outcome.NOT_STATED
    return Outcome.NOT_STATED if not_stated else Outcome.OUTSIDE


def _reasons(
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Verdict | None,
) -> tuple[str, ...]:
    """Why not, as keys: "procedure:parent_t", "person:position", "place:workstation"."""
    found = [f"procedure:{key}" for key in procedures[0].misses.reasons] if procedures else [NO_PROCEDURE]
    if not people:
        found += [f"person:{key}" for key in miss.misses.reasons] if miss and miss.misses.reasons else [NOBODY]
    return tuple(found + ([f"place:{key}" for key in place.reasons] if place is not None else []))
