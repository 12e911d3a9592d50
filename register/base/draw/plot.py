"""Curves over two axes as accessible SVG: title, description, direct labels, dashes that survive a grey photocopy.

The figures that are drawn are also handed to the page as a table, for whoever reads rather than looks. Decimals in,
pixels out; no unit is converted here.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from register.base.draw import svg
from register.base.draw.ruler import figure

WIDTH, HEIGHT = 360, 270
PAPER_WIDTH, PAPER_HEIGHT = 560, 172
"""Broad and low: a side of paper has room for letters that one can read. calculation.css prints it 160 mm wide."""
LEFT, RIGHT, TOP, BOTTOM = 46, 14, 22, 38
TICKS = 6
DASHES = ("", "7 3", "2 3", "8 3 2 3", "12 4", "4 2")
LETTER, LINE = 5.6, 12
"""Width of a letter of a label and height of its line [px], to keep labels inside the drawing and apart."""
Point = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis: its name, unit, and the figures at its ends. Raises ValueError unless hi is above lo."""

    name: str
    unit: str
    lo: Decimal
    hi: Decimal

    def __post_init__(self) -> None:
        if self.hi <= self.lo:
            raise ValueError(f"the axis {self.name} cannot run from {self.lo} to {self.hi}")

    @property
    def label(self) -> str:
        """Name and unit. Example: "Thickness [mm]"."""
        return f"{self.name} [{self.unit}]" if self.unit else self.name

    def share(self, value: Decimal) -> float:
        """Where a figure lies between the ends, 0 to 1."""
        return float((value - self.lo) / (self.hi - self.lo))


@dataclass(frozen=True, slots=True)
class Series:
    """A line with its name, drawn through its points in their order."""

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """A point that is asked about, with its words."""

    x: Decimal
    y: Decimal
    words: str


@dataclass(frozen=True, slots=True)
class Box:
    """A window of both variables, with its words."""

    x: tuple[Decimal, Decimal]
    y: tuple[Decimal, Decimal]
    words: str


@dataclass(frozen=True, slots=True)
class Plot:
    """What is drawn; `description` says in words what is to be seen."""

    title: str
    description: str
    x: Axis
    y: Axis
    series: tuple[Series, ...]
    marks: tuple[Mark, ...] = ()
    boxes: tuple[Box, ...] = ()
    width: int = WIDTH
    height: int = HEIGHT

    @property
    def svg(self) -> str:
        """The drawing."""
        return drawn(self)

    @property
    def on_paper(self) -> str:
        """The same drawing for a sheet."""
        return drawn(replace(self, width=PAPER_WIDTH, height=PAPER_HEIGHT))

    @property
    def heads(self) -> tuple[str, ...]:
        """The heads of the table alternative."""
        return (self.x.label, *(f"{one.name}, {self.y.label}" for one in self.series))

    @property
    def rows(self) -> list[tuple[str, ...]]:
        """The table alternative: every x that a line has a point at, and y on each line there."""
        held = [dict(one.points) for one in self.series]
        xs = sorted({x for points in held for x in points})
        return [(figure(x), *(figure(p[x]) if x in p else "" for p in held)) for x in xs]


def span(values: Sequence[Decimal], least: Decimal | None = None) -> tuple[Decimal, Decimal]:
    """Ends of an axis that hold all the values, on whole ticks. `least` pulls the lower end down to it.

    Example: span([1.2, 8.7]) gives 0 to 10.
    """
    lo, hi = min(values), max(values)
    lo = lo if least is None else min(lo, least)
    step = tick_step(lo, hi if hi > lo else lo + max(abs(lo), Decimal(1)))
    first = (lo / step).to_integral_value(ROUND_FLOOR) * step
    last = (hi / step).to_integral_value(ROUND_CEILING) * step
    return first, last if last > first else first + step


def tick_step(lo: Decimal, hi: Decimal) -> Decimal:
    """1, 2 or 5 times a power of ten, so that at most six steps fill the axis."""
    rough = (hi - lo) / TICKS
    power = Decimal(1).scaleb(rough.adjusted())
    return next(power * times for times in (1, 2, 5, 10) if power * times >= rough)


def drawn(plot: Plot) -> str:
    """The SVG of a plot."""
    parts = [svg.element("desc", svg.words(plot.description)), *_axes(plot)]
    parts += [_box(plot, box) for box in plot.boxes]
    parts += [_line(plot, one, DASHES[at % len(DASHES)]) for at, one in enumerate(plot.series)]
    # The names after all lines, so that none is crossed out by another's line.
    parts += _names(plot)
    parts += [_mark(plot, mark) for mark in plot.marks]
    return svg.drawing(plot.width, plot.height, plot.title, "plot", parts)


def _edge(plot: Plot) -> float:
    """Where the plot ends on the right: the names of several lines stand beside it, each at the end of its own."""
    return plot.width - RIGHT - (max(len(one.name) for one in plot.series) * LETTER if len(plot.series) > 1 else 0)


