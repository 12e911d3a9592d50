"""The room that weld metal fills: of a groove from its root to its face, of a fillet from the corner to its throat."""

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from wps.sketch.frame import Placement, Point
from wps.sketch.groove import Groove, groove_of
from wps.sketch.preparation import Arrangement, Preparation

DIAGONAL = 1 / sqrt(2)
LEAST_WIDTH = 1.2
"""A groove without a gap still has molten edges at its root [mm]."""


@dataclass(frozen=True, slots=True)
class Region:
    """Where beads lie, in local coordinates: v from start (root) to end (face), u between the edges at v."""

    placement: Placement
    start: float
    end: float
    edges: Callable[[float], tuple[float, float]]
    open_root: bool = False

    @property
    def height(self) -> float:
        """From root to face [mm]."""
        return self.end - self.start

    def width(self, v: float) -> float:
        """The width at v [mm]."""
        left, right = self.edges(v)
        return right - left

    def at(self, share: float, v: float, rise: float = 0.0) -> Point:
        """The point at a share of the width (0 left, 1 right) at v, lifted by a rise."""
        left, right = self.edges(v)
        return self.placement.at(left + share * (right - left), v + rise)


def groove_placement(one: Preparation) -> Placement:
    """A butt joint with its face up; a prepared edge on a through plate with its face to the right."""
    groove = groove_of(one)
    if one.arrangement is Arrangement.BUTT:
        return Placement((0.0, groove.thickness), (1.0, 0.0), (0.0, -1.0))
    # u = -gap/2 lies on the surface of the through plate (y = 0); v runs through the prepared part.
    return Placement((-groove.thickness / 2, -groove.gap / 2), (0.0, -1.0), (1.0, 0.0))


def groove_regions(one: Preparation) -> tuple[Region, ...]:
    """The first side of a groove, and the second where it is prepared or welded from both."""
    groove = groove_of(one)
    place = groove_placement(one)
    far = Placement(place.at(0, groove.thickness), place.across, (-place.outward[0], -place.outward[1]))
    split = _split(one, groove)
    face = min(groove.thickness, split + float(one.filled)) if one.filled else groove.thickness
    first = Region(place, split, face, _melted(groove), open_root=_is_open(one, split))
    if split <= 0 or not (one.is_double or one.both_sides):
        return (first,)
    start = groove.thickness - (groove.low if not one.full_penetration and one.is_double else split)

    def turned(v: float) -> tuple[float, float]:
        return _melted(groove)(groove.thickness - v)

    return first, Region(far, start, groove.thickness, turned)


def _split(one: Preparation, groove: Groove) -> float:
    """Where the first side's weld starts."""
    if not one.full_penetration:
        return groove.high if groove.high < groove.thickness else groove.thickness * 0.4
    if one.is_double:
        return (groove.low + groove.high) / 2
    return groove.thickness / 2 if one.both_sides and one.form == "square" else 0.0


def _is_open(one: Preparation, split: float) -> bool:
    return one.full_penetration and split == 0 and not one.backing


def _melted(groove: Groove) -> Callable[[float], tuple[float, float]]:
    """The edges of the weld: those of the groove, but never narrower than what melts."""
    square = groove.high >= groove.thickness
    least = max(LEAST_WIDTH, groove.thickness / 3 if square else groove.thickness / 12)

    def edges(v: float) -> tuple[float, float]:
        left, right = groove.edges(v)
        lack = max(0.0, least - (right - left)) / 2
        return left - lack, right + lack

    return edges


def fillet_region(corner: Point, out: Point, across: Point, throat: float) -> Region:
    """A fillet of two equal legs at a right angle: `out` points from the corner to its face."""
    place = Placement(corner, (across[0] * DIAGONAL, across[1] * DIAGONAL), (out[0] * DIAGONAL, out[1] * DIAGONAL))
    return Region(place, 0.0, throat, lambda v: (-v, v))
