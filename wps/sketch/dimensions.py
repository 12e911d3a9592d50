"""The dimensions of a preparation: thicknesses, gap, root face, angle, radius, depth; throat or leg of a fillet."""

from math import atan2, cos, hypot, pi, radians, sin, tan

from codes.units import System
from register.base.draw import svg
from register.base.pdf_text import width
from wps.sketch import ink
from wps.sketch.frame import Canvas, Placement, Point
from wps.sketch.groove import Groove, groove_of
from wps.sketch.plates import Scene
from wps.sketch.preparation import Arrangement, Preparation, Size
from wps.sketch.region import Region, groove_placement

AWAY = 12.0
BESIDE_EDGE = 5.0
"""How far words stand from the cut edge of a part [px]."""
ARC_BEYOND = 9.0
"""How far the arc of the angle lies beyond the face [px]."""


def dimensions(one: Preparation, scene: Scene, canvas: Canvas, system: System) -> list[str]:
    """All that is stated, with its figure. What is not stated has no mark."""
    found = _thicknesses(one, scene, canvas, system)
    return found + (_fillet if one.is_fillet else _groove)(one, scene, canvas, system)


def widest_thickness(one: Preparation, system: System) -> float:
    """How much room the words of a thickness take beside the joint, the arrow and white included [px]."""
    prefix = "t" if one.t1 == one.t2 else "t2"
    return AWAY + 11 + ink.TEXT * max(width(f"{prefix} {size.label(system)}") for size in (one.t1, one.t2))


def _thicknesses(one: Preparation, scene: Scene, canvas: Canvas, system: System) -> list[str]:
    same = one.t1 == one.t2
    first = [] if same and one.arrangement is Arrangement.BUTT else [(scene.second, one.t2, "t" if same else "t2")]
    asked = [(scene.first, one.t1, "t" if same else "t1"), *first]
    middle = _middle([canvas.at(point) for point in scene.points])
    return [
        _thickness(canvas.at(a), canvas.at(b), middle, f"{name} {size.label(system)}") for (a, b), size, name in asked
    ]


def _thickness(a: Point, b: Point, middle: Point, text: str) -> str:
    """The dimension lies on the outer side of the edge."""
    upright = abs(a[0] - b[0]) < abs(a[1] - b[1])
    axis = 0 if upright else 1
    way = 1 if (a[axis] + b[axis]) / 2 > middle[axis] else -1
    return ink.measure(a, b, (way * AWAY, 0.0) if upright else (0.0, way * AWAY), text)


def _middle(points: list[Point]) -> Point:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _groove(one: Preparation, scene: Scene, canvas: Canvas, system: System) -> list[str]:
    groove, place = groove_of(one), groove_placement(one)
    spot = _Spot(place, canvas, max(y for _, y in canvas.all(scene.points)))
    found = [_angle(one, groove, spot, system)] if one.angle and one.form in ("v", "bevel", "u", "j") else []
    if one.gap is not None:
        found.append(_gap(groove, spot, one.gap, one.arrangement is Arrangement.BUTT, system))
    return found + _notes(one, groove, spot, system)


class _Spot:
    """Local coordinates of a groove straight to pixels; `bottom` is the lowest pixel of the joint."""

    def __init__(self, place: Placement, canvas: Canvas, bottom: float) -> None:
        self.place, self.canvas, self.bottom = place, canvas, bottom

    def __call__(self, u: float, v: float) -> Point:
        return self.canvas.at(self.place.at(u, v))


def _gap(groove: Groove, spot: _Spot, gap: Size, upright: bool, system: System) -> str:
    """Below a butt joint; left of a prepared edge on a plate."""
    a, b = spot(-groove.gap / 2, 0.0), spot(groove.gap / 2, 0.0)
    text = f"gap {gap.label(system)}"
    if not upright:
        x, y = a[0] - AWAY, (a[1] + b[1]) / 2
        return ink.leader(((a[0] + b[0]) / 2 + 2, y), (x - 8, y - 12), text, "end")
    bar = ink.measure(a, b, (0.0, spot.bottom - a[1] + AWAY), "")
    reach = 3 * ink.ARROW + 3
    return bar + svg.label(a[0] - reach, spot.bottom + AWAY + 4, text, "end", "label dim", ink.TEXT)


def _notes(one: Preparation, groove: Groove, spot: _Spot, system: System) -> list[str]:
    """Root face, radius and depth by leaders: below a butt joint, left of a prepared edge."""
    asked: list[tuple[Point, str]] = []
    face = groove.high - groove.low
    if one.root_face is not None and one.form != "square":
        target = spot(groove.gap / 2, groove.low + face / 2)
        asked.append((target, f"root face {one.root_face.label(system)}"))
    if one.radius is not None and one.form in ("u", "j"):
        bow = groove.right.arc_depth * 0.4
        target = spot(groove.gap / 2 + groove.right.offset(bow), groove.high + bow)
        asked.append((target, f"radius {one.radius.label(system)}"))
    if one.depth is not None and one.form != "square":
        v = (groove.high + groove.thickness) / 2
        asked.append((spot(groove.edges(v)[1], v), f"depth {one.depth.label(system)}"))
    upright = one.arrangement is Arrangement.BUTT
    if upright:
        # The outermost first: a leader to a lower line then passes left of the words above it.
        asked.reverse()
    return [_note(spot, groove, upright, i, len(asked) - 1 - i, *note) for i, note in enumerate(asked)]


