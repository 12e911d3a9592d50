"""One procedure revision against one phase of a joint: its own ranges, its records together, and the job's gates."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from codes.check import check, nearness
from codes.clauses import Clause, Mark
from codes.cover import uncovered
from codes.readings import Settings
from codes.values import Value
from codes.verdict import Finding, Outcome, Verdict
from joints.answers import ProcedureAnswer
from joints.demands import PhaseDemand, Requirements
from joints.merge import merged, owned_by, window_for
from joints.requirements import joined, record_verdict
from wps.offers import ProcedureOffer, RecordOffer

EVIDENCE = Clause("Procedure", "supporting test records", Mark.OWN)


@dataclass(frozen=True, slots=True)
class _Part:
    """A verdict and who gives it, in words that go before the allowed range."""

    verdict: Verdict
    allows: str


def procedure_answer(
    offer: ProcedureOffer, phase: PhaseDemand, asked: Requirements, on: date, settings: Settings
) -> ProcedureAnswer:
    """All processes of the phase inside the procedure's ranges and inside the union of its records that count."""
    parts: list[_Part] = []
    owned = owned_by(phase.demands)
    for demand in phase.demands:
        window = check(demand, window_for(offer.window, demand, owned))
        parts.append(_Part(window, f"{offer.label} allows"))
        box = merged(offer, demand, owned)
        parts.append(
            _Part(
                _evidence(offer, demand, box, asked, phase.phase, on, settings), f"the records of {offer.label} allow"
            )
        )
    whole = joined(offer.label, phase.demands[0], [part.verdict for part in parts])
    worst = min(parts, key=lambda part: part.verdict.outcome.rank)
    return ProcedureAnswer(offer.revision_id, offer.label, whole, worst.allows)


def _evidence(
    offer: ProcedureOffer,
    demand: Mapping[str, Value],
    box: Mapping[str, Value],
    asked: Requirements,
    phase: str,
    on: date,
    settings: Settings,
) -> Verdict:
    """The demand as welded to the procedure against its records together; else the record that comes nearest."""
    gates = [(record, record_verdict(record, asked, demand, phase, on, settings)) for record in offer.records]
    usable = [(record, gate) for record, gate in gates if gate is None or gate.outcome is Outcome.COVERED]
    sets = [(record, gate, limits) for record, gate in usable for limits in record.sets]
    singles = [(record, gate, check(box, limits)) for record, gate, limits in sets]
    for record, gate, verdict in singles:
        if verdict.outcome is Outcome.COVERED:
            return _with_gate(record, gate, verdict)
    if len(sets) > 1 and not uncovered(box, [limits for _, _, limits in sets]):
        return _together(box, [record for record, _ in usable], [gate for _, gate in usable])
    return nearest_record(box, gates) or _nothing(box, offer)


def nearest_record(box: Mapping[str, Value], gates: Sequence[tuple[RecordOffer, Verdict | None]]) -> Verdict | None:
    """The record, with its gate, that comes nearest; None where there is none that can be judged."""
    found = [
        _with_gate(record, gate, verdict)
        for record, gate in gates
        for verdict in ([check(box, limits) for limits in record.sets] or [_unjudged(box, record)])
    ]
    return min(found, key=nearness, default=None)


def _with_gate(record: RecordOffer, gate: Verdict | None, verdict: Verdict) -> Verdict:
    return joined(record.label, verdict.demand, [verdict, gate]) if gate is not None else verdict


def _together(box: Mapping[str, Value], records: Sequence[RecordOffer], gates: Sequence[Verdict | None]) -> Verdict:
    """Covered by several records where none does it alone."""
    names = " and ".join(dict.fromkeys(record.label for record in records))
    finding = Finding(
        "records", "Test records", Outcome.COVERED, "the whole range", f"{names} together", EVIDENCE,
        "no single record covers the whole range; cut to pieces, each piece lies inside one of them",
    )  # fmt: skip
    own = Verdict(box, Outcome.COVERED, (finding,), names)
    return joined(names, box, [own, *[gate for gate in gates if gate is not None]])


def _nothing(box: Mapping[str, Value], offer: ProcedureOffer) -> Verdict:
    finding = Finding(
        "records", "Test records", Outcome.OUTSIDE, "at least one", "nothing", EVIDENCE,
        offer.problem or f"{offer.label} has no supporting test record", reason="records",
    )  # fmt: skip
    return Verdict(box, Outcome.OUTSIDE, (finding,), offer.label)


def _unjudged(box: Mapping[str, Value], record: RecordOffer) -> Verdict:
    why = record.problem or f"{record.label} states too little to earn a range"
    finding = Finding(
        "records", "Test records", Outcome.NOT_STATED, record.label, "unknown", EVIDENCE, why,
        reason="records", missing=why,
    )  # fmt: skip
    return Verdict(box, Outcome.NOT_STATED, (finding,), record.label)
