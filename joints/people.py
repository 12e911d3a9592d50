"""Certificates against one phase as it is welded to a procedure: right kind, right family of codes, valid that day."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from codes.check import check, covers
from codes.clauses import Clause, Mark
from codes.limits import LimitSet
from codes.validity import State
from codes.values import Value
from codes.verdict import Finding, Outcome, Verdict
from joints.answers import CertificateAnswer
from joints.demands import MECHANISED, TACK
from joints.misses import COVERED, Misses, joined_misses, miss, misses
from joints.requirements import joined, system_of
from qualifications.offers import CertificateOffer

WELDER, OPERATOR, TACK_WELDER = "welder", "operator", "tack_welder"
KIND = Clause("ISO 9606-1:2012 and ISO 14732:2013", "scope", Mark.CONFIRMED, "published scopes of both")
ON_FILE = Clause("Certificate", "what is on file", Mark.OWN)
US_KIND = Clause("AWS D1.1 and ASME IX", "welder or operator", Mark.OWN)
KINDS = "welder for manual and partly mechanised, operator for fully mechanised and automatic welding"
KIND_OPEN = "mechanisation not stated, so neither a welder nor an operator is known to be the right one"

Demand = Mapping[str, Value]


def kinds_wanted(demand: Demand) -> frozenset[str]:
    """Welder for manual and partly mechanised, operator for fully mechanised and automatic; none if not stated.

    Under US codes a tack welder may tack by hand, and a welder who trained on the machine may run it: their own
    limits decide.
    """
    said = demand.get("mechanisation")
    if said is None:
        return frozenset()
    if "phase" not in demand:
        return frozenset({OPERATOR if said in MECHANISED else WELDER})
    other = {OPERATOR} if said in MECHANISED else {TACK_WELDER} if demand["phase"] == TACK else set()
    return frozenset({WELDER, *other})


def suitable(offers: Iterable[CertificateOffer], demand: Demand, procedure_code: str) -> list[CertificateOffer]:
    """The certificates of the right kind and of the job's own family of codes."""
    kinds, system = kinds_wanted(demand), system_of(procedure_code)
    return [
        offer
        for offer in offers
        if (not kinds or offer.kind in kinds) and (not system or system_of(offer.code) == system)
    ]


def judged_first(offers: Sequence[CertificateOffer]) -> Sequence[CertificateOffer]:
    """The certificates that earn a range; those that cannot be judged only where there are no others."""
    return [offer for offer in offers if offer.sets] or offers


def as_welded(demands: Sequence[Demand]) -> list[Demand]:
    """The demands as the standard for welders sees them, root first: later processes lie on weld metal already there.

    ISO 9606-1:2012, Table 1 and 5.9, from memory: such a process is welded on material backing. US codes do not say so.
    """
    first, *later = demands
    if "phase" in first:
        return list(demands)
    return [first, *(_on_weld_metal(demand) for demand in later)]


def _on_weld_metal(demand: Demand) -> Demand:
    kept = {name: value for name, value in demand.items() if name != "root_filler_type"}
    return kept | {"weld_detail": "ss_mb"} if "weld_detail" in kept else kept


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
    if not kinds_wanted(demand):
        return []
    found: list[CertificateAnswer] = []
    for offer in suitable(offers, demand, code):
        limits = next((limits for limits in offer.sets if covers(demand, limits)), None)
        if limits is not None and (state := offer.validity.state(on)).valid:
            found.append(_answer(offer, procedure, demand, limits, state, COVERED))
    return found


def nearest_certificate(
    offers: Sequence[CertificateOffer], demands: Sequence[Demand], procedure: str, on: date, code: str
) -> CertificateAnswer | None:
    """The certificate that comes nearest on the day; being not valid counts like one variable outside.

    One that earns no range (an edition that is not held) or is for another process comes nearest only where there
    is no other.
    """
    found = [
        certificate_answer(offer, demand, procedure, on)
        for demand in as_welded(demands)
        for offer in judged_first(suitable(offers, demand, code))
    ]
    return min(found, key=lambda answer: ("process" in answer.misses.outside, answer.misses.key), default=None)


def certificate_answer(offer: CertificateOffer, demand: Demand, procedure: str, on: date) -> CertificateAnswer:
    """One certificate: the limit set that comes nearest, and validity on the day."""
    state = offer.validity.state(on)
    ranked = [(misses(demand, limits.limits), limits) for limits in offer.sets]
    ranges, limits = min(ranked, key=lambda pair: pair[0].key, default=(_SILENT, None))
    parts = [ranges, validity_misses(state)]
    if not kinds_wanted(demand):
        parts.append(_KIND_OPEN)
    return _answer(offer, procedure, demand, limits, state, joined_misses(parts))


_SILENT = miss(Outcome.NOT_STATED, "pieces", "missing_data")
_KIND_OPEN = miss(Outcome.NOT_STATED, "mechanisation", "mechanisation")


def validity_misses(state: State) -> Misses:
    """Nothing where the certificate is valid on the day."""
    if state.valid:
        return COVERED
    return miss(Outcome.NOT_STATED if state.missing else Outcome.OUTSIDE, "on", state.reason or "validity")


def _answer(
    offer: CertificateOffer, procedure: str, demand: Demand, limits: LimitSet | None, state: State, found: Misses
) -> CertificateAnswer:
    def explain() -> Verdict:
        parts = [check(demand, limits) if limits else _unjudged(offer, demand), validity_verdict(demand, state)]
        return joined(offer.label, demand, parts if kinds_wanted(demand) else [*parts, _kind_open(demand)])

    return CertificateAnswer(
        offer.certificate_id, offer.person_id, offer.person_name, offer.label, procedure, found, explain
    )


def validity_verdict(demand: Demand, state: State) -> Verdict:
    """The state of a certificate on a day, as a verdict with one finding."""
    until = f"valid until {state.until}" if state.until else "valid"
    outcome = Outcome.COVERED if state.valid else Outcome.NOT_STATED if state.missing else Outcome.OUTSIDE
    found = Finding(
        variable="on",
        label="Validity",
        outcome=outcome,
        wanted=state.on.isoformat(),
        allowed=until if state.valid else "not valid",
        clause=state.clause,
        because=state.because,
        reason=state.reason or "validity",
        missing=state.missing,
    )
    return Verdict(demand, outcome, (found,))


def _kind_open(demand: Demand) -> Verdict:
    """Without the mechanisation nobody knows whether a welder or an operator is asked for."""
    clause = US_KIND if "phase" in demand else KIND
    found = Finding(
        "mechanisation",
        "Mechanisation",
        Outcome.NOT_STATED,
        "",
        KINDS,
        clause,
        reason="mechanisation",
        missing=KIND_OPEN,
    )
    return Verdict(demand, Outcome.NOT_STATED, (found,))


def _unjudged(offer: CertificateOffer, demand: Demand) -> Verdict:
    why = offer.problem or "the certificate states too little to earn a range"
    found = Finding(
        "pieces", "Test pieces", Outcome.NOT_STATED, "", "unknown", ON_FILE, why, reason="missing_data", missing=why
    )
    return Verdict(demand, Outcome.NOT_STATED, (found,), offer.label)