def _note(spot: _Spot, groove: Groove, upright: bool, at: int, after: int, target: Point, text: str) -> str:
    """Number `at` of the notes, with so many `after` it."""
    if upright:
        low = spot(groove.gap / 2, 0.0)
        return ink.leader(target, (low[0] + 24 + 16 * after, spot.bottom + AWAY + 4 + 15 * at), text, "start")
    left = spot(groove.gap / 2, 0.0)
    return ink.leader(target, (left[0] - 20, left[1] - 26 - 16 * at), text, "end")


def _angle(one: Preparation, groove: Groove, spot: _Spot, system: System) -> str:
    """The angle at the face: thin lines that lengthen the flanks, and an arc between them with its figure.

    A U or J has its angle between the straight flanks.
    """
    betas = (groove.left.beta, groove.right.beta)
    top = [spot(u, groove.thickness) for u in groove.edges(groove.thickness)]
    if not betas[0]:
        # A single edge: from the line through the top of the bevel's own root, square to the plate.
        root = spot(groove.gap / 2 + _bow(groove), groove.high)
        apex, first = root, spot(groove.gap / 2 + _bow(groove), groove.thickness)
    else:
        reach = groove.opening / 2 / tan(radians(betas[1]))
        apex, first = spot((groove.edges(groove.thickness)[0] + groove.edges(groove.thickness)[1]) / 2,
                           groove.thickness - reach), top[0]  # fmt: skip
    return _arc(apex, first, top[1], one.angle.label(system) if one.angle else "")


def _bow(groove: Groove) -> float:
    """Where the straight flank of a J, drawn on downwards, meets the root face's level."""
    flank = groove.right
    if not flank.radius:
        return 0.0
    return flank.offset(flank.arc_depth) - flank.arc_depth * tan(radians(flank.beta))


def _arc(apex: Point, first: Point, second: Point, text: str) -> str:
    radius = max(hypot(p[0] - apex[0], p[1] - apex[1]) for p in (first, second)) + ARC_BEYOND
    start, end = (atan2(p[1] - apex[1], p[0] - apex[0]) for p in (first, second))
    turn = (end - start + pi) % (2 * pi) - pi

    def at(share: float, beyond: float = 0.0) -> Point:
        way, far = start + turn * share, radius + beyond
        return apex[0] + far * cos(way), apex[1] + far * sin(way)

    lines = [svg.line(p[0], p[1], *at(share, 4.0), "thin", 0.7) for share, p in ((0.0, first), (1.0, second))]
    arc = svg.path(ink.points([at(i / 16) for i in range(17)], closed=False), "thin", 0.7)
    x, y = at(0.5, 8.0)
    side = cos(start + turn / 2)
    anchor = "start" if side > 0.5 else "middle"
    return "".join(lines) + arc + svg.label(x, y + (4 if anchor == "start" else 0), text, anchor, "label dim", ink.TEXT)


def _fillet(one: Preparation, scene: Scene, canvas: Canvas, system: System) -> list[str]:
    """The throat of the first fillet by a leader, or its leg where that is stated."""
    region = scene.fillets[0]
    found = []
    if one.throat is not None:
        beside = max((x for outline in scene.behind for x, _ in canvas.all(outline)), default=0.0)
        found.append(_throat(region, canvas, f"a {one.throat.label(system)}", beside))
    if one.leg is not None:
        end = max(x for x, _ in canvas.all(scene.points))
        found.append(_leg(region, canvas, f"z {one.leg.label(system)}", end))
    return found


def _throat(region: Region, canvas: Canvas, text: str, beside: float) -> str:
    """The words stand right of what lies `beside` the weld, behind it: its edge would go through them."""
    corner, face = (canvas.at(region.placement.at(0, v)) for v in (region.start, region.end))
    out = region.placement.outward
    along = svg.line(*corner, *face, "thin", 0.9)
    reach = face[0] + out[0] * 26 + (6 if out[0] > 0 else -6)
    label = (max(reach, beside + 8 if beside else reach), face[1] + out[1] * 16)
    return along + ink.leader(face, label, text, "start" if out[0] > 0 else "end")


def _leg(region: Region, canvas: Canvas, text: str, end: float) -> str:
    """Beside the weld, where nothing else is drawn: from the corner to the toe on the part that stands.

    The words go beyond the `end` of the part [px] where its cut edge would go through them.
    """
    corner = canvas.at(region.placement.at(0, 0))
    toes = [canvas.at(region.placement.at(edge, region.end)) for edge in region.edges(region.end)]
    toe = next(one for one in toes if abs(one[0] - corner[0]) < 0.5)
    beyond = max(abs(one[0] - corner[0]) for one in toes) + AWAY
    begin = corner[0] + beyond + 7
    crossed = begin - BESIDE_EDGE < end < begin + ink.TEXT * width(text)
    if region.placement.outward[0] < 0 or not crossed:
        return ink.measure(corner, toe, (beyond if region.placement.outward[0] > 0 else -beyond, 0.0), text)
    return ink.measure(corner, toe, (beyond, 0.0), text, further=end + BESIDE_EDGE - begin)
