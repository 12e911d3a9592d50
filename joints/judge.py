"""How the explaining answer asks about limits: each one judged anew. The bulk answer brings a quicker judge."""

from collections.abc import Mapping, Sequence
from datetime import date

from codes.cover import is_covered
from codes.limits import LimitSet
from codes.readings import Settings
from codes.values import Value
from joints.answers import CertificateAnswer
from joints.demands import PhaseDemand, Requirements
from joints.gates import Gate
from joints.merge import window_for
from joints.misses import COVERED, Key, Misses, joined_misses, misses
from joints.people import nearest_certificate
from joints.requirements import record_gate
from joints.windows import window_misses
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer, RecordOffer

Demand = Mapping[str, Value]


class Judge:
    """Everything is worked out when it is asked, by the one checker."""

    def __init__(self, on: date, settings: Settings) -> None:
        self.on, self.settings = on, settings

    def windows(self, serving: Sequence[ProcedureOffer], phase: PhaseDemand) -> list[Key]:
        """How far the own ranges of each procedure are off."""
        return [window_misses(offer, phase).key for offer in serving]

    def window(self, offer: ProcedureOffer, demand: Demand, owned: frozenset[str]) -> Misses:
        """What the own ranges of one procedure miss of one demand."""
        return misses(demand, window_for(offer.window, demand, owned).limits)

    def union(self, offer: ProcedureOffer, demand: Demand, box: Demand, sets: Sequence[LimitSet]) -> bool:
        """True where these limit sets cover the box together; `demand` is what the box was made from."""
        return is_covered(box, sets)

    def placed(self, phase: PhaseDemand, gates: Sequence[Gate]) -> Misses:
        """What the workstation and the job's own gates miss of a phase."""
        return joined_misses(gate.misses(demand) for gate in gates for demand in phase.demands)

    def ranges(self, offer: ProcedureOffer, box: Demand) -> list[Misses]:
        """What each limit set of the procedure's records misses, in their order."""
        return [misses(box, limits.limits) for record in offer.records for limits in record.sets]

    def gate(self, record: RecordOffer, asked: Requirements, demand: Demand, phase: str) -> Gate | None:
        """What decides whether the record counts for the job."""
        return record_gate(record, asked, demand, phase, self.on, self.settings)

    def gated(self, record: RecordOffer, asked: Requirements, demand: Demand, phase: str) -> Misses:
        """What keeps that gate shut."""
        gate = self.gate(record, asked, demand, phase)
        return gate.misses(demand) if gate is not None else COVERED

    def hopeful(
        self, offers: Sequence[CertificateOffer], demands: Sequence[Demand], code: str
    ) -> Sequence[CertificateOffer]:
        """The certificates that are worth asking whether they cover the demands."""
        return offers

    def nearest(
        self, offers: Sequence[CertificateOffer], demands: Sequence[Demand], procedure: str, code: str
    ) -> CertificateAnswer | None:
        """The certificate that comes nearest."""
        return nearest_certificate(offers, demands, procedure, self.on, code)
