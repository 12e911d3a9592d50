"""The faces of a groove in local coordinates [mm]: u across, v from the root side (0) to the face (thickness)."""

from dataclasses import dataclass
from math import cos, radians, sin, sqrt, tan

from wps.sketch.preparation import Preparation

ARC_STEPS = 8


@dataclass(frozen=True, slots=True)
class Flank:
    """How far a face leaves the root edge at a distance from the root face [mm]. `beta`: angle to the depth [°]."""

    beta: float = 0.0
    radius: float = 0.0

    @property
    def arc_depth(self) -> float:
        """Where the root radius ends and the straight flank begins."""
        return self.radius * (1 - sin(radians(self.beta)))

    def offset(self, distance: float) -> float:
        """Example: Flank(30).offset(10) is 10 tan 30° = 5.77."""
        if distance <= 0:
            return 0.0
        if distance < self.arc_depth:
            return sqrt(self.radius**2 - (self.radius - distance) ** 2)
        return self.radius * cos(radians(self.beta)) + (distance - self.arc_depth) * tan(radians(self.beta))

    def stops(self, deepest: float) -> list[float]:
        """The distances at which a polyline needs points."""
        if not self.radius:
            return [0.0, deepest]
        bow = min(self.arc_depth, deepest)
        # Dense near the root, where the arc starts flat.
        arc = [bow * (step / ARC_STEPS) ** 2 for step in range(ARC_STEPS + 1)]
        return [*arc, deepest] if deepest > bow else arc


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove of a thickness: the gap, the band of the root face (from `low` to `high`), and the two flanks."""

    thickness: float
    gap: float
    low: float
    high: float
    left: Flank
    right: Flank

    def edges(self, v: float) -> tuple[float, float]:
        """The left and the right face at a depth."""
        away = max(0.0, v - self.high, self.low - v)
        return -self.gap / 2 - self.left.offset(away), self.gap / 2 + self.right.offset(away)

    @property
    def opening(self) -> float:
        """The width at the face. Example: V of 60°, gap 2, root face 1, t 12: 2 + 2 x 11 tan 30° = 14.7."""
        left, right = self.edges(self.thickness)
        return right - left

    def depths(self, flank: Flank) -> list[float]:
        """The v at which the polyline of a face has points, from the root side to the face."""
        above = [self.high + d for d in flank.stops(self.thickness - self.high)]
        below = [self.low - d for d in flank.stops(self.low)] if self.low else []
        return sorted({0.0, *below, *above})

    def face(self, side: int) -> list[tuple[float, float]]:
        """The polyline (u, v) of the left (0) or right (1) face."""
        return [(self.edges(v)[side], v) for v in self.depths((self.left, self.right)[side])]


def groove_of(one: Preparation) -> Groove:
    """The groove of a preparation. A double one is as deep on both sides unless its depth is stated (first side)."""
    thickness = float(one.t1) if one.arrangement.value != "butt" else min(float(one.t1), float(one.t2))
    gap = float(one.gap or 0)
    if one.form == "square":
        return Groove(thickness, gap, 0.0, thickness, Flank(), Flank())
    low, high = _root_band(one, thickness)
    angle, radius = float(one.angle or 0), float(one.radius or 0)
    both = one.form in ("v", "u")
    curved = radius if one.form in ("u", "j") else 0.0
    flank = Flank(angle / 2 if both else angle, curved)
    return Groove(thickness, gap, low, high, flank if both else Flank(), flank)


def _root_band(one: Preparation, thickness: float) -> tuple[float, float]:
    face = float(one.root_face or 0)
    if not one.is_double:
        return 0.0, thickness - float(one.depth) if one.depth else face
    first = float(one.depth) if one.depth else (thickness - face) / 2
    high = thickness - first
    return max(0.0, high - face), high
