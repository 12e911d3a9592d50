"""The records of a procedure against one demand: one alone, several together, or the one that comes nearest."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from codes.check import check
from codes.clauses import Clause, Mark
from codes.cover import is_covered
from codes.limits import LimitSet
from codes.readings import Settings
from codes.values import Value
from codes.verdict import Finding, Outcome, Verdict
from joints.demands import Requirements
from joints.gates import Gate
from joints.misses import Misses, joined_misses, miss, misses
from joints.requirements import joined, record_gate
from wps.offers import ProcedureOffer, RecordOffer

ON_FILE = Clause("Procedure", "supporting test records", Mark.OWN)

Demand = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the records say: the misses at once, the verdict when somebody asks."""

    misses: Misses
    explain: Callable[[], Verdict]


@dataclass(frozen=True, slots=True)
class _Candidate:
    """One limit set of one record, with the gate before it; `limits` None where the record earns no range."""

    record: RecordOffer
    limits: LimitSet | None
    gate: Gate | None
    demand: Demand
    box: Demand
    ranges: Misses
    gated: Misses

    @property
    def misses(self) -> Misses:
        return joined_misses((self.ranges, self.gated))

    def verdict(self) -> Verdict:
        own = check(self.box, self.limits) if self.limits else _unjudged(self.box, self.record)
        return joined(self.record.label, self.box, [own, self.gate.verdict(self.demand)]) if self.gate else own


def evidence(
    offer: ProcedureOffer,
    demand: Demand,
    box: Demand,
    asked: Requirements,
    phase: str,
    on: date,
    settings: Settings,
) -> Evidence:
    """The records against a demand; `box` is the demand as welded to the procedure."""
    candidates = _candidates(offer, demand, box, asked, phase, on, settings)
    for one in candidates:
        if one.misses.covered:
            return Evidence(one.misses, one.verdict)
    usable = [one for one in candidates if one.limits is not None and one.gated.covered]
    if len(usable) > 1 and is_covered(box, [one.limits for one in usable if one.limits is not None]):
        return Evidence(Misses(True), lambda: _together(box, usable))
    judged = [one for one in candidates if one.limits is not None] or candidates
    nearest = min(judged, key=lambda one: one.misses.key, default=None)
    if nearest is None:
        return Evidence(miss(Outcome.OUTSIDE, "records", "records"), lambda: _nothing(box, offer))
    return Evidence(nearest.misses, nearest.verdict)


def _candidates(
    offer: ProcedureOffer,
    demand: Demand,
    box: Demand,
    asked: Requirements,
    phase: str,
    on: date,
    settings: Settings,
) -> list[_Candidate]:
    found: list[_Candidate] = []
    for record in offer.records:
        gate = record_gate(record, asked, demand, phase, on, settings)
        gated = gate.misses(demand) if gate is not None else Misses(True)
        for limits in record.sets:
            found.append(_Candidate(record, limits, gate, demand, box, misses(box, limits.limits), gated))
        if not record.sets:
            silent = miss(Outcome.NOT_STATED, "records", "records")
            found.append(_Candidate(record, None, gate, demand, box, silent, gated))
    return found


def _together(box: Demand, candidates: list[_Candidate]) -> Verdict:
    """Covered by several records where none does it alone."""
    names = " and ".join(dict.fromkeys(one.record.label for one in candidates))
    finding = Finding(
        "records", "Test records", Outcome.COVERED, "the whole range", f"{names} together", ON_FILE,
        "no single record covers the whole range; cut to pieces, each piece lies inside one of them",
    )  # fmt: skip
    own = Verdict(box, Outcome.COVERED, (finding,), names)
    return joined(names, box, [own, *(one.gate.verdict(one.demand) for one in candidates if one.gate is not None)])


def _nothing(box: Demand, offer: ProcedureOffer) -> Verdict:
    finding = Finding(
        "records", "Test records", Outcome.OUTSIDE, "at least one", "nothing", ON_FILE,
        offer.problem or f"{offer.label} has no supporting test record", reason="records",
    )  # fmt: skip
    return Verdict(box, Outcome.OUTSIDE, (finding,), offer.label)


def _unjudged(box: Demand, record: RecordOffer) -> Verdict:
    why = record.problem or f"{record.label} states too little to earn a range"
    finding = Finding(
        "records", "Test records", Outcome.NOT_STATED, record.label, "unknown", ON_FILE, why,
        reason="records", missing=why,
    )  # fmt: skip
    return Verdict(box, Outcome.NOT_STATED, (finding,), record.label)
