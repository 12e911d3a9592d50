"""The section of a turned beam at a stop: its outline, the welds in it, those made there with the torch above them.

Seen from the end that the beam's axis points to, so that turns run anticlockwise. Drawing only: floats are pixels.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import cos, hypot, radians, sin

from codes.values import number
from joints.turning.models import AssemblyGeometry, Vector
from register.base.draw import svg

SIDE = 220
MIDDLE = SIDE / 2
ROOM = 62
"""From the middle to the furthest corner of the section [px]."""
RING = 100
TORCH = 20
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Spot:
    """A weld in the section at turn 0: name, place across and up [mm] or None, its face, and whether it is made now."""

    name: str
    place: tuple[Decimal, Decimal] | None
    face: Vector
    now: bool


def section_at(
    turn: Decimal, spots: Sequence[Spot], geometry: AssemblyGeometry | None, first: Decimal, last: Decimal, beam: Vector
) -> str:
    """The SVG of the section at a turn [degrees] on an arc."""
    outline = outline_of(geometry)
    scale = _scale(outline, spots)
    view = _View(float(turn), scale)
    parts = [*_ring(turn, first, last), *(_part(view, part) for part in outline), *_spots(view, spots, beam)]
    now = ", ".join(spot.name for spot in spots if spot.now)
    return svg.drawing(SIDE, SIDE, f"Section at a turn of {number(turn)}°; made there: {now}", "section", parts)


@dataclass(frozen=True, slots=True)
class _View:
    """From millimetres at turn 0 to pixels after the turn."""

    turn: float
    scale: float

    def at(self, across: float, up: float) -> Point:
        right, high = self.way(across, up)
        return MIDDLE + right * self.scale, MIDDLE - high * self.scale

    def way(self, across: float, up: float) -> Point:
        """A direction after the turn, upwards counted up."""
        c, s = cos(radians(self.turn)), sin(radians(self.turn))
        return across * c - up * s, across * s + up * c


def outline_of(geometry: AssemblyGeometry | None) -> list[list[Point]]:
    """The parts of the section as polygons [mm]; a small cross where it is not stated."""
    if geometry is None or not geometry.section:
        return [[(-60, 0), (60, 0)], [(0, -60), (0, 60)]]
    depth, width = float(geometry.depth_mm or 0), float(geometry.width_mm or geometry.depth_mm or 0)
    if geometry.section == "round":
        return [_circle(depth / 2)]
    if geometry.section == "box":
        wall = float(geometry.web_mm or 0)
        inside = [_rectangle(-width / 2 + wall, width / 2 - wall, -depth / 2 + wall, depth / 2 - wall)] if wall else []
        return [_rectangle(-width / 2, width / 2, -depth / 2, depth / 2), *inside]
    web, flange = float(geometry.web_mm or 0) / 2, float(geometry.flange_mm or 0)
    half, high = width / 2, depth / 2
    return [
        _rectangle(-half, half, high - flange, high),
        _rectangle(-half, half, -high, -high + flange),
        _rectangle(-web, web, -high + flange, high - flange),
    ]


def _rectangle(left: float, right: float, low: float, high: float) -> list[Point]:
    return [(left, low), (right, low), (right, high), (left, high)]


def _circle(radius: float) -> list[Point]:
    return [(radius * cos(radians(a)), radius * sin(radians(a))) for a in range(0, 360, 10)]


def _scale(outline: Iterable[Iterable[Point]], spots: Iterable[Spot]) -> float:
    """Pixels a millimetre, so that everything fits at every turn."""
    points = [point for part in outline for point in part]
    points += [(float(spot.place[0]), float(spot.place[1])) for spot in spots if spot.place is not None]
    return ROOM / max(hypot(*point) for point in points)


def _part(view: _View, points: Sequence[Point]) -> str:
    at = [view.at(*point) for point in points]
    path = "M" + "L".join(f"{svg.pixels(x)} {svg.pixels(y)}" for x, y in at) + ("Z" if len(points) > 2 else "")
    return svg.path(path, "plate" if len(points) > 2 else "axis", 1.2, fill="#fff" if len(points) > 2 else "none")


def _ring(turn: Decimal, first: Decimal, last: Decimal) -> list[str]:
    """The arc of the rotator around the section, its ends, and a pointer at the turn. Turn 0 is on top."""
    ends = [_on_ring(float(turn_), RING) for turn_ in (first, last)]
    if last - first >= 360:
        arc = svg.element("circle", cx=MIDDLE, cy=MIDDLE, r=RING, cls="axis", fill="none", stroke="currentColor")
    else:
        (x1, y1), (x2, y2) = ends
        large = 1 if last - first > 180 else 0
        way = f"M{svg.pixels(x1)} {svg.pixels(y1)}A{RING} {RING} 0 {large} 0 {svg.pixels(x2)} {svg.pixels(y2)}"
        arc = svg.path(way, "axis") if last > first else ""
    ticks = [svg.line(*_on_ring(float(t), RING - 4), *_on_ring(float(t), RING + 4), "tick") for t in (first, last)]
    x, y = _on_ring(float(turn), RING)
    pointer = svg.element("circle", cx=x, cy=y, r=4.5, cls="today", fill="currentColor")
    return [arc, *ticks, pointer]


def _on_ring(turn: float, radius: float) -> Point:
    return MIDDLE - radius * sin(radians(turn)), MIDDLE - radius * cos(radians(turn))


def _spots(view: _View, spots: Sequence[Spot], beam: Vector) -> list[str]:
    """The welds of one place together: filled where some of them are made now, with a torch and their names."""
    held: dict[tuple[Decimal, Decimal], list[Spot]] = {}
    for spot in spots:
        if spot.place is not None:
            held.setdefault(spot.place, []).append(spot)
    parts = []
    # What is made now is drawn over what is not.
    for place, here in sorted(held.items(), key=lambda item: any(spot.now for spot in item[1])):
        at = view.at(float(place[0]), float(place[1]))
        now = [spot for spot in here if spot.now]
        parts.append(_spot(at, bool(now)))
        if now:
            parts += _torch(at, view, now[0].face, beam, ", ".join(spot.name for spot in now))
    return parts


def _spot(at: Point, now: bool) -> str:
    x, y = at
    if now:
        return svg.element("circle", cx=x, cy=y, r=5, cls="weld", fill="currentColor")
    return svg.element("circle", cx=x, cy=y, r=3, cls="open", fill="#fff", stroke="currentColor", stroke_width=1)


def _torch(at: Point, view: _View, face: Vector, beam: Vector, names: str) -> list[str]:
    """A line from where the torch stands to the weld, as the face points in the section, and the names beyond it."""
    right, high = view.way(*in_section(face, beam))
    size = hypot(right, high)
    x, y = at
    if size < 0.05:
        return [svg.label(x + 9, y + 4, names, "start", "label value", 12)]
    right, high = right / size, high / size
    tip = svg.line(x + right * TORCH, y - high * TORCH, x, y, "way", 2)
    beyond = TORCH + 9
    return [tip, svg.label(x + right * beyond, y - high * beyond + 4, names, "middle", "label value", 12)]


def in_section(way: Vector, beam: Vector) -> Point:
    """A direction in the section: across and up at turn 0. Example: +z is straight up for any level beam."""
    e = [float(part) for part in beam]
    size = hypot(*e)
    e = [part / size for part in e]
    v = [float(part) for part in way]
    up = [-e[0] * e[2], -e[1] * e[2], 1 - e[2] ** 2]
    high = hypot(*up)
    if high < 1e-9:
        return v[0], v[1]
    up = [part / high for part in up]
    across = [up[1] * e[2] - up[2] * e[1], up[2] * e[0] - up[0] * e[2], up[0] * e[1] - up[1] * e[0]]
    return sum(a * b for a, b in zip(v, across, strict=True)), sum(a * b for a, b in zip(v, up, strict=True))
