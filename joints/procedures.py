"""One procedure revision against one phase of a joint: its own ranges, its records together, and the job's gates."""

from collections.abc import Sequence
from dataclasses import dataclass

from codes.check import Demand, check
from codes.verdict import Verdict
from joints.answers import ProcedureAnswer
from joints.demands import PhaseDemand, Requirements
from joints.evidence import Asked, Evidence, evidence
from joints.judge import Judge
from joints.merge import merged, owned_by, window_for
from joints.misses import Key, Misses, joined_misses
from joints.requirements import joined
from wps.models import Road
from wps.offers import ProcedureOffer

PREQUALIFIED = Road.PREQUALIFIED


@dataclass(frozen=True, slots=True)
class _Process:
    """One process of the phase: what the procedure's own ranges miss, and what the records say."""

    demand: Demand
    window_misses: Misses
    records: Evidence


def procedure_answer(
    offer: ProcedureOffer,
    phase: PhaseDemand,
    asked: Requirements,
    judge: Judge,
) -> ProcedureAnswer:
    """All processes of the phase inside the procedure's ranges and inside the union of its records that count."""
    owned = owned_by(phase.demands)
    each: list[_Process] = []
    for demand in phase.demands:
        box = merged(offer, demand, owned)
        records = evidence(offer, Asked(demand, box, asked, phase.phase), judge)
        each.append(_Process(demand, judge.window(offer, demand, owned), records))
    whole = joined_misses(part for one in each for part in (one.window_misses, one.records.misses))
    return ProcedureAnswer(offer.revision_id, offer.label, whole, lambda: _explained(offer, phase, each))


def _explained(offer: ProcedureOffer, phase: PhaseDemand, each: Sequence[_Process]) -> tuple[Verdict, str]:
    """The whole verdict, and who refuses in words that go before the allowed range."""
    parts: list[tuple[Verdict, str]] = []
    owned = owned_by(phase.demands)
    for one in each:
        parts.append((check(one.demand, window_for(offer.window, one.demand, owned)), f"{offer.label} allows"))
        parts.append((one.records.explain(), _who_allows(offer)))
    worst = min(parts, key=lambda part: part[0].outcome.rank)
    return joined(offer.label, phase.demands[0], [verdict for verdict, _ in parts]), worst[1]


def _who_allows(offer: ProcedureOffer) -> str:
    if any(record.route == PREQUALIFIED for record in offer.records):
        return f"{offer.code} prequalified allows {offer.label}"
    return f"the records of {offer.label} allow"


def covering_and_nearest(
    offers: Sequence[ProcedureOffer],
    phase: PhaseDemand,
    asked: Requirements,
    judge: Judge,
) -> tuple[list[int], dict[int, ProcedureAnswer]]:
    """The indexes of the covering procedures, or of the one that comes nearest, with their answers.

    A procedure misses at least what its own ranges miss (`judge.windows`), so one whose ranges alone are further off
    than the best found so far need not be asked about its records.
    """
    windows = judge.windows(offers, phase)
    order = sorted(range(len(offers)), key=lambda i: (windows[i], i))
    found: dict[int, ProcedureAnswer] = {}
    best: tuple[Key, int] | None = None
    for index in order:
        if best is not None and windows[index][:2] > best[0][:2]:
            break
        found[index] = procedure_answer(offers[index], phase, asked, judge)
        mine = found[index].misses.key, index
        best = mine if best is None else min(best, mine)
    good = sorted(index for index, answer in found.items() if answer.misses.covered)
    return good or ([best[1]] if best is not None else []), found
