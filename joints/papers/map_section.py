"""The section of a beam at turn 0 with the numbers of all its welds around it. Drawing only: floats are pixels."""

from collections.abc import Sequence
from dataclasses import dataclass

from joints.turning.drawing import outline_of
from joints.turning.models import AssemblyGeometry
from register.base.draw import svg

SIDE = 260.0
MIDDLE = SIDE / 2
ROOM = 70.0
"""From the middle to the furthest edge of the section [px]."""
STEP = 16.0
LETTER = 6.2
"""Height of a line of names, and width of a letter, at 11 px."""
NAMES = 5
"""Names in one line of a place."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where welds lie in the section [mm], and their numbers."""

    across: float
    up: float
    names: tuple[str, ...]


def numbered_section(geometry: AssemblyGeometry, places: Sequence[Place]) -> str:
    """The SVG: the outline, a dot at each place, its numbers beside the section on the same side."""
    outline = outline_of(geometry)
    reach = max(max(abs(x), abs(y)) for part in outline for x, y in part)
    reach = max([reach, *(max(abs(place.across), abs(place.up)) for place in places)])
    scale = ROOM / reach
    parts = [_part([(MIDDLE + x * scale, MIDDLE - y * scale) for x, y in part]) for part in outline]
    for side in (-1, 1):
        own = [place for place in places if (place.across < 0) == (side < 0)]
        parts += _names(sorted(own, key=lambda place: (-place.up, place.across)), side, scale)
    numbers = ", ".join(name for place in places for name in place.names)
    return svg.drawing(SIDE, SIDE, f"Section with the welds {numbers}", "section", parts)


def _part(points: Sequence[tuple[float, float]]) -> str:
    closed = len(points) > 2
    path = "M" + "L".join(f"{svg.pixels(x)} {svg.pixels(y)}" for x, y in points) + ("Z" if closed else "")
    return svg.path(path, "plate" if closed else "axis", 1, fill="#e4e4e1" if closed else "none")


def _names(places: Sequence[Place], side: int, scale: float) -> list[str]:
    """Names beside the section from the top down, pushed apart where they would touch; leaders to the places."""
    edge = MIDDLE + side * (ROOM + 14)
    heights = [STEP * len(_lines(place)) for place in places]
    tops: list[float] = []
    for place, height in zip(places, heights, strict=True):
        wish = MIDDLE - place.up * scale - height / 2
        tops.append(max([wish, *([tops[-1] + heights[len(tops) - 1]] if tops else [4.0])]))
    over = max(0.0, (tops[-1] + heights[-1] if tops else 0) - (SIDE - 4))
    parts = []
    for place, height, top in zip(places, heights, tops, strict=True):
        x, y, middle = MIDDLE + place.across * scale, MIDDLE - place.up * scale, top - over + height / 2
        parts.append(svg.line(edge - side * 3, middle, x, y, "leader", 0.6))
        parts.append(svg.element("circle", cx=x, cy=y, r=3, cls="weld", fill="currentColor"))
        for at, line in enumerate(_lines(place)):
            anchor = "start" if side > 0 else "end"
            parts.append(svg.label(edge, top - over + STEP * at + 12, line, anchor, "label value"))
    return parts


def _lines(place: Place) -> list[str]:
    """The names, a few in each line."""
    names = place.names
    return [", ".join(names[at : at + NAMES]) for at in range(0, len(names), NAMES)]
