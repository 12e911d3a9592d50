"""The body of a part as boxes, from extruded profiles: enough to tell thickness, faces and lengths. Units: mm.

A box is in the coordinates of its own profile (x and y of the profile, z along the extrusion); `matrix` takes it to the
world. Bodies of other kinds (faceted, swept along curves) give none: what they would say is then not stated.
"""

from dataclasses import dataclass, field
from itertools import count
from typing import Any

import numpy as np

DEEPEST = 20
"""Nested shapes; a file with more is not followed further."""
MOST_ITEMS = 1000
"""Items of the body of one part; of one that has more nothing is read."""
Vector = np.ndarray


@dataclass(slots=True)
class Box:
    """A cuboid: lower and upper corner, and the thickness that a weld on it meets."""

    low: Vector
    high: Vector
    thickness: float
    matrix: Vector

    def local(self, point: Vector) -> Vector:
        """A point of the world in the coordinates of the box."""
        return (np.linalg.inv(self.matrix) @ np.append(point, 1.0))[:3]

    def holds(self, point: Vector, slack: float) -> bool:
        """True for a point inside or up to `slack` [mm] outside."""
        at = self.local(point)
        return bool(np.all(at >= self.low - slack) and np.all(at <= self.high + slack))

    def normals(self, point: Vector, slack: float) -> list[Vector]:
        """The outward directions of the faces that a point lies on, in the world."""
        at, turn = self.local(point), self.matrix[:3, :3]
        found = []
        for axis in range(3):
            if abs(at[axis] - self.low[axis]) <= slack:
                found.append(-turn[:, axis])
            if abs(at[axis] - self.high[axis]) <= slack:
                found.append(turn[:, axis])
        return found

    def thin_direction(self) -> Vector:
        """The direction of its least size, in the world."""
        return self.matrix[:3, int(np.argmin(self.high - self.low))]

    def corners(self) -> list[Vector]:
        """Its corners in the world."""
        xs, ys, zs = zip(self.low, self.high, strict=True)
        return [(self.matrix @ np.array([x, y, z, 1.0]))[:3] for x in xs for y in ys for z in zs]


@dataclass(slots=True)
class Shape:
    """A part as boxes. `thickness`: where there is only one; `section`: kind and sizes of a member."""

    boxes: list[Box] = field(default_factory=list)
    thickness: float | None = None
    diameter: float | None = None
    is_hollow: bool = False
    section: dict[str, Any] = field(default_factory=dict)
    direction: Vector | None = None
    up: Vector | None = None
    centre: Vector | None = None
    length: float = 0.0


def shape_of(element: Any, mm: float) -> Shape:
    """The shape of an element; an empty one where its body is none that is read."""
    from ifcopenshell.util.placement import get_local_placement

    representation = getattr(element, "Representation", None)
    if representation is None:
        return Shape()
    place = get_local_placement(element.ObjectPlacement) if element.ObjectPlacement else np.eye(4)
    bodies = [one for one in representation.Representations if one.RepresentationIdentifier in ("Body", None)]
    solids = _solids([(item, np.eye(4), 0) for body in bodies for item in body.Items])
    if len(solids) != 1:
        return Shape()
    solid, within = solids[0]
    return _extruded(solid, place @ within, mm)


def _solids(items: list[tuple[Any, Vector, int]]) -> list[tuple[Any, Vector]]:
    """The extruded solids of items with where they stand; cuts are left away. None where there are too many items.

    An item: itself, where it stands, how deep it is nested. One may stand for many that each stand for many.
    """
    from ifcopenshell.util.placement import get_mappeditem_transformation

    found = []
    for looked_at in count():
        if not items:
            return found
        item, matrix, deep = items.pop()
        if looked_at >= MOST_ITEMS:
            break
        if deep > DEEPEST:
            continue
        if item.is_a("IfcExtrudedAreaSolid"):
            found.append((item, matrix))
        elif item.is_a("IfcBooleanResult") and item.Operator == "DIFFERENCE":
            items.append((item.FirstOperand, matrix, deep + 1))
        elif item.is_a("IfcMappedItem"):
            inner = matrix @ get_mappeditem_transformation(item)
            items += [(part, inner, deep + 1) for part in item.MappingSource.MappedRepresentation.Items]
    return []


def _extruded(solid: Any, matrix: Vector, mm: float) -> Shape:
    from ifcopenshell.util.placement import get_axis2placement

    if solid.Position is not None:
        matrix = matrix @ get_axis2placement(solid.Position)
    profile = solid.SweptArea
    if getattr(profile, "Position", None) is not None:
        matrix = matrix @ get_axis2placement(profile.Position)
    matrix = matrix.copy()
    matrix[:3, 3] *= mm
    along = np.array(solid.ExtrudedDirection.DirectionRatios, dtype=float)
    if abs(abs(along[2]) - np.linalg.norm(along)) > 1e-6 or np.linalg.norm(along) == 0:
        return Shape()
    depth = float(solid.Depth) * mm
    low, high = (0.0, depth) if along[2] > 0 else (-depth, 0.0)
    shape = Shape(direction=matrix[:3, 2], up=matrix[:3, 1], length=depth)
    shape.centre = (matrix @ np.array([0, 0, 0, 1.0]))[:3]
    _profile(shape, profile, depth, mm)
    for box in shape.boxes:
        box.low[2], box.high[2], box.matrix = low, high, matrix
    return shape


