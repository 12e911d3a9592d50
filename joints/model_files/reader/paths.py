"""The run of a weld: its points in the world, its length and direction. Units: mm."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from joints.model_files.reader.shapes import DEEPEST, Vector, outline_points

STRAIGHT = 0.999
"""Cosine: a path whose pieces all run within about 2.5 degrees of the whole is straight."""
MOST_POINTS = 5000


@dataclass(frozen=True, slots=True)
class Path:
    """Points in their order, at least two."""

    points: Vector

    @property
    def length(self) -> float:
        """Along the points."""
        return float(np.linalg.norm(np.diff(self.points, axis=0), axis=1).sum())

    @property
    def middle(self) -> Vector:
        """Half-way along a straight one."""
        return (self.points[0] + self.points[-1]) / 2

    @property
    def direction(self) -> Vector | None:
        """The unit vector of a straight path, None for a bent or closed one."""
        whole = self.points[-1] - self.points[0]
        size = np.linalg.norm(whole)
        if size < 1e-6:
            return None
        pieces = np.diff(self.points, axis=0)
        sizes = np.linalg.norm(pieces, axis=1)
        along = pieces[sizes > 1e-9] @ whole / (sizes[sizes > 1e-9] * size)
        return whole / size if np.all(along > STRAIGHT) else None


def path_of(weld: Any, mm: float) -> Path | None:
    """The path of a weld: of its axis, of a body that is extruded or swept, else of its connection curve."""
    found = _own_path(weld, mm)
    return found if found is not None else _connection(weld, mm)


def _own_path(weld: Any, mm: float) -> Path | None:
    from ifcopenshell.util.placement import get_local_placement

    if weld.Representation is None or weld.ObjectPlacement is None:
        return None
    place = get_local_placement(weld.ObjectPlacement)
    shapes = {one.RepresentationIdentifier: one for one in weld.Representation.Representations}
    for name in ("Axis", "Body"):
        for item in shapes[name].Items if name in shapes else ():
            points = curve_points(item, 0) if name == "Axis" else _body_points(item)
            if points is not None and 2 <= len(points) <= MOST_POINTS:
                return _placed(points, place, mm)
    return None


def _connection(weld: Any, mm: float) -> Path | None:
    """The curve where two parts meet; it is in the coordinates of the relating part, not in those of the weld."""
    from ifcopenshell.util.placement import get_local_placement

    for relation in weld.IsConnectionRealization or ():
        geometry, part = relation.ConnectionGeometry, relation.RelatingElement
        if geometry is None or not geometry.is_a("IfcConnectionCurveGeometry") or part.ObjectPlacement is None:
            continue
        points = curve_points(geometry.CurveOnRelatingElement, 0)
        if points is not None and 2 <= len(points) <= MOST_POINTS:
            return _placed(points, get_local_placement(part.ObjectPlacement), mm)
    return None


def curve_points(curve: Any, deep: int) -> Vector | None:
    """The points of a curve in units of the file, None for a kind that is not read."""
    if deep > DEEPEST:
        return None
    if curve.is_a("IfcCompositeCurve"):
        return _composite(curve, deep)
    if curve.is_a("IfcTrimmedCurve") and curve.BasisCurve.is_a("IfcLine"):
        ends = [next((one for one in trim if hasattr(one, "Coordinates")), None) for trim in (curve.Trim1, curve.Trim2)]
        return None if None in ends else np.array([_three(one.Coordinates) for one in ends])
    if curve.is_a("IfcIndexedPolyCurve") and any(one.is_a("IfcArcIndex") for one in curve.Segments or ()):
        return None
    points = outline_points(curve)
    return None if points is None else np.array([_three(point) for point in points])


def _composite(curve: Any, deep: int) -> Vector | None:
    """The points of a curve of curves. Given up at the first part that is not read, or once there are too many.

    A part may be named many times, and hold parts itself: a few lines stand for more points than ever end.
    """
    parts: list[Vector] = []
    for segment in curve.Segments:
        part = _segment(segment, deep)
        if part is None or not len(part) or sum(map(len, parts)) + len(part) > MOST_POINTS:
            return None
        parts.append(part)
    return np.vstack(parts) if parts else None


def _segment(segment: Any, deep: int) -> Vector | None:
    if not hasattr(segment, "ParentCurve"):
        return None
    points = curve_points(segment.ParentCurve, deep + 1)
    return points if points is None or segment.SameSense else points[::-1]


def _body_points(item: Any) -> Vector | None:
    """The axis of a body: of an extrusion its middle line, of a swept disk its directrix."""
    from ifcopenshell.util.placement import get_axis2placement

    if item.is_a("IfcSweptDiskSolid"):
        return curve_points(item.Directrix, 0)
    if not item.is_a("IfcExtrudedAreaSolid"):
        return None
    matrix = get_axis2placement(item.Position) if item.Position is not None else np.eye(4)
    along = np.array(item.ExtrudedDirection.DirectionRatios, dtype=float)
    end = along / np.linalg.norm(along) * float(item.Depth)
    return np.array([(matrix @ np.append(point, 1.0))[:3] for point in (np.zeros(3), end)])


def _placed(points: Vector, place: Vector, mm: float) -> Path:
    return Path(np.array([(place @ np.append(point, 1.0))[:3] for point in points]) * mm)


def _three(point: Any) -> tuple[float, float, float]:
    return (*point, 0.0, 0.0)[:3] if len(point) < 3 else tuple(point[:3])  # type: ignore[return-value]
