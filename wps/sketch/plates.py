"""The parts of a joint as outlines [mm], with the edges at which they are cut off for the drawing."""

from dataclasses import dataclass, field
from math import sqrt

from wps.sketch.frame import Point
from wps.sketch.groove import groove_of
from wps.sketch.preparation import Arrangement, Preparation
from wps.sketch.region import Region, fillet_region, groove_placement

LEAST, SHARE = 7.0, 0.6
"""The length of a part that is shown beside a weld: at least so many mm, and so much of its thickness."""


@dataclass(frozen=True, slots=True)
class Scene:
    """Outlines of parts, cut edges (pairs of points), the corners with fillets (first one numbered), what lies behind.

    `first` and `second`: the edge of each part along which its thickness is measured.
    """

    parts: tuple[tuple[Point, ...], ...]
    cuts: tuple[tuple[Point, Point], ...]
    first: tuple[Point, Point]
    second: tuple[Point, Point]
    fillets: tuple[Region, ...] = ()
    behind: tuple[tuple[Point, ...], ...] = ()
    backing: tuple[tuple[Point, ...], ...] = field(default=())

    @property
    def points(self) -> list[Point]:
        """All points, to fit the drawing."""
        return [p for outline in (*self.parts, *self.behind, *self.backing) for p in outline]


def scene(one: Preparation) -> Scene:
    """The parts of a joint where they stand."""
    if one.arrangement is Arrangement.BUTT:
        return _butt(one)
    if not one.is_fillet:
        return _prepared(one)
    if one.arrangement is Arrangement.LAP:
        return _lap(one)
    if one.arrangement is Arrangement.CORNER:
        return _corner(one)
    return _end_plate(one) if one.arrangement is Arrangement.END_PLATE else _standing(one)


def throat(one: Preparation) -> float:
    """The throat that a fillet is drawn with [mm]; where none is stated, half the thinner part."""
    if one.throat is not None:
        return float(one.throat)
    if one.leg is not None:
        return float(one.leg) / sqrt(2)
    return min(float(one.t1), float(one.t2)) / 2


def _rest(thickness: float) -> float:
    """How much of a part is shown beyond its weld."""
    return max(SHARE * thickness, LEAST)