def _x(plot: Plot, value: Decimal) -> float:
    return LEFT + plot.x.share(value) * (_edge(plot) - LEFT)


def _y(plot: Plot, value: Decimal) -> float:
    return plot.height - BOTTOM - plot.y.share(value) * (plot.height - TOP - BOTTOM)


def _ticks(axis: Axis) -> list[Decimal]:
    step = tick_step(axis.lo, axis.hi)
    first = (axis.lo / step).to_integral_value(ROUND_CEILING) * step
    found = []
    while first <= axis.hi:
        found.append(first)
        first += step
    return found


def _axes(plot: Plot) -> list[str]:
    floor, ceiling = plot.height - BOTTOM, TOP
    parts = [svg.line(LEFT, floor, _edge(plot), floor, "axis"), svg.line(LEFT, ceiling, LEFT, floor, "axis")]
    for value in _ticks(plot.x):
        at = _x(plot, value)
        parts += [svg.line(at, floor, at, floor + 4, "tick"), svg.label(at, floor + 15, figure(value))]
    for value in _ticks(plot.y):
        at = _y(plot, value)
        parts.append(_grid(at, _edge(plot)))
        parts.append(svg.label(LEFT - 5, at + 4, figure(value), "end"))
    parts.append(svg.label(_edge(plot), plot.height - 5, plot.x.label, "end"))
    parts.append(svg.label(2, 11, plot.y.label, "start"))
    return parts


def _grid(y: float, edge: float) -> str:
    """A faint line across, of itself: sheets give the drawing no colours."""
    ends = {"x1": LEFT, "y1": y, "x2": edge, "y2": y}
    return svg.element("line", cls="grid", stroke="currentColor", stroke_width=0.5, stroke_opacity="0.3", **ends)


def _clipped(plot: Plot, points: Sequence[Point]) -> list[Point]:
    """The points, and where a line leaves the plot the point on its edge."""
    found: list[Point] = []
    for at, (x, y) in enumerate(points):
        inside = plot.y.lo <= y <= plot.y.hi
        if at and inside != (plot.y.lo <= points[at - 1][1] <= plot.y.hi):
            x0, y0 = points[at - 1]
            edge = plot.y.hi if max(y, y0) > plot.y.hi else plot.y.lo
            found.append((x0 + (x - x0) * (edge - y0) / (y - y0), edge))
        if inside:
            found.append((x, y))
    return found


def _line(plot: Plot, one: Series, dash: str) -> str:
    points = _clipped(plot, one.points)
    if len(points) < 2:
        return ""
    at = [(_x(plot, x), _y(plot, y)) for x, y in points]
    path = "M" + "L".join(f"{svg.pixels(x)} {svg.pixels(y)}" for x, y in at)
    return svg.element(
        "path", d=path, cls="curve", fill="none", stroke="currentColor", stroke_width=1.8, stroke_dasharray=dash
    )


def _names(plot: Plot) -> list[str]:
    """The name of each line: of one line above its end; of several beside the plot, or above it where they leave it."""
    ends = [(one.name, points[-1]) for one in plot.series if one.name and len(points := _clipped(plot, one.points)) > 1]
    places = [(name, _x(plot, x), _y(plot, y)) for name, (x, y) in ends]
    found, free = [], 0.0
    for name, x, y in sorted(places, key=lambda place: place[2]):
        if len(plot.series) == 1 or x < _edge(plot) - 1:
            found.append(svg.label(x, max(y - 5, TOP - 2), name, "end", "label name"))
        else:
            free = max(y + 4, free)
            found.append(svg.label(x + 4, free, name, "start", "label name"))
            free += LINE
    return found


def _box(plot: Plot, box: Box) -> str:
    (x0, x1), (y0, y1) = ((_x(plot, v) for v in box.x), (_y(plot, v) for v in box.y))
    shape = svg.element(
        "rect", x=x0, y=y1, width=max(x1 - x0, 1), height=max(y0 - y1, 1), cls="window", fill="currentColor",
        fill_opacity="0.15", stroke="currentColor", stroke_width=1.5,
    )  # fmt: skip
    return shape + svg.label((x0 + x1) / 2, (y0 + y1) / 2 + 4, box.words, cls="label value")


def _mark(plot: Plot, mark: Mark) -> str:
    x, y = _x(plot, mark.x), _y(plot, mark.y)
    dot = svg.element("circle", cx=x, cy=y, r=4.5, cls="mark", fill="currentColor")
    # The lines rise: above and to the left of the point, or below and to the right of it, none runs through the words.
    if x - 7 - len(mark.words) * LETTER > LEFT and y > TOP + 24:
        return dot + svg.label(x - 7, y - 7, mark.words, "end", "label value")
    room = _edge(plot) - x - 7 - len(mark.words) * LETTER
    return dot + svg.label(
        x + 7 + min(room, 0), min(y + 18, plot.height - BOTTOM - 4), mark.words, "start", "label value"
    )
