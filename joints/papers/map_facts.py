"""What a weld map says, whatever the words: each weld with its figures as kept, where it lies, and its procedure.

The joints are asked once, for words, drawing and facts alike.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from codes.facts import fact, in_order
from joints.answers import PhaseAnswer
from joints.models import Assembly, AssemblyGeometry, Joint
from joints.papers.explained import Rests, rests_of
from joints.ready import day_of
from joints.sizes import welds_of
from joints.turning.assembly import joints_of
from joints.turning.placed import Placed, placed

SECTION = ("section", "depth_mm", "width_mm", "web_mm", "flange_mm", "length_mm")
WELD = ("weld_type", "throat_mm", "leg_mm", "penetration_mm", "t1_mm", "t2_mm", "length_mm", "position")
"""What a joint states that the map shows."""
PLACE = ("along_mm", "up_mm", "across_mm")


@dataclass(frozen=True, slots=True)
class Asked:
    """The joints of an assembly in their order, with the answers to their final welds and how they lie at turn 0."""

    assembly: Assembly
    joints: Sequence[Joint]
    finals: Mapping[int, PhaseAnswer]
    lies: Mapping[int, Placed | None]

    @property
    def geometry(self) -> AssemblyGeometry | None:
        """Axis and section of the assembly, where they are stated."""
        return getattr(self.assembly, "geometry", None)


def asked_of(assembly: Assembly, on: date) -> Asked:
    """Ask the joints of an assembly; procedures as of the day."""
    joints, day = joints_of(assembly), day_of(on)
    finals = {joint.pk: day.explain(joint, assembly.job).final for joint in joints}
    return Asked(assembly, joints, finals, {joint.pk: placed(joint) for joint in joints})


def map_facts(asked: Asked) -> dict[str, Any]:
    """Of an assembly. The day itself is no fact: the map says the same until a procedure or a weld is another."""
    assembly, geometry = asked.assembly, asked.geometry
    rests = rests_of(one.revision_id for final in asked.finals.values() for one in final.covering[:1])
    return {
        "job": [assembly.job.number, assembly.job.title],
        "assembly": [assembly.mark, assembly.title],
        "beam": None if geometry is None else fact(geometry.beam),
        "section": None if geometry is None else {name: fact(getattr(geometry, name)) for name in SECTION},
        "welds": in_order(_weld(joint, asked, rests) for joint in asked.joints),
    }


def _weld(joint: Joint, asked: Asked, rests: Mapping[int, Rests]) -> dict[str, Any]:
    own, lies, final = getattr(joint, "geometry", None), asked.lies[joint.pk], asked.finals[joint.pk]
    first = next((rests[one.revision_id] for one in final.covering[:1] if one.revision_id in rests), None)
    return {
        "number": joint.number,
        "stated": {name: fact(getattr(joint, name)) for name in WELD},
        "welds": welds_of(joint.weld_type, joint.weld_detail),
        "place": None if own is None else [fact(getattr(own, name)) for name in PLACE],
        "axis": None if own is None else fact(own.axis),
        "lies": None if lies is None else [lies.iso, lies.aws_test],
        "procedure": None if first is None else [first.number, first.letter],
        "procedures": len(final.covering),
        "outcome": final.outcome.name,
    }
