"""The register on one day: all offers, asked for one joint or for many."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from types import SimpleNamespace

from django.db.models import QuerySet

from codes.readings import DEFAULTS, Settings
from joints.answers import JointAnswer, ProcedureAnswer
from joints.bulk import Engine, JointResult
from joints.coverage import answer, ranked_procedures
from joints.demands import Stated, joint_demand
from joints.models import Job, Joint, Workstation
from qualifications.offers import CertificateOffer, certificate_offers
from wps.offers import ProcedureOffer, procedure_offers

ASKED = (
    "assembly__job_id", "weld_type", "joint_type", "product", "grade_1", "grade_2", "t1_mm", "t2_mm", "throat_mm",
    "leg_mm", "penetration_mm", "diameter_mm", "rotated", "branch_angle_deg", "position", "weld_detail", "gouging",
    "preparation", "final_process", "final_workstation_id", "tack_process", "tack_workstation_id", "tack_length_mm",
    "tack_throat_mm",
)  # fmt: skip
"""What makes two joints ask the same."""
NAMED = ("pk", "number", "assembly_id", "assembly__mark")


@dataclass(frozen=True, slots=True)
class Answered:
    """One joint of many: who it is, and its answer."""

    pk: int
    number: str
    assembly_id: int
    mark: str
    result: JointResult


class Day:
    """The offers of one day, read once."""

    def __init__(self, on: date, settings: Settings = DEFAULTS, kept: Callable[["Day"], Engine] | None = None) -> None:
        self.on, self.settings, self._kept = on, settings, kept
        self.procedures: tuple[ProcedureOffer, ...] = procedure_offers(on, settings)
        self.certificates: tuple[CertificateOffer, ...] = certificate_offers(settings)

    @cached_property
    def engine(self) -> Engine:
        """Ready for many questions; a kept one where `kept` knows one that was made from the same offers."""
        if self._kept is not None:
            return self._kept(self)
        return Engine(self.procedures, self.certificates, self.on, self.settings)

    def explain(self, joint: Joint, job: Job) -> JointAnswer:
        """The answer to one joint, with every finding."""
        demand = joint_demand(joint, job, self.settings)
        return answer(demand, self.procedures, self.certificates, self.on, self.settings)

    def ranked(self, joint: Joint, job: Job) -> dict[str, tuple[ProcedureAnswer, ...]]:
        """Phase -> every procedure that serves it, nearest first."""
        demand = joint_demand(joint, job, self.settings)
        return {
            phase.phase: ranked_procedures(phase, demand, self.procedures, self.on, self.settings)
            for phase in demand.phases
        }

    def answers(self, joints: QuerySet[Joint]) -> list[Answered]:
        """The answers to many joints, in the order of the query. Three queries, whatever their number."""
        stations = {station.pk: station for station in Workstation.objects.all()}
        jobs = {job.pk: job for job in Job.objects.filter(assemblies__joints__in=joints).distinct()}
        with self.engine.lock:
            return list(answered(self.engine, joints.values_list(*NAMED, *ASKED), jobs, stations))


def answered(
    engine: Engine, rows: Iterable[tuple[object, ...]], jobs: dict[int, Job], stations: dict[int, Workstation]
) -> Iterator[Answered]:
    """The answers to rows of NAMED and ASKED, in their order; rows that ask the same are asked once."""
    known: dict[tuple[object, ...], JointResult] = {}
    names = len(NAMED)
    for row in rows:
        key = row[names:]
        result = known.get(key)
        if result is None:
            joint, job = _joint(key, jobs, stations)
            result = known[key] = engine.result(joint_demand(joint, job, engine.settings))
        yield Answered(row[0], row[1], row[2], row[3], result)  # type: ignore[arg-type]


def _joint(asked: tuple[object, ...], jobs: dict[int, Job], stations: dict[int, Workstation]) -> tuple[Stated, Job]:
    """Something that states the same; a model for each would take longer than the answer."""
    fields = dict(zip(ASKED, asked, strict=True))
    job = jobs[fields.pop("assembly__job_id")]  # type: ignore[index]
    for phase in ("final", "tack"):
        station = fields.pop(f"{phase}_workstation_id")
        fields[f"{phase}_workstation"] = stations[station] if station is not None else None  # type: ignore[index]
    return SimpleNamespace(number="", **fields), job
