"""Joint to answer: which approved procedure covers it, who may weld it that day, or exactly why not.

Both phases must be covered, each by a procedure and by a person. The worst answer is the joint's.
"""

from collections.abc import Sequence
from datetime import date

from codes.check import check, nearness
from codes.clauses import Clause, Mark
from codes.limits import Limit, LimitSet, OneOf
from codes.readings import DEFAULTS, Settings
from codes.verdict import Outcome, Verdict
from joints.answers import CertificateAnswer, JointAnswer, PhaseAnswer, ProcedureAnswer, worst
from joints.demands import JointDemand, PhaseDemand, Requirements
from joints.gates import joint_gates
from joints.merge import merged, owned_by
from joints.people import covering, nearest
from joints.procedures import procedure_answer
from joints.requirements import joined
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
    tack, final = (phase_answer(phase, joint, procedures, certificates, on, settings) for phase in joint.phases)
    return JointAnswer(on, worst((tack.outcome, final.outcome)), joint_sentence(tack, final, on), tack, final)


def phase_answer(
    phase: PhaseDemand,
    joint: JointDemand,
    procedures: Sequence[ProcedureOffer],
    certificates: Sequence[CertificateOffer],
    on: date,
    settings: Settings,
) -> PhaseAnswer:
    """The answer to one phase."""
    asked = joint.requirements
    serving = [offer for offer in procedures if phase.phase in offer.serves]
    judged = [(offer, procedure_answer(offer, phase, asked, on, settings)) for offer in serving]
    judged.sort(key=lambda pair: nearness(pair[1].verdict))
    people, miss = _people(phase, asked, judged, certificates, on)
    place = place_verdict(phase, joint, on, settings)
    answers = tuple(procedure for _, procedure in judged)
    outcome = worst(_outcomes(answers, people, miss, place))
    sentence = phase_sentence(phase.phase, answers, people, miss, place, on)
    reasons = _reasons(answers, people, miss, place)
    return PhaseAnswer(phase.phase, outcome, sentence, answers, people, miss, place, phase.notes, reasons)


def _people(
    phase: PhaseDemand,
    asked: Requirements,
    judged: Sequence[tuple[ProcedureOffer, ProcedureAnswer]],
    certificates: Sequence[CertificateOffer],
    on: date,
) -> tuple[tuple[CertificateAnswer, ...], CertificateAnswer | None]:
    """Who covers the phase as welded to a covering procedure (else to the nearest); the nearest where nobody does."""
    good = [offer for offer, answer in judged if answer.verdict.outcome is Outcome.COVERED]
    asked_of = good or [offer for offer, _ in judged[:1]]
    found: dict[int, CertificateAnswer] = {}
    owned = owned_by(phase.demands)
    boxes = [(o.label, [merged(o, d, owned) for d in phase.demands]) for o in asked_of]
    for label, demands in boxes or [("", list(phase.demands))]:
        for one in covering(certificates, demands, label, on, asked.procedure_code):
            found.setdefault(one.certificate_id, one)
    people = tuple(sorted(found.values(), key=lambda a: (a.person_name, a.certificate_id)))
    if people:
        return people, None
    label, demands = boxes[0] if boxes else ("", list(phase.demands))
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
    gates = joint_gates(phase, joint, on, settings)
    found += [gates] if gates is not None else []
    return joined(found[0].label, phase.demands[0], found) if found else None


def _outcomes(
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Verdict | None,
) -> list[Outcome]:
    found = [procedures[0].verdict.outcome if procedures else Outcome.OUTSIDE]
    if not people:
        found.append(_miss_outcome(miss))
    return found + ([place.outcome] if place is not None else [])


def _miss_outcome(miss: CertificateAnswer | None) -> Outcome:
    """What nobody means: outside, unless only something unstated keeps the nearest certificate from it."""
    not_stated = miss is not None and miss.verdict.outcome is Outcome.NOT_STATED
    return Outcome.NOT_STATED if not_stated else Outcome.OUTSIDE


def _reasons(
    procedures: Sequence[ProcedureAnswer],
    people: Sequence[CertificateAnswer],
    miss: CertificateAnswer | None,
    place: Verdict | None,
) -> tuple[str, ...]:
    """Why not, as keys: "procedure:parent_t", "person:position", "place:workstation"."""
    found = [f"procedure:{key}" for key in procedures[0].verdict.reasons] if procedures else [NO_PROCEDURE]
    if not people:
        found += [f"person:{key}" for key in miss.verdict.reasons] if miss and miss.verdict.reasons else [NOBODY]
    return tuple(found + ([f"place:{key}" for key in place.reasons] if place is not None else []))
