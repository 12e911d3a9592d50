"""Outlines cut to a rectangle, for a view from close by."""

from collections.abc import Iterator, Sequence

from wps.sketch.frame import Point

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def clipped(outline: Sequence[Point], box: Box) -> list[Point]:
    """The part of an outline inside a box; empty where none is (Sutherland and Hodgman's way, side by side)."""
    left, top, right, bottom = box
    found = list(outline)
    for axis, end, keep_above in ((0, left, True), (0, right, False), (1, top, True), (1, bottom, False)):
        found = list(_against(found, axis, end, 1 if keep_above else -1))
    return found


def _against(outline: Sequence[Point], axis: int, end: float, way: int) -> Iterator[Point]:
    """What of an outline lies on the side of a line where way x coordinate is larger."""
    for i, here in enumerate(outline):
        before = outline[i - 1]
        inside, was_inside = ((p[axis] - end) * way >= 0 for p in (here, before))
        if inside != was_inside:
            share = (end - before[axis]) / (here[axis] - before[axis])
            yield (before[0] + (here[0] - before[0]) * share, before[1] + (here[1] - before[1]) * share)
        if inside:
            yield here


def holds(box: Box, point: Point) -> bool:
    """True where a point lies in the box or on its edge."""
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]