def _box(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _butt(one: Preparation) -> Scene:
    groove, place = groove_of(one), groove_placement(one)
    t, t1, t2 = groove.thickness, float(one.t1), float(one.t2)
    reach = max(abs(u) for side in (0, 1) for u, _ in groove.face(side)) + _rest(max(t1, t2))
    left = [place.at(u, v) for u, v in groove.face(0)]
    right = [place.at(u, v) for u, v in groove.face(1)]
    parts = (
        (*left, (-reach, 0.0), (-reach, t1), *_taper(left[0], -1, t1 - t)),
        (*right, (reach, 0.0), (reach, t2), *_taper(right[0], 1, t2 - t)),
    )
    edges = (((-reach, 0.0), (-reach, t1)), ((reach, 0.0), (reach, t2)))
    return Scene(parts, edges, *edges, backing=_backing(one, groove.gap, t))


def _taper(root: Point, way: int, step: float) -> tuple[Point, ...]:
    """The underside of a thicker part slopes to the root of the thinner one."""
    return ((root[0] + way * 2 * step, root[1] + step),) if step > 0 else ()


def _backing(one: Preparation, gap: float, under: float) -> tuple[tuple[Point, ...], ...]:
    if not one.backing or one.is_double:
        return ()
    half, thick = gap / 2 + max(8.0, under * 0.5), max(3.0, under * 0.25)
    return (_box(-half, under, half, under + thick),)


def _prepared(one: Preparation) -> Scene:
    """A part with a prepared edge on a through plate; in a corner joint the plate ends flush with the face."""
    groove, place = groove_of(one), groove_placement(one)
    t1, t2 = groove.thickness, float(one.t2)
    edge = [place.at(u, v) for u, v in groove.face(1)]
    top = min(y for _, y in edge) - _rest(t1)
    reach = t1 / 2 + _rest(t1) + groove.opening / 3
    right = t1 / 2 if one.arrangement is Arrangement.CORNER else reach
    parts = ((*edge, (t1 / 2, top), (-t1 / 2, top)), _box(-reach, 0.0, right, t2))
    cuts = [((-t1 / 2, top), (t1 / 2, top)), ((-reach, 0.0), (-reach, t2))]
    through = ((right, 0.0), (right, t2))
    if right == reach:
        cuts.append(through)
    return Scene(parts, tuple(cuts), cuts[0], through)


def _standing(one: Preparation) -> Scene:
    """A part standing on a plate: T-joint, cruciform joint, stiffener on a flange with the web behind."""
    t1, t2, a = float(one.t1), float(one.t2), throat(one)
    leg = a * sqrt(2)
    high, reach = leg + _rest(t1), t1 / 2 + leg + _rest(t1)
    parts = [_box(-t1 / 2, -high, t1 / 2, 0.0), _box(-reach, 0.0, reach, t2)]
    cuts = [((-t1 / 2, -high), (t1 / 2, -high)), ((-reach, 0.0), (-reach, t2)), ((reach, 0.0), (reach, t2))]
    fillets = [_fillet((t1 / 2, 0.0), 1, -1, a)]
    if one.both_sides:
        fillets.append(_fillet((-t1 / 2, 0.0), -1, -1, a))
    if one.arrangement is Arrangement.CRUCIFORM:
        parts.append(_box(-t1 / 2, t2, t1 / 2, t2 + high))
        cuts.append(((-t1 / 2, t2 + high), (t1 / 2, t2 + high)))
        fillets += [_fillet((t1 / 2, t2), 1, 1, a), _fillet((-t1 / 2, t2), -1, 1, a)]
    behind = (_box(-reach, -high, reach, 0.0),) if one.arrangement is Arrangement.STIFFENER else ()
    return Scene(tuple(parts), tuple(cuts), cuts[0], cuts[2], tuple(fillets), behind)


def _fillet(corner: Point, x: int, y: int, a: float) -> Region:
    """A fillet whose first bead of a layer lies on the plate, the last on the standing part."""
    return fillet_region(corner, (x, y), (-x, y), a)


def _end_plate(one: Preparation) -> Scene:
    """A flange or web ending on an end plate, welded on both sides."""
    t1, t2, a = float(one.t1), float(one.t2), throat(one)
    leg = a * sqrt(2)
    long, half = leg + _rest(t1), t1 / 2 + leg + _rest(t1)
    parts = (_box(-long, -t1 / 2, 0.0, t1 / 2), _box(0.0, -half, t2, half))
    cuts = (((-long, -t1 / 2), (-long, t1 / 2)), ((0.0, -half), (t2, -half)), ((0.0, half), (t2, half)))
    fillets = [fillet_region((0.0, -t1 / 2), (-1, -1), (-1, 1), a)]
    if one.both_sides:
        fillets.append(fillet_region((0.0, t1 / 2), (-1, 1), (-1, -1), a))
    return Scene(parts, cuts, cuts[0], cuts[1], tuple(fillets))


def _lap(one: Preparation) -> Scene:
    """The upper part t1 ends on the lower part t2."""
    t1, t2, a = float(one.t1), float(one.t2), throat(one)
    leg = a * sqrt(2)
    over = float(one.overlap) if one.overlap else max(2 * min(t1, t2), leg + LEAST)
    left, right = -over - leg - _rest(t1), leg + _rest(t2)
    parts = (_box(left, -t1, 0.0, 0.0), _box(-over, 0.0, right, t2))
    cuts = (((left, -t1), (left, 0.0)), ((right, 0.0), (right, t2)))
    fillets = [_fillet((0.0, 0.0), 1, -1, min(a, t1 / sqrt(2)))]
    if one.both_sides:
        fillets.append(fillet_region((-over, 0.0), (-1, 1), (1, 1), min(a, t2 / sqrt(2))))
    return Scene(parts, cuts, *cuts, tuple(fillets))


def _corner(one: Preparation) -> Scene:
    """Two parts edge to edge, welded in the notch outside."""
    t1, t2 = float(one.t1), float(one.t2)
    reach = max(t1, t2, LEAST)
    a = min(throat(one), min(t1, t2) / sqrt(2))
    parts = (_box(-reach, 0.0, 0.0, t1), _box(0.0, t1, t2, t1 + reach))
    cuts = (((-reach, 0.0), (-reach, t1)), ((0.0, t1 + reach), (t2, t1 + reach)))
    return Scene(parts, cuts, *cuts, (_fillet((0.0, t1), 1, -1, a),))
