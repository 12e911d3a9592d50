"""The records of a procedure against one demand: one alone, several together, or the one that comes nearest."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from codes.check import check
from codes.clauses import Clause, Mark
from codes.limits import LimitSet
from codes.values import Value
from codes.verdict import Finding, Outcome, Verdict
from joints.demands import Requirements
from joints.judge import Judge
from joints.misses import COVERED, Misses, joined_misses, miss
from joints.requirements import joined
from wps.offers import ProcedureOffer, RecordOffer

ON_FILE = Clause("Procedure", "supporting test records", Mark.OWN)

Demand = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the records say: the misses at once, the verdict when somebody asks."""

    misses: Misses
    explain: Callable[[], Verdict]


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of the records: the demand, the same as welded to the procedure, for which job and phase."""

    demand: Demand
    box: Demand
    requirements: Requirements
    phase: str


@dataclass(frozen=True, slots=True)
class _Candidate:
    """One limit set of one record; `limits` None where the record earns no range."""

    record: RecordOffer
    limits: LimitSet | None
    misses: Misses
    gated: Misses


def evidence(offer: ProcedureOffer, asked: Asked, judge: Judge) -> Evidence:
    """The records against a demand."""
    candidates = _candidates(offer, asked, judge)
    for one in candidates:
        if one.misses.covered:
            return _single(one, asked, judge)
    usable = [one for one in candidates if one.limits is not None and one.gated.covered]
    sets = [one.limits for one in usable if one.limits is not None]
    if len(sets) > 1 and judge.union(offer, asked.demand, asked.box, sets):
        return Evidence(COVERED, lambda: _together(usable, asked, judge))
    judged = [one for one in candidates if one.limits is not None] or candidates
    if not judged:
        return Evidence(miss(Outcome.OUTSIDE, "records", "records"), lambda: _nothing(asked.box, offer))
    return _single(min(judged, key=lambda one: one.misses.key), asked, judge)


def _candidates(offer: ProcedureOffer, asked: Asked, judge: Judge) -> list[_Candidate]:
    found: list[_Candidate] = []
    missed = iter(judge.ranges(offer, asked.box))
    for record in offer.records:
        gated = judge.gated(record, asked.requirements, asked.demand, asked.phase)
        for limits in record.sets:
            found.append(_Candidate(record, limits, joined_misses((next(missed), gated)), gated))
        if not record.sets:
            found.append(_Candidate(record, None, joined_misses((_SILENT, gated)), gated))
    return found


_SILENT = miss(Outcome.NOT_STATED, "records", "records")


def _single(one: _Candidate, asked: Asked, judge: Judge) -> Evidence:
    """One record with the gate before it."""

    def explain() -> Verdict:
        own = check(asked.box, one.limits) if one.limits else _unjudged(asked.box, one.record)
        return joined(one.record.label, asked.box, [own, *_gate_verdict(one, asked, judge)])

    return Evidence(one.misses, explain)


def _gate_verdict(one: _Candidate, asked: Asked, judge: Judge) -> list[Verdict]:
    gate = judge.gate(one.record, asked.requirements, asked.demand, asked.phase)
    return [gate.verdict(asked.demand)] if gate is not None else []


def _together(candidates: Sequence[_Candidate], asked: Asked, judge: Judge) -> Verdict:
    """Covered by several records where none does it alone."""
    names = " and ".join(dict.fromkeys(part.label for one in candidates for part in one.record.each))
    alone = [one for one in candidates if not one.record.parts]
    finding = Finding(
        "records", "Test records", Outcome.COVERED, "the whole range", f"{names} together", ON_FILE,
        "no single record covers the whole range; cut to pieces, each piece lies inside one of them"
        + (", or inside what two of them earn together" if len(alone) < len(candidates) else ""),
    )  # fmt: skip
    gates = [verdict for one in alone for verdict in _gate_verdict(one, asked, judge)]
    return joined(names, asked.box, [Verdict(asked.box, Outcome.COVERED, (finding,), names), *gates])


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
