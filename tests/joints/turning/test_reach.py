"""The positions that a joint on file comes into at its workstation."""

from decimal import Decimal as D
from typing import Any

import pytest

from joints.models import Assembly, AssemblyGeometry, Job, Joint, JointGeometry, Workstation
from joints.turning.reach import arc_of, reaches_of, system_of, tokens_of


def joint(axis: str = "1 0 0", face: str = "0 1 1", beam: str = "", arc: Any = (0, 270), **changes: Any) -> Joint:
    """A fillet along the beam at ψ -45, not saved."""
    assembly = Assembly(job=Job(number="1"), mark="B1")
    if beam:
        x, y, z = map(D, beam.split())
        AssemblyGeometry(assembly=assembly, beam_x=x, beam_y=y, beam_z=z)
    ends = tuple(D(end) for end in arc) if arc else (None, None)
    station = Workstation(name="Cell", kind="robotic_cell", rotator_from_deg=ends[0], rotator_to_deg=ends[1])
    made = Joint(assembly=assembly, final_workstation=station, **({"weld_type": "fillet"} | changes))
    a, f = ([D(part) for part in text.split()] for text in (axis, face))
    JointGeometry(joint=made, axis_x=a[0], axis_y=a[1], axis_z=a[2], face_x=f[0], face_y=f[1], face_z=f[2])
    return made


def test_a_weld_along_the_beam_comes_everywhere_the_arc_goes() -> None:
    assert reaches_of(joint()) == ("PA", "PB", "PC", "PD", "PE")
    assert reaches_of(joint(arc=None)) == ("PB",)
    assert reaches_of(joint(arc=(0, 10))) == ("PB",)
    assert reaches_of(joint(arc=(0, 15))) == ("PA", "PB")


def test_a_weld_across_the_beam_never_lies_flat() -> None:
    assert reaches_of(joint(axis="0 1 0", face="1 0 1")) == ("PB", "PF", "PG", "PD")


def test_the_axis_of_the_assembly_counts() -> None:
    assert reaches_of(joint(beam="0 1 0", axis="0 1 0", face="1 0 1", arc=(0, 20))) == ("PB", "PC")


@pytest.mark.parametrize("changes", [{"weld_type": "branch"}, {"weld_type": "butt_cjp", "product": "pipe"}])
def test_what_one_axis_does_not_say_is_left_open(changes: Any) -> None:
    assert reaches_of(joint(**changes)) == ()


def test_a_face_along_the_axis_says_nothing() -> None:
    assert reaches_of(joint(face="1 0 0")) == ()


def test_a_joint_without_geometry_says_nothing() -> None:
    assert reaches_of(Joint(weld_type="fillet", assembly=Assembly(mark="B1"))) == ()


@pytest.mark.parametrize(
    ("ends", "arc"),
    [((None, None), (0, 0)), (("0", "270"), (0, 540)), (("-135.1", "134.9"), (-270, 269)), (("0.1", "0.2"), (1, 1))],
)
def test_the_arc_in_half_degrees(ends: tuple[Any, Any], arc: tuple[int, int]) -> None:
    first, last = (None if end is None else D(end) for end in ends)
    assert arc_of(Workstation(rotator_from_deg=first, rotator_to_deg=last)) == arc


def test_the_positions_of_the_code_govern() -> None:
    assert [system_of(code) for code in ("ISO 15614-1:2017", "AWS D1.1:2020", "ASME IX:2021", "")] == [
        "iso", "aws", "aws", "iso",
    ]  # fmt: skip
    assert tokens_of("iso", "fillet", "PC") == ("PC",)
    assert tokens_of("aws", "fillet", "H") == ("PB",) and tokens_of("aws", "butt", "H") == ("PC",)
    assert tokens_of("iso", "butt", "vertical") == tokens_of("aws", "butt", "V") == ("PF", "PG")
