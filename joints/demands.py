"""A joint of a job as demands: what it asks of a procedure and of a person, in the words of codes.variables.

What the joint does not say stays unstated. A weld by several processes makes one demand for each of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property, lru_cache
from operator import itemgetter
from typing import Any

from codes.own_grades import entries_of, own_grades
from codes.readings import DEFAULTS, Settings
from codes.steels import YIELD_READING, UnknownGrade, steel_of
from codes.values import Steel, SteelPair, Value
from joints.models import Job, Workstation
from joints.sizes import leg_of_throat, thinner, throat_of_leg
from joints.stations import at_its_works
from joints.systems import is_us
from joints.us_demands import TACK_NOTE, us_demand

TACK, FINAL = "tack", "final"
BUTT_LIKE = ("butt_cjp", "butt_pjp", "branch")
MECHANISED = ("fully_mechanised", "automatic")
UNIT_FIELDS = (
    "unit",
    "arc_sensor",
    "joint_sensor",
    "joint_tracking",
    "arc_length_control",
    "multi_arc",
    "visual_control",
)


NO_STANDARD = "none named"
"""Said, so that what a standard asks of people is known not to count for the job."""
Stated = Any
"""A joint, or anything else with the fields of one."""


@dataclass(frozen=True, slots=True)
class Place:
    """What a phase needs to know of its workstation."""

    name: str
    processes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PhaseDemand:
    """The demands of one phase, one for each process, and what could not be read."""

    phase: str
    demands: tuple[Mapping[str, Value], ...]
    place: Place | None = None
    notes: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[object, ...]:
        """What makes two phases ask the very same."""
        demands = tuple(tuple(sorted(demand.items(), key=itemgetter(0))) for demand in self.demands)
        return self.phase, demands, self.place, self.notes


@dataclass(frozen=True)
class Requirements:
    """What the job asks of the evidence: code and edition, application standard, and facts its gates look at."""

    procedure_code: str = ""
    application_standard: str = ""
    facts: Mapping[str, Value] = field(default_factory=dict, hash=False)
    """What a gate asks of the job itself: the coordinator's level, primer, penetration."""

    @cached_property
    def key(self) -> tuple[object, ...]:
        """What makes two jobs ask the same."""
        return self.procedure_code, self.application_standard, tuple(sorted(self.facts.items(), key=str))


@dataclass(frozen=True, slots=True)
class JointDemand:
    """One joint as demands: both phases and the job's requirements."""

    label: str
    tack: PhaseDemand
    final: PhaseDemand
    requirements: Requirements
    tack_length: Decimal | None = None

    @property
    def phases(self) -> tuple[PhaseDemand, PhaseDemand]:
        """Tack and final."""
        return self.tack, self.final


def joint_demand(
    joint: Stated, job: Job, settings: Settings = DEFAULTS, asked: Requirements | None = None
) -> JointDemand:
    """The demands of a joint. Reads both workstations, so select them with the joints of a list.

    `asked`: what the job asks of the evidence, where it was worked out before.
    """
    common, notes = _common(joint, job, settings)
    places = [at_its_works(station, job) for station in (joint.tack_workstation, joint.final_workstation)]
    tack = _phase(TACK, joint.tack_process, places[0], common | _tack_sizes(joint), notes)
    final = _phase(FINAL, joint.final_process, places[1], common | _final_sizes(joint), notes)
    us = is_us(job.procedure_code)
    return JointDemand(
        label=f"Joint {joint.number}",
        tack=_in_us_terms(tack, joint) if us else tack,
        final=_in_us_terms(final, joint) if us else final,
        requirements=asked if asked is not None else requirements(job),
        tack_length=joint.tack_length_mm,
    )


def _in_us_terms(phase: PhaseDemand, joint: Stated) -> PhaseDemand:
    leg = joint.leg_mm or (leg_of_throat(joint.throat_mm) if joint.throat_mm else None)
    demands = tuple(us_demand(demand, phase.phase, leg, joint.preparation) for demand in phase.demands)
    notes = (*phase.notes, TACK_NOTE) if phase.phase == TACK and joint.tack_throat_mm else phase.notes
    return replace(phase, demands=demands, notes=notes)


def requirements(job: Job) -> Requirements:
    """What a job asks of the evidence."""
    answers = {"over_primer": job.over_primer, "deep_penetration": job.deep_penetration}
    facts: dict[str, Value] = {name: _yes(said) for name, said in answers.items()}
    facts["heat_controlled"] = _yes(job.heat_controlled)
    stated = {
        "coordinator_level": job.coordinator_level,
        "transverse_load": job.transverse_load,
        "primer_thickness": job.primer_thickness_um,
    }
    facts |= {name: value for name, value in stated.items() if value not in (None, "")}
    return Requirements(job.procedure_code, job.application_standard, facts)


def _yes(said: bool) -> str:
    return "yes" if said else "no"


def processes_of(text: str) -> tuple[str, ...]:
    """The processes of a weld. Example: "141+135" gives ("141", "135")."""
    return tuple(part.strip() for part in text.split("+") if part.strip())