def _flat(shape: Shape, x: tuple[float, float], y: tuple[float, float], thickness: float) -> None:
    shape.boxes.append(Box(np.array([x[0], y[0], 0.0]), np.array([x[1], y[1], 0.0]), thickness, np.eye(4)))


def _profile(shape: Shape, profile: Any, depth: float, mm: float) -> None:
    """Fill in the boxes and sizes of a profile."""
    size = {name: float(value) * mm for name, value in profile.get_info().items() if isinstance(value, int | float)}
    for kind, fill in PROFILES:
        if profile.is_a(kind):
            fill(shape, size, depth, profile, mm)
            break
    thicknesses = {round(box.thickness, 3) for box in shape.boxes}
    if shape.thickness is None and len(thicknesses) == 1:
        shape.thickness = shape.boxes[0].thickness


def _hollow_rectangle(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    x, y, wall = size["XDim"], size["YDim"], size["WallThickness"]
    _flat(shape, (-x / 2, x / 2), (-y / 2, y / 2), wall)
    shape.is_hollow, shape.diameter, shape.thickness = True, min(x, y), wall
    shape.section = {"section": "box", "depth_mm": y, "width_mm": x, "web_mm": wall}


def _hollow_round(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    shape.is_hollow, shape.diameter, shape.thickness = True, 2 * size["Radius"], size["WallThickness"]
    shape.section = {"section": "round", "depth_mm": 2 * size["Radius"], "web_mm": size["WallThickness"]}


def _rectangle(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    x, y = size["XDim"], size["YDim"]
    _flat(shape, (-x / 2, x / 2), (-y / 2, y / 2), min(x, y, depth))


def _i(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    w, d, web, flange = (size[n] for n in ("OverallWidth", "OverallDepth", "WebThickness", "FlangeThickness"))
    _flat(shape, (-w / 2, w / 2), (d / 2 - flange, d / 2), flange)
    _flat(shape, (-w / 2, w / 2), (-d / 2, -d / 2 + flange), flange)
    _flat(shape, (-web / 2, web / 2), (-d / 2 + flange, d / 2 - flange), web)
    shape.section = {"section": "i", "depth_mm": d, "width_mm": w, "web_mm": web, "flange_mm": flange}


def _u(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    d, w, web, flange = (size[n] for n in ("Depth", "FlangeWidth", "WebThickness", "FlangeThickness"))
    _flat(shape, (-w / 2, w / 2), (d / 2 - flange, d / 2), flange)
    _flat(shape, (-w / 2, w / 2), (-d / 2, -d / 2 + flange), flange)
    _flat(shape, (-w / 2, -w / 2 + web), (-d / 2, d / 2), web)


def _l(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    d, t = size["Depth"], size["Thickness"]
    w = size.get("Width", d)
    _flat(shape, (-w / 2, w / 2), (-d / 2, -d / 2 + t), t)
    _flat(shape, (-w / 2, -w / 2 + t), (-d / 2, d / 2), t)


def _t(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    d, w, web, flange = (size[n] for n in ("Depth", "FlangeWidth", "WebThickness", "FlangeThickness"))
    _flat(shape, (-w / 2, w / 2), (d / 2 - flange, d / 2), flange)
    _flat(shape, (-web / 2, web / 2), (-d / 2, d / 2 - flange), web)


def _outline(shape: Shape, size: dict[str, float], depth: float, profile: Any, mm: float) -> None:
    """A plate of any outline: its thickness is the depth where that is the least size; the box is that around it."""
    points = outline_points(profile.OuterCurve)
    if points is None or len(points) < 3:
        return
    low, high = points.min(axis=0) * mm, points.max(axis=0) * mm
    if depth <= min(high - low):
        _flat(shape, (low[0], high[0]), (low[1], high[1]), depth)


def outline_points(curve: Any) -> Vector | None:
    """The corners of a polyline, in units of the file; None for other curves."""
    if curve.is_a("IfcPolyline"):
        return np.array([point.Coordinates for point in curve.Points], dtype=float)
    if curve.is_a("IfcIndexedPolyCurve"):
        return np.array(curve.Points.CoordList, dtype=float)
    return None


# The hollow and the asymmetric ones are kinds of the plain ones, so they stand first.
PROFILES = (
    ("IfcRectangleHollowProfileDef", _hollow_rectangle),
    ("IfcRectangleProfileDef", _rectangle),
    ("IfcCircleHollowProfileDef", _hollow_round),
    ("IfcIShapeProfileDef", _i),
    ("IfcUShapeProfileDef", _u),
    ("IfcLShapeProfileDef", _l),
    ("IfcTShapeProfileDef", _t),
    ("IfcArbitraryClosedProfileDef", _outline),
)
