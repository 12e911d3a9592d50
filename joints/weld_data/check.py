"""All rules asked of the joints of a job. Four queries at most, whatever their number."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from joints.heats import Heats, heats_on_file
from joints.models import Job, Joint
from joints.turning.reach import reaches_of
from joints.weld_data.finding import Finding
from joints.weld_data.registry import Rule
from joints.weld_data.rules import RULES
from joints.weld_data.steel import known
from joints.weld_data.weld import Weld


@dataclass(frozen=True, slots=True)
class Found:
    """One finding with its joint."""

    joint: Joint
    finding: Finding

    @property
    def key(self) -> str:
        """What it is known by on the page."""
        return f"{self.joint.pk}-{self.finding.key}"


def check(weld: Weld) -> tuple[Finding, ...]:
    """What all rules find, in their order."""
    return tuple(found for rule in RULES.values() for found in rule.of(weld))


def check_job(job: Job) -> Iterator[Found]:
    """What all rules find in a job, joint by joint in the order of its assemblies."""
    joints = list(joints_of(job))
    steels = _steels(joints)
    heats = heats_on_file(joints)
    for joint in joints:
        around = steels[joint.assembly_id]
        yield from (Found(joint, one) for one in check(weld_of(joint, job, around, heats)))


def check_joint(joint: Joint) -> tuple[Finding, ...]:
    """What all rules find in one joint."""
    siblings = Joint.objects.filter(assembly=joint.assembly_id)
    around = _steels(siblings).get(joint.assembly_id, ())
    return check(weld_of(joint, joint.assembly.job, around, heats_on_file([joint])))


def weld_of(joint: Joint, job: Job, steels: tuple[str, ...] = (), heats: Heats | None = None) -> Weld:
    """A joint on file for the rules."""
    geometry = getattr(joint, "geometry", None)
    part = geometry.part_length_mm if geometry is not None else None
    return Weld(joint, job, steels, part, reaches_of(joint), heats or {})


def joints_of(job: Job) -> Iterable[Joint]:
    """The joints of a job with all that the rules look at."""
    around = ("assembly__job", "assembly__geometry", "final_workstation", "tack_workstation", "geometry")
    joints = Joint.objects.filter(assembly__job=job).select_related("assembly", *around)
    return joints.order_by("assembly__order_key", "assembly_id", "order_key", "pk")


def by_rule(found: Iterable[Found]) -> list[tuple[Rule, list[Found]]]:
    """What was found under each rule, in the order of the rules."""
    held: dict[str, list[Found]] = {}
    for one in found:
        held.setdefault(one.finding.rule, []).append(one)
    return [(rule, held[name]) for name, rule in RULES.items() if name in held]


def _steels(joints: Iterable[Joint]) -> dict[int, tuple[str, ...]]:
    """The known grades that each assembly states."""
    held: dict[int, dict[str, None]] = {}
    for joint in joints:
        stated = held.setdefault(joint.assembly_id, {})
        stated |= dict.fromkeys(grade for grade in (joint.grade_1, joint.grade_2) if grade and known(grade))
    return {assembly: tuple(grades) for assembly, grades in held.items()}
