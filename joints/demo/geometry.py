"""Axis and face of the welds of one family of beams, and their sections: what a turning plan is made from.

Tables: sections.csv (marks and sizes [mm]), geometry.csv (joints of a member; places as shares of the sizes).
"""

from decimal import Decimal

from joints.demo.tables import Row, rows
from joints.models import Assembly, AssemblyGeometry, Joint, JointGeometry

CENT = Decimal("0.01")
SIZES = ("depth", "width", "web", "flange", "length")


def load_geometry() -> None:
    """The sections and the geometries of their joints; joints beyond those of the member state none."""
    places = {row["number"]: row for row in rows("geometry")}
    for section in rows("sections"):
        for assembly in Assembly.objects.filter(mark__in=section["marks"].split()):
            sizes = {f"{name}_mm": Decimal(section[name]) for name in SIZES}
            AssemblyGeometry.objects.create(assembly=assembly, section=section["section"], **sizes)
            for joint in assembly.joints.filter(number__in=places):
                _place(joint, places[joint.number], section)


def _place(joint: Joint, row: Row, section: Row) -> None:
    axis, face = ([Decimal(part) for part in row[name].split()] for name in ("axis", "face"))
    JointGeometry.objects.create(
        joint=joint,
        axis_x=axis[0],
        axis_y=axis[1],
        axis_z=axis[2],
        face_x=face[0],
        face_y=face[1],
        face_z=face[2],
        across_mm=_share(row["across"], section),
        up_mm=_share(row["up"], section),
        along_mm=_share(row["along"], section),
    )


def _share(text: str, section: Row) -> Decimal:
    """A share of a size. Example: "-0.5 web" of a web of 11 mm is -5.5."""
    times, _, name = text.partition(" ")
    return (Decimal(times) * Decimal(section[name])).quantize(CENT)
