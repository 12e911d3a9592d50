"""The judge of the bulk answer: equal in every answer to joints.judge.Judge, quicker by what it has judged before."""

from collections.abc import Hashable, Mapping, Sequence
from datetime import date

from codes.limits import Limit, LimitSet
from codes.readings import Settings
from codes.values import Value
from joints.answers import CertificateAnswer
from joints.bulk_columns import Gates, People, RecordKey, Records, Windows, record_key
from joints.demands import PhaseDemand, Requirements
from joints.evidence import Asked
from joints.gates import Gate
from joints.judge import Judge
from joints.misses import COVERED, Key, Misses, joined_misses
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer, RecordOffer

Demand = Mapping[str, Value]


class FastJudge(Judge):
    """Every value judged once per variable, then looked up."""

    def __init__(
        self,
        procedures: Sequence[ProcedureOffer],
        certificates: Sequence[CertificateOffer],
        on: date,
        settings: Settings,
    ) -> None:
        super().__init__(on, settings)
        self.columns = Windows(procedures)
        self.people = People(certificates, on)
        self._every = {record_key(record): record for offer in procedures for record in offer.records}
        self._records = {offer.revision_id: Records(offer) for offer in procedures}
        self._gates: dict[Hashable, Gates | None] = {}
        self._index = {offer.revision_id: index for index, offer in enumerate(procedures)}
        self._last: Demand | None = None
        self._unions: dict[int, bool] = {}
        self._reads: dict[int, tuple[tuple[Limit, ...], tuple[str, ...]]] = {}
        self._places: dict[Hashable, Misses] = {}
        self._gated: tuple[Demand | None, Hashable, Mapping[RecordKey, Misses]] = (None, None, {})

    def windows(self, serving: Sequence[ProcedureOffer], phase: PhaseDemand) -> list[Key]:
        return self.columns.keys(phase)

    def window(self, offer: ProcedureOffer, demand: Demand, owned: frozenset[str]) -> Misses:
        return self.columns.misses(self._index[offer.revision_id], offer, demand, owned)

    def union(self, offer: ProcedureOffer, demand: Demand, box: Demand, sets: Sequence[LimitSet]) -> bool:
        if self._last is not demand:
            self._last, self._unions = demand, {}
        if offer.revision_id not in self._unions:
            self._unions[offer.revision_id] = super().union(offer, demand, box, sets)
        return self._unions[offer.revision_id]

    def placed(self, phase: PhaseDemand, gates: Sequence[Gate]) -> Misses:
        return joined_misses(self._placed(gate, demand) for gate in gates for demand in phase.demands)

    def _placed(self, gate: Gate, demand: Demand) -> Misses:
        """Looked up by what the gate's limits read; the limits themselves are kept, so that their id stays theirs."""
        kept = self._reads.get(id(gate.limits))
        if kept is None:
            named = {limit.variable for limit in gate.limits}
            named |= {when.variable for limit in gate.limits for when in limit.when}
            kept = self._reads[id(gate.limits)] = gate.limits, tuple(named)
        whole = {**gate.extra, **demand}
        key = (id(gate.limits), tuple(map(whole.get, kept[1])))
        known = self._places.get(key)
        if known is None:
            known = self._places[key] = gate.misses(demand)
        return known

    def ranges(self, offer: ProcedureOffer, box: Demand) -> list[Misses]:
        return self._records[offer.revision_id].misses(box)

    def gated(self, record: RecordOffer, asked: Requirements, demand: Demand, phase: str) -> Misses:
        kind = (asked.key, phase, "level" in demand)
        if self._gated[0] is not demand or self._gated[1] != kind:
            # One demand is asked of every record in turn, so the last answer is kept.
            gates = self._gates_of(kind, asked, demand, phase)
            self._gated = demand, kind, gates.misses(demand) if gates is not None else {}
        return self._gated[2].get(record_key(record), COVERED)

    def _gates_of(self, kind: Hashable, asked: Requirements, demand: Demand, phase: str) -> Gates | None:
        if kind not in self._gates:
            found = {pk: self.gate(record, asked, demand, phase) for pk, record in self._every.items()}
            held = {pk: gate for pk, gate in found.items() if gate is not None}
            self._gates[kind] = Gates(held) if held else None
        return self._gates[kind]

    def alone(self, offer: ProcedureOffer, asked: Asked) -> bool:
        """True where one record covers the demand by itself and counts for the job."""
        records = self._records[offer.revision_id]
        able = [records.owners[index] for index in records.compiled.covering(asked.box)]
        return any(self.gated(r, asked.requirements, asked.demand, asked.phase).covered for r in able)

    def together(self, offer: ProcedureOffer) -> bool:
        """True where there are several limit sets that may cover something together."""
        return len(self._records[offer.revision_id].owners) > 1

    def hopeful(
        self, offers: Sequence[CertificateOffer], demands: Sequence[Demand], code: str
    ) -> Sequence[CertificateOffer]:
        able = self.people.able(demands, code)
        return [offer for offer in offers if offer.person_id in able] if able else ()

    def nearest(
        self, offers: Sequence[CertificateOffer], demands: Sequence[Demand], procedure: str, code: str
    ) -> CertificateAnswer | None:
        return self.people.nearest(offers, demands, procedure, self.on, code)
