"""Joints with geometry for tests: fillets along and across a beam in a cell that turns it."""

from decimal import Decimal as D
from typing import Any

from joints.models import Assembly, AssemblyGeometry, Job, Joint, JointGeometry, Workstation
from tests.joints.makers import make_job, make_joint, make_station


def cell(first: int = 0, last: int = 270, **changes: Any) -> Workstation:
    """A workstation with a rotator; welded by hand, so that a welder's certificate counts."""
    known = Workstation.objects.filter(name="Cell").first()
    ends = {"rotator_from_deg": D(first), "rotator_to_deg": D(last)}
    return known or make_station(**({"name": "Cell"} | ends | changes))


def geometry(joint: Joint, axis: str, face: str, across: str = "", up: str = "") -> JointGeometry:
    """The geometry of a joint from three figures each."""
    a, f = ([D(part) for part in text.split()] for text in (axis, face))
    place = {"across_mm": D(across), "up_mm": D(up)} if across else {}
    return JointGeometry.objects.create(
        joint=joint, axis_x=a[0], axis_y=a[1], axis_z=a[2], face_x=f[0], face_y=f[1], face_z=f[2], **place
    )


FOUR = (("1", "0 1 1"), ("2", "0 1 -1"), ("3", "0 -1 -1"), ("4", "0 -1 1"))
"""The fillets of web to flange by ψ: -45, -135, 135, 45."""


def beam(job: Job | None = None, **changes: Any) -> Assembly:
    """An I-beam with its four long fillets at the cell."""
    job = job or make_job()
    for number, face in FOUR:
        up = "-150" if number in "14" else "150"
        made = make_joint(job, mark="B1", number=number, final_workstation=cell(), **changes)
        geometry(made, "1 0 0", face, "5" if number in "12" else "-5", up)
    assembly = Assembly.objects.get(job=job, mark="B1")
    AssemblyGeometry.objects.create(
        assembly=assembly, section="i", depth_mm=D(340), width_mm=D(200), web_mm=D(10), flange_mm=D(20)
    )
    return assembly
