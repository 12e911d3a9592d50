"""Beads placed in a region, layer by layer from the root, so that each is about as wide as beads are."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from wps.sketch.frame import Point
from wps.sketch.region import Region

SHAPE = 1.6
"""A bead is drawn about so many times as wide as it is high."""
STEPS = 8
ROOT_SAG, CAP_RISE, BOW = 0.08, 0.05, 0.12
"""Sag of an open root and rise of a face, as a share of the height or width there; bow of a side of a bead."""


@dataclass(frozen=True, slots=True)
class Shape:
    """The outline of one bead in the joint [mm], its middle, and about how high it is."""

    outline: tuple[Point, ...]
    middle: Point
    height: float


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: from v = low to v = high, beside each other so many beads."""

    low: float
    high: float
    beads: int
    first: bool
    last: bool


def layers(region: Region, beads: int) -> tuple[Layer, ...]:
    """The layers whose beads come nearest to the shape of a bead. Their beads add up to `beads`, at least one in each.

    Example: three beads in a fillet are one at the root and two on it.
    """
    best = min(range(1, beads + 1), key=lambda count: _unlikeness(region, _shares(region, beads, count)))
    numbers = _shares(region, beads, best)
    step = region.height / best
    return tuple(
        Layer(region.start + i * step, region.start + (i + 1) * step, n, i == 0, i == best - 1)
        for i, n in enumerate(numbers)
    )


def _shares(region: Region, beads: int, count: int) -> list[int]:
    """Beads of each layer in proportion to its width, by largest remainders, at least one."""
    step = region.height / count
    widths = [region.width(region.start + (i + 0.5) * step) for i in range(count)]
    spare = beads - count
    exact = [spare * width / sum(widths) for width in widths]
    found = [int(share) for share in exact]
    order = sorted(range(count), key=lambda i: (found[i] - exact[i], -i))
    for i in order[: spare - sum(found)]:
        found[i] += 1
    return [1 + extra for extra in found]


def _unlikeness(region: Region, numbers: Sequence[int]) -> float:
    step = region.height / len(numbers)
    widths = [region.width(region.start + (i + 0.5) * step) for i in range(len(numbers))]
    each = [abs(log(width / n / step / SHAPE)) * n for width, n in zip(widths, numbers, strict=True)]
    return sum(each) / sum(numbers)


def shapes(region: Region, beads: int) -> list[Shape]:
    """The beads in the order of welding: root first, each layer from left to right of the region."""
    return [_shape(region, layer, i) for layer in layers(region, beads) for i in range(layer.beads)]


def _shape(region: Region, layer: Layer, at: int) -> Shape:
    """Lower edge, right side, upper edge backwards, left side backwards."""
    left, right = at / layer.beads, (at + 1) / layer.beads
    lower = [_low_point(region, layer, left + (right - left) * i / STEPS) for i in range(STEPS + 1)]
    upper = [_high_point(region, layer, left + (right - left) * i / STEPS, i / STEPS) for i in range(STEPS + 1)]
    sides = [_side(region, layer, share, layer.beads) for share in (left, right)]
    outline = (*lower, *sides[1], *reversed(upper), *reversed(sides[0]))
    centre = (left + right) / 2
    low, high = _low_point(region, layer, centre), _high_point(region, layer, centre, 0.5)
    # A bead that widens has its middle nearer to its surface.
    up = 0.5 + 0.12 * (1 - region.width(layer.low) / region.width(layer.high))
    middle = (low[0] + (high[0] - low[0]) * up, low[1] + (high[1] - low[1]) * up)
    return Shape(outline, middle, layer.high - layer.low)


def _low_point(region: Region, layer: Layer, share: float) -> Point:
    if not layer.first:
        return region.at(share, layer.low, _rise(region, layer.low, share))
    sag = ROOT_SAG * region.height if region.open_root else 0.0
    return region.at(share, layer.low, -sag * 4 * share * (1 - share))


def _high_point(region: Region, layer: Layer, share: float, own: float) -> Point:
    """The surface of the layer, and on it the small hill of the bead itself."""
    hill = 0.12 * (layer.high - layer.low) * 4 * own * (1 - own)
    return region.at(share, layer.high, _rise(region, layer.high, share) + (hill if layer.beads > 1 else 0.0))


def _rise(region: Region, v: float, share: float) -> float:
    return CAP_RISE * region.width(v) * 4 * share * (1 - share)


def _side(region: Region, layer: Layer, share: float, beads: int) -> list[Point]:
    """The side of a bead from below upwards, ends left out: the face itself, or a bow between two beads."""
    inner = 0 < share < 1
    found = []
    for i in range(1, STEPS // 2):
        s = i / (STEPS // 2)
        v = layer.low + (layer.high - layer.low) * s
        bow = BOW / beads * 4 * s * (1 - s) if inner else 0.0
        lift = _rise(region, layer.low, share) * (1 - s) + _rise(region, layer.high, share) * s if inner else 0.0
        found.append(region.at(share + bow, v, lift))
    return found
