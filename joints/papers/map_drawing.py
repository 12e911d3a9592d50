"""A beam in elevation with its welds, each with its number in a balloon. Drawing only: floats are pixels.

The beam lies as at turn 0, its start at the left. Near is what lies to the left of its axis in the section. A slender
beam is drawn higher than it is long; the drawing says how much.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from codes.units import System, amount_in
from register.base.draw import svg

WIDTH, LEFT, RIGHT = 720.0, 30.0, 30.0
HIGHEST, LOWEST = 150.0, 60.0
"""The most and the least height of the beam on the drawing [px]."""
BALLOON, ROW = 10.5, 26.0
SIZE = 11


@dataclass(frozen=True, slots=True)
class Mapped:
    """A weld on the map: number, its middle along and up from the axis [mm], how far it runs each way, near or far."""

    number: str
    along: float
    up: float
    run_along: float
    run_up: float
    far: bool


def elevation(length: Decimal, depth: Decimal, flange: Decimal | None, welds: Sequence[Mapped], system: System) -> str:
    """The SVG. Raises ValueError for a beam without length or depth."""
    if length <= 0 or depth <= 0:
        raise ValueError("the beam has no length or no depth")
    scale = (WIDTH - LEFT - RIGHT) / float(length)
    high = min(max(float(depth) * scale, LOWEST), HIGHEST)
    view = _View(scale, high / float(depth))
    above, below = _sides(welds)
    rows_above, rows_below = _placed(above, view), _placed(below, view)
    top = 14 + ROW * (1 + max((row for _, row in rows_above.values()), default=-1))
    view = _View(view.across, view.upwards, top + 12 + high / 2)
    height = top + 12 + high + 12 + ROW * (1 + max((row for _, row in rows_below.values()), default=-1)) + 40
    parts = [*_beam(length, depth, flange, view), *_balloons(above, rows_above, view, depth, -1)]
    parts += [*_balloons(below, rows_below, view, depth, 1), *(_weld(weld, view) for weld in welds)]
    parts += _scale_bar(view, height, system, length)
    numbers = ", ".join(weld.number for weld in welds)
    return svg.drawing(WIDTH, height, f"Elevation of the beam with the welds {numbers}", "elevation", parts)


@dataclass(frozen=True, slots=True)
class _View:
    """From millimetres to pixels; `middle` is the beam's axis."""

    across: float
    upwards: float
    middle: float = 0.0

    def x(self, along: float) -> float:
        return LEFT + along * self.across

    def y(self, up: float) -> float:
        return self.middle - up * self.upwards


def _sides(welds: Iterable[Mapped]) -> tuple[list[Mapped], list[Mapped]]:
    """Welds that get their balloon above the beam, and below it; one at half height where fewer stand at its place."""
    every = sorted(welds, key=lambda weld: (weld.along, -weld.up))
    is_above = {weld.number: weld.up > 0 for weld in every if weld.up != 0}
    for weld in (one for one in every if one.up == 0):
        beside = [is_above[one.number] for one in every if one.along == weld.along and one.number in is_above]
        is_above[weld.number] = beside.count(True) <= beside.count(False)
    return [weld for weld in every if is_above[weld.number]], [weld for weld in every if not is_above[weld.number]]


