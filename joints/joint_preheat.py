"""The preheat of one joint: what its own steels, thicknesses and heats ask for, under each procedure. Advice."""

from collections.abc import Sequence
from dataclasses import dataclass

from codes.steels import UnknownGrade
from codes.units import System
from joints.answers import ProcedureAnswer
from joints.demands import processes_of
from joints.heats import PartHeat, heats_on_file, part_heats
from joints.models import Joint
from register.held.grades import known_steel
from wps.materials.equivalents import Worked, equivalents
from wps.models import ProcedureRevision
from wps.preheat_check import Advice, Part, preheat_advice

PROCEDURES = 3
"""So many procedures are reckoned through; the nearest first."""


@dataclass(frozen=True, slots=True)
class Named:
    """The heat of one part with what its analysis gives."""

    heat: PartHeat
    worked: tuple[Worked, ...]


@dataclass(frozen=True, slots=True)
class UnderProcedure:
    """What is asked for under one procedure; a line for each process of the joint."""

    label: str
    url: str
    advices: tuple[Advice, ...]


@dataclass(frozen=True, slots=True)
class JointPreheat:
    """The section on the page of a joint. `missing` says what keeps it from being reckoned."""

    heats: tuple[Named, ...]
    procedures: tuple[UnderProcedure, ...]
    missing: str = ""


def joint_preheat(joint: Joint, answers: Sequence[ProcedureAnswer], system: System = System.SI) -> JointPreheat:
    """The heats that the joint names, and its preheat under the procedures that cover it, or the nearest one."""
    found = part_heats(joint, heats_on_file([joint]))
    named = tuple(Named(one, _worked(one)) for one in found)
    try:
        parts = _parts(joint, found)
    except (UnknownGrade, ValueError) as unknown:
        return JointPreheat(named, (), str(unknown))
    wanted = [one.revision_id for one in answers[:PROCEDURES]]
    revisions = ProcedureRevision.objects.select_related("procedure").in_bulk(wanted)
    processes = processes_of(joint.final_process)
    under = []
    for pk in wanted:
        advices = preheat_advice(revisions[pk], parts, system)
        mine = tuple(one for one in advices if not processes or one.process in ("", *processes))
        under.append(UnderProcedure(str(revisions[pk]), revisions[pk].get_absolute_url(), mine))
    return JointPreheat(named, tuple(one for one in under if one.advices))


def _worked(one: PartHeat) -> tuple[Worked, ...]:
    """CE and CET of the certificate that serves the part."""
    return equivalents(one.fits.elements)[:2] if one.fits is not None else ()


def _parts(joint: Joint, heats: Sequence[PartHeat]) -> tuple[Part, ...]:
    """Both parts. Raises ValueError naming what is not stated, UnknownGrade for a grade that is not held."""
    stated = ((1, joint.grade_1, joint.t1_mm), (2, joint.grade_2, joint.t2_mm))
    known = {one.part: one.fits for one in heats}
    parts = []
    for number, grade, thickness in stated:
        if not grade or thickness is None:
            raise ValueError(f"{'the steel' if not grade else 'the thickness'} of part {number} is not stated")
        parts.append(Part(known_steel(grade), thickness, known.get(number), any_heat=number not in known))
    return tuple(parts)
