"""From the places of a joint in mm to the places of ink: local axes of a weld, and the scale of the drawing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Point = tuple[float, float]
PX_PER_MM = 96 / 25.4
"""CSS pixels in a millimetre of paper."""
RATIOS = (10, 8, 7, 6, 5, 4.5, 4, 3.5, 3, 2.5, 2.25, 2, 1.75, 1.5, 1.25, 1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1)
"""Scales that are drawn in; 2 is twice the true size on paper."""


@dataclass(frozen=True, slots=True)
class Placement:
    """Local axes of a weld in the joint [mm]: u across it, v from the root outwards. x runs right, y down."""

    origin: Point
    across: Point
    outward: Point

    def at(self, u: float, v: float) -> Point:
        """The point of the joint with these local coordinates."""
        return (
            self.origin[0] + u * self.across[0] + v * self.outward[0],
            self.origin[1] + u * self.across[1] + v * self.outward[1],
        )


@dataclass(frozen=True, slots=True)
class Margins:
    """Room for labels around the joint [px]."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Canvas:
    """The scale [px per mm] and where the joint's origin lies [px]."""

    scale: float
    left: float
    top: float

    def at(self, point: Point) -> Point:
        """The pixel of a point of the joint."""
        return self.left + point[0] * self.scale, self.top + point[1] * self.scale

    def all(self, points: Iterable[Point]) -> list[Point]:
        """The pixels of several points."""
        return [self.at(point) for point in points]


def fit(points: Sequence[Point], width: float, height: float, margins: Margins) -> Canvas:
    """The largest neat scale at which the points fit between the margins, centred there."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    room_x, room_y = width - margins.left - margins.right, height - margins.top - margins.bottom
    most = min(room_x / wide, room_y / high)
    scale = next((r * PX_PER_MM for r in RATIOS if r * PX_PER_MM <= most), most)
    left = margins.left + (room_x - wide * scale) / 2 - min(xs) * scale
    top = margins.top + (room_y - high * scale) / 2 - min(ys) * scale
    return Canvas(scale, left, top)