def _placed(welds: Sequence[Mapped], view: _View) -> dict[str, tuple[float, int]]:
    """Number -> where its balloon stands, from the left, in its row; where there is no room it takes the next row."""
    ends: list[float] = []
    found: dict[str, tuple[float, int]] = {}
    for weld in welds:
        half = _half(weld.number)
        wish = min(max(view.x(weld.along), LEFT - 12 + half), WIDTH - half - 6)
        row = next((at for at, end in enumerate(ends) if wish - half >= end + 4), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = wish + half
        found[weld.number] = wish, row
    return found


def _half(number: str) -> float:
    """Half the width of a balloon."""
    return max(BALLOON, 4 + 3.4 * len(number))


def _beam(length: Decimal, depth: Decimal, flange: Decimal | None, view: _View) -> list[str]:
    left, right, top, low = view.x(0), view.x(float(length)), view.y(float(depth) / 2), view.y(-float(depth) / 2)
    body = svg.element(
        "rect", x=left, y=top, width=right - left, height=low - top, cls="plate", fill="#f1f1ee", stroke="currentColor",
        stroke_width=1,
    )  # fmt: skip
    if not flange:
        return [body]
    thick = max(float(flange) * view.upwards, 3.0)
    return [body, svg.line(left, top + thick, right, top + thick, "edge", 0.8),
            svg.line(left, low - thick, right, low - thick, "edge", 0.8)]  # fmt: skip


def _weld(weld: Mapped, view: _View) -> str:
    """A thick line where it runs in the drawing, a dot where it runs towards the reader; far ones open or broken."""
    x, y = view.x(weld.along), view.y(weld.up)
    wide, high = weld.run_along * view.across / 2, weld.run_up * view.upwards / 2
    if wide < 2 and high < 2:
        fill = "#fff" if weld.far else "currentColor"
        return svg.element("circle", cx=x, cy=y, r=3.2, cls="weld", fill=fill, stroke="currentColor", stroke_width=1.2)
    dash = "4 3" if weld.far else ""
    return svg.element(
        "line", x1=x - wide, y1=y + high, x2=x + wide, y2=y - high, cls="weld", stroke="currentColor", stroke_width=3.4,
        stroke_dasharray=dash,
    )  # fmt: skip


def _balloons(
    welds: Sequence[Mapped], places: dict[str, tuple[float, int]], view: _View, depth: Decimal, side: int
) -> list[str]:
    """Leaders first, so that no line crosses a number."""
    edge = view.y(-side * float(depth) / 2)
    leaders, marks = [], []
    for weld in welds:
        wish, row = places[weld.number]
        y = edge + side * (20 + ROW * row)
        leaders.append(svg.line(wish, y, view.x(weld.along), view.y(weld.up), "leader", 0.6))
        marks.append(_balloon(wish, y, weld.number))
    return [*leaders, *marks]


def _balloon(x: float, y: float, number: str) -> str:
    half = _half(number)
    frame = svg.element(
        "rect", x=x - half, y=y - BALLOON, width=2 * half, height=2 * BALLOON, rx=BALLOON, cls="balloon", fill="#fff",
        stroke="currentColor", stroke_width=1,
    )  # fmt: skip
    return frame + svg.label(x, y + 4, number, "middle", "label value", SIZE)


def _scale_bar(view: _View, height: float, system: System, length: Decimal) -> list[str]:
    """A length that is easy to read, and how much higher than long the beam is drawn."""
    inch = Decimal("25.4")
    steps = [Decimal(n) * (12 * inch if system is System.US else 1000) for n in ("0.25", "0.5", "1", "2", "5", "10")]
    bar = max((step for step in steps if step <= length / 3), default=steps[0])
    y, x = height - 14, LEFT
    wide = float(bar) * view.across
    times = view.upwards / view.across
    said = amount_in(bar, "mm", system)
    parts = [
        svg.line(x, y, x + wide, y, "scale", 2.4),
        svg.line(x, y - 4, x, y + 4, "scale", 1),
        svg.line(x + wide, y - 4, x + wide, y + 4, "scale", 1),
        svg.label(x + wide / 2, y - 7, said, "middle", "label", SIZE),
    ]
    if abs(times - 1) > 0.05:
        words = f"heights drawn {times:.1f} times as large as lengths"
        parts.append(svg.label(x + wide + 14, y + 4, words, "start", "label", SIZE))
    return [
        *parts,
        svg.label(WIDTH - RIGHT, y + 4, "filled: near side; open or broken: far side", "end", "label", SIZE),
    ]
