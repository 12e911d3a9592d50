"""Certificates against one phase as it is welded to a procedure: right kind, right family of codes, valid that day."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from codes.check import best, check, finding, nearness
from codes.clauses import Clause, Mark
from codes.limits import LimitSet
from codes.validity import State
from codes.values import Value
from codes.verdict import Finding, Outcome, Verdict
from joints.answers import CertificateAnswer, day
from joints.demands import MECHANISED
from joints.requirements import joined, system_of
from qualifications.offers import CertificateOffer

WELDER, OPERATOR = "welder", "operator"
KIND = Clause("ISO 9606-1:2012 and ISO 14732:2013", "scope", Mark.CONFIRMED, "published scopes of both")
ON_FILE = Clause("Certificate", "what is on file", Mark.OWN)

Demand = Mapping[str, Value]


def kind_wanted(demand: Demand) -> str:
    """Welder for manual and partly mechanised, operator for fully mechanised and automatic; "" if not stated."""
    said = demand.get("mechanisation")
    if said is None:
        return ""
    return OPERATOR if said in MECHANISED else WELDER


def suitable(offers: Iterable[CertificateOffer], demand: Demand, procedure_code: str) -> list[CertificateOffer]:
    """The certificates of the right kind and of the job's own family of codes."""
    kind, system = kind_wanted(demand), system_of(procedure_code)
    return [
        offer
        for offer in offers
        if (not kind or offer.kind == kind) and (not system or system_of(offer.code) == system)
    ]


def as_welded(demands: Sequence[Demand]) -> list[Demand]:
    """The demands as the standard for welders sees them, root first: later processes lie on weld metal already there.

    ISO 9606-1:2012, Table 1 and 5.9, from memory: such a process is welded on material backing.
    """
    first, *later = demands
    return [first, *(_on_weld_metal(demand) for demand in later)]


def _on_weld_metal(demand: Demand) -> Demand:
    kept = {name: value for name, value in demand.items() if name != "root_filler_type"}
    return kept | {"weld_detail": "ss_mb"} if "weld_detail" in kept else kept


def fits(demand: Demand, limits: LimitSet) -> bool:
    """True where the limit set covers the demand; stops at the first limit that does not."""
    counted = False
    for limit in limits.limits:
        found = finding(demand, limit)
        if found is not None:
            if found.outcome is not Outcome.COVERED:
                return False
            counted = True
    return counted


def covering(
    offers: Sequence[CertificateOffer], demands: Sequence[Demand], procedure: str, on: date, code: str
) -> list[CertificateAnswer]:
    """The certificates of everybody who covers every process of the phase with certificates valid on the day."""
    per_process = [_valid_and_fitting(offers, demand, procedure, on, code) for demand in as_welded(demands)]
    able = set.intersection(*({a.person_id for a in answers} for answers in per_process))
    return [answer for answers in per_process for answer in answers if answer.person_id in able]


def _valid_and_fitting(
    offers: Sequence[CertificateOffer], demand: Demand, procedure: str, on: date, code: str
) -> list[CertificateAnswer]:
    if not kind_wanted(demand):
        return []
    found: list[CertificateAnswer] = []
    for offer in suitable(offers, demand, code):
        limits = next((limits for limits in offer.sets if fits(demand, limits)), None)
        if limits is not None and (state := offer.validity.state(on)).valid:
            verdict = joined(offer.label, demand, [check(demand, limits), validity_verdict(demand, state)])
            found.append(_answer(offer, procedure, verdict))
    return found


def nearest(
    offers: Sequence[CertificateOffer], demands: Sequence[Demand], procedure: str, on: date, code: str
) -> CertificateAnswer | None:
    """The certificate that comes nearest on the day; being not valid counts like one variable outside.

    One that earns no range (an edition that is not held) or is for another process comes nearest only where there
    is no other.
    """
    asked = [(offer, demand) for demand in as_welded(demands) for offer in suitable(offers, demand, code)]
    judged = [(offer, demand) for offer, demand in asked if offer.sets] or asked
    found = [_answer(offer, procedure, _verdict(offer, demand, on)) for offer, demand in judged]
    return min(found, key=lambda answer: (_other_process(answer), nearness(answer.verdict)), default=None)


def _other_process(answer: CertificateAnswer) -> bool:
    return any(f.variable == "process" and f.outcome is Outcome.OUTSIDE for f in answer.verdict.findings)


def _verdict(offer: CertificateOffer, demand: Demand, on: date) -> Verdict:
    ranges = best(demand, offer.sets) if offer.sets else _unjudged(offer, demand)
    parts = [ranges, validity_verdict(demand, offer.validity.state(on))]
    return joined(offer.label, demand, parts if kind_wanted(demand) else [*parts, _kind_open(demand)])


def _kind_open(demand: Demand) -> Verdict:
    """Without the mechanisation nobody knows whether a welder or an operator is asked for."""
    found = Finding(
        "mechanisation",
        "Mechanisation",
        Outcome.NOT_STATED,
        "",
        "welder for manual and partly mechanised, operator for fully mechanised and automatic welding",
        KIND,
        reason="mechanisation",
        missing="mechanisation not stated, so neither a welder nor an operator is known to be the right one",
    )
    return Verdict(demand, Outcome.NOT_STATED, (found,))


def validity_verdict(demand: Demand, state: State) -> Verdict:
    """The state of a certificate on a day, as a verdict with one finding."""
    until = f"valid until {day(state.until)}" if state.until else "valid"
    outcome = Outcome.COVERED if state.valid else Outcome.NOT_STATED if state.missing else Outcome.OUTSIDE
    found = Finding(
        variable="on",
        label="Validity",
        outcome=outcome,
        wanted=day(state.on),
        allowed=until if state.valid else "not valid",
        clause=state.clause,
        because=state.because,
        reason=state.reason or "validity",
        missing=state.missing,
    )
    return Verdict(demand, outcome, (found,))


def _unjudged(offer: CertificateOffer, demand: Demand) -> Verdict:
    why = getattr(offer, "problem", "") or "the certificate states too little to earn a range"
    found = Finding(
        "pieces", "Test pieces", Outcome.NOT_STATED, "", "unknown", ON_FILE, why, reason="missing_data", missing=why
    )
    return Verdict(demand, Outcome.NOT_STATED, (found,), offer.label)


def _answer(offer: CertificateOffer, procedure: str, verdict: Verdict) -> CertificateAnswer:
    return CertificateAnswer(offer.certificate_id, offer.person_id, offer.person_name, offer.label, procedure, verdict)