def _common(joint: Stated, job: Job, settings: Settings) -> tuple[dict[str, Value], tuple[str, ...]]:
    """What both phases share: the parts, the position and the job's requirements."""
    steels, notes = _steels(joint, settings)
    words = {
        "weld_type": joint.weld_type,
        "joint_type": joint.joint_type,
        "product": joint.product,
        "position": joint.position,
        "weld_detail": joint.weld_detail,
        "gouging": joint.gouging or _no_second_side(joint.weld_detail),
        "rotated": joint.rotated,
        "application_standard": job.application_standard or NO_STANDARD,
        "execution_class": job.execution_class,
        "steels": steels,
        "parent_t": _parent_t(joint),
        "diameter": joint.diameter_mm,
        "branch_angle": joint.branch_angle_deg,
        "impact_temperature": job.impact_temperature_c if job.impact_required else None,
        "level": Decimal(job.level) if job.level else None,
    }
    demand = {name: value for name, value in words.items() if value is not None and value != ""}
    demand |= {"impact_required": _yes(job.impact_required), "hardness_required": _yes(job.hardness_required)}
    return demand | {"pwht": _yes(job.pwht_required)}, notes


def _no_second_side(weld_detail: str) -> str:
    """A weld made from one side has no root to open from the other."""
    return "none" if weld_detail.startswith("ss_") else ""


def _steels(joint: Stated, settings: Settings) -> tuple[SteelPair | None, tuple[str, ...]]:
    """Both parts, or None with the reason where one is not stated or not known."""
    by_band, own = YIELD_READING.option(settings) == "by band", entries_of(settings)
    found: list[Steel] = []
    notes: list[str] = []
    parts = ((1, joint.grade_1, joint.t1_mm), (2, joint.grade_2, joint.t2_mm))
    for part, grade, thickness in parts:
        if not grade:
            notes.append(f"steel of part {part} is not stated")
            continue
        known = _known(grade, thickness if by_band else None, by_band, own)
        if isinstance(known, Steel):
            found.append(known)
        else:
            notes.append(known)
    return (SteelPair(*found) if len(found) == 2 else None), tuple(dict.fromkeys(notes))


@lru_cache(maxsize=4096)
def _known(grade: str, thickness: Decimal | None, by_band: bool, own: tuple[tuple[str, str], ...]) -> Steel | str:
    """The steel of a grade, or why it is not known. `own`: the firm's own grades, as the settings bring them."""
    unknown = ""
    for additions in ((), own_grades(dict(own))):
        try:
            return steel_of(grade, thickness, by_band, additions=additions)
        except UnknownGrade as problem:
            unknown = str(problem)
    return unknown


def _parent_t(joint: Stated) -> Value | None:
    """Both thicknesses, one where they are equal; None where a part does not state its own."""
    t1, t2 = joint.t1_mm, joint.t2_mm
    if t1 is None or t2 is None:
        return None
    return t1 if t1 == t2 else (t1, t2)


def _final_sizes(joint: Stated) -> dict[str, Value]:
    """Throat of a fillet, deposited thickness of a butt weld. Several processes share it, so then it is not stated."""
    if joint.weld_type == "fillet":
        throat = joint.throat_mm or (throat_of_leg(joint.leg_mm) if joint.leg_mm else None)
        return {"throat_a": throat} if throat else {}
    if joint.weld_type not in BUTT_LIKE:
        return {}
    pjp = joint.weld_type == "butt_pjp"
    deposit = joint.penetration_mm if pjp else thinner(joint.t1_mm, joint.t2_mm)
    if not deposit:
        return {}
    sizes: dict[str, Value] = {"joint_deposit_t": deposit}
    return sizes if "+" in joint.final_process else sizes | {"deposit_t": deposit}


def _tack_sizes(joint: Stated) -> dict[str, Value]:
    """A tack is one run; its throat (fillet) or thickness (butt) where the joint states it."""
    sizes: dict[str, Value] = {"run_type": "single_run"}
    if joint.tack_throat_mm and joint.weld_type:
        names = ("throat_a",) if joint.weld_type == "fillet" else ("deposit_t", "joint_deposit_t")
        sizes |= dict.fromkeys(names, joint.tack_throat_mm)
    return sizes


def _phase(
    phase: str, process: str, station: Workstation | None, common: Mapping[str, Value], notes: tuple[str, ...]
) -> PhaseDemand:
    shared = {**common, **_machine(station)} if station else dict(common)
    processes = processes_of(process)
    together = "/".join(processes)
    each = tuple([{**shared, "joint_processes": together, "process": one} for one in processes]) or (shared,)
    place = Place(station.name, tuple(station.processes)) if station else None
    return PhaseDemand(phase, each, place, notes)


def _machine(station: Workstation) -> dict[str, Value]:
    """How the workstation carries the torch, and, where a machine does, which machine with which sensors."""
    if not station.mechanisation:
        return {}
    demand: dict[str, Value] = {"mechanisation": station.mechanisation}
    demand["robot"] = "yes" if station.kind == "robotic_cell" else "no"
    if station.mechanisation in MECHANISED:
        demand["role"] = "operator"
        stated = {name: getattr(station, name) for name in UNIT_FIELDS}
        demand |= {name: value for name, value in stated.items() if value}
    return demand
