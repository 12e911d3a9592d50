"""The register on one day: all offers, asked for one joint or for many."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack
from copy import copy
from datetime import date
from functools import cached_property
from types import SimpleNamespace
from typing import NamedTuple

from django.db.models import QuerySet

from codes.readings import DEFAULTS, Settings
from joints.answers import JointAnswer, ProcedureAnswer
from joints.bulk import Engine, JointResult
from joints.coverage import answer, ranked_procedures
from joints.demands import JointDemand, Stated, joint_demand, requirements
from joints.models import Job, Joint, Workstation
from qualifications.lending.where import counting
from qualifications.offers import CertificateOffer, certificate_offers
from register.memory import without_looking_for_garbage
from register.plants.reach import current
from wps.offers import ProcedureOffer, procedure_offers
from wps.releases.models import released_to

ASKED = (
    "assembly__job_id", "weld_type", "joint_type", "product", "grade_1", "grade_2", "t1_mm", "t2_mm", "throat_mm",
    "leg_mm", "penetration_mm", "diameter_mm", "rotated", "branch_angle_deg", "position", "weld_detail", "gouging",
    "preparation", "final_process", "final_workstation_id", "tack_process", "tack_workstation_id", "tack_length_mm",
    "tack_throat_mm",
)  # fmt: skip
"""What makes two joints ask the same."""
Say = Callable[[int, int, str], None]
"""Told how far something is: done, in all (0: not known), what is being done. It may raise, to give it up."""
Ranked = Mapping[str, tuple[ProcedureAnswer, ...]]
"""Phase -> procedures."""
NAMED = ("pk", "number", "assembly_id", "assembly__mark")


class Answered(NamedTuple):
    """One joint of many: who it is, and its answer."""

    pk: int
    number: str
    assembly_id: int
    mark: str
    result: JointResult


class Day:
    """The offers of one day, read once."""

    def __init__(self, on: date, settings: Settings = DEFAULTS, kept: Callable[["Day"], Engine] | None = None) -> None:
        self.on, self.settings, self.kept = on, settings, kept
        self.plant: int | None = None
        self._plants: dict[int, Day] = {}
        self.procedures: tuple[ProcedureOffer, ...] = procedure_offers(on, settings)
        self.certificates: tuple[CertificateOffer, ...] = certificate_offers(settings)

    @cached_property
    def engine(self) -> Engine:
        """Ready for many questions; a kept one where `kept` knows one that was made from the same offers."""
        if self.kept is not None:
            return self.kept(self)
        return Engine(self.procedures, self.certificates, self.on, self.settings)

    def at(self, plant: int | None) -> "Day":
        """The day at one plant: its own people and those lent to it, its own procedures and those released to it.

        The same day where the firm has one plant, or where it is not said which.
        """
        if plant is None or plant == self.plant or not current().several:
            return self
        known = self._plants.get(plant)
        if known is None:
            counts, released = counting(plant, self.on), released_to(plant, self.on)
            people = (one for one in self.certificates if counts(one.person_id, one.plant_id))
            known = self.with_people(people)
            known.plant = plant
            known.procedures = tuple(
                one for one in self.procedures if one.plant_id == plant or one.procedure_id in released
            )
            self._plants[plant] = known
        return known

    def with_people(self, certificates: Iterable[CertificateOffer]) -> "Day":
        """The same day with other certificates."""
        other = copy(self)
        other.__dict__.pop("engine", None)
        other._plants = {}
        other.certificates = tuple(certificates)
        return other

    def explain(self, joint: Joint, job: Job) -> JointAnswer:
        """The answer to one joint, with every finding."""
        return self.at(job.plant_id).explained(joint_demand(joint, job, self.settings))

    def ranked(self, joint: Joint, job: Job) -> Ranked:
        """Phase -> every procedure that serves it, nearest first."""
        return self.at(job.plant_id).ranked_for(joint_demand(joint, job, self.settings))

    def explained(self, demand: JointDemand) -> JointAnswer:
        """As `explain`, of a demand at the plant of this day."""
        return answer(demand, self.procedures, self.certificates, self.on, self.settings)

    def ranked_for(self, demand: JointDemand) -> Ranked:
        """As `ranked`, of a demand at the plant of this day."""
        return {
            phase.phase: ranked_procedures(phase, demand, self.procedures, self.on, self.settings)
            for phase in demand.phases
        }

    def answers(self, joints: QuerySet[Joint], say: Say | None = None) -> list[Answered]:
        """The answers to many joints, in the order of the query. Three queries, whatever their number; one more where
        `say` is told how far it is. What it raises ends the answering.
        """
        # Offers, limits and answers are millions of objects, and none of them refers to itself in a circle.
        with without_looking_for_garbage():
            return self._answers(joints, say)

    def _answers(self, joints: QuerySet[Joint], say: Say | None) -> list[Answered]:
        total = joints.count() if say is not None else 0
        stations = {station.pk: station for station in Workstation.objects.all()}
        jobs = {job.pk: job for job in Job.objects.filter(assemblies__joints__in=joints).distinct()}
        engines = {pk: self.at(job.plant_id).engine for pk, job in jobs.items()}
        with ExitStack() as held:
            # In one order, so that two who ask of several plants never wait for each other.
            for engine in sorted(set(engines.values()), key=id):
                held.enter_context(engine.lock)
            found = answered(engines, joints.values_list(*NAMED, *ASKED), jobs, stations)
            return list(found if say is None else _telling(found, total, say))


def answered(
    engines: dict[int, Engine],
    rows: Iterable[tuple[object, ...]],
    jobs: dict[int, Job],
    stations: dict[int, Workstation],
) -> Iterator[Answered]:
    """The answers to rows of NAMED and ASKED, in their order; rows that ask the same are asked once.

    `engines`: by the key of the job, of whose plant they are.
    """
    known: dict[tuple[object, ...], JointResult] = {}
    asked = {pk: requirements(job) for pk, job in jobs.items()}
    # A million rows go through here: what a row costs is a slice, a look-up and a tuple.
    named, look, new = len(NAMED), known.get, tuple.__new__
    for row in rows:
        key = row[named:]
        result = look(key)
        if result is None:
            joint, job = _joint(key, jobs, stations)
            engine = engines[job.pk]
            result = known[key] = engine.result(joint_demand(joint, job, engine.settings, asked[job.pk]))
        yield new(Answered, (row[0], row[1], row[2], row[3], result))


def _telling(found: Iterable[Answered], total: int, say: Say) -> Iterator[Answered]:
    for done, one in enumerate(found):
        say(done, total, "Asking each joint")
        yield one


def _joint(asked: tuple[object, ...], jobs: dict[int, Job], stations: dict[int, Workstation]) -> tuple[Stated, Job]:
    """Something that states the same; a model for each would take longer than the answer."""
    fields = dict(zip(ASKED, asked, strict=True))
    job = jobs[fields.pop("assembly__job_id")]  # type: ignore[index]
    for phase in ("final", "tack"):
        station = fields.pop(f"{phase}_workstation_id")
        fields[f"{phase}_workstation"] = stations.get(station)  # type: ignore[call-overload]
    return SimpleNamespace(number="", **fields), job
