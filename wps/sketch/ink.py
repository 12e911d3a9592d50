"""Marks of a sketch in pixels: parts, cut edges, dimension lines with arrows and figures, leaders, the scale bar."""

from collections.abc import Sequence
from decimal import Decimal
from math import hypot

from codes.units import System, amount_in
from register.base.draw import svg
from wps.sketch.frame import Canvas, Point

TEXT = 11
ARROW = 5.0
BARS = {
    System.SI: (100, 50, 20, 10, 5, 2, 1),
    System.US: tuple(Decimal("25.4") * Decimal(n) for n in ("4", "2", "1", "0.5", "0.25", "0.1", "0.05")),
}
LONGEST_BAR = 90.0
BEYOND = 6.0
"""How far a cut edge goes beyond the part at most [px]: the figures of the gap and the root face begin behind it."""


def points(found: Sequence[Point], closed: bool = True) -> str:
    """The path of a polyline."""
    steps = "L".join(f"{svg.pixels(x)} {svg.pixels(y)}" for x, y in found)
    return f"M{steps}{'Z' if closed else ''}"


def area(found: Sequence[Point], cls: str, fill: str, width: float = 1.2) -> str:
    """A filled outline."""
    return svg.path(points(found), cls, width, fill=fill)


def cut_edge(a: Point, b: Point) -> str:
    """A thin wavering line over the edge at which a part is cut off."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy) or 1.0
    nx, ny = -dy / length, dx / length
    over = min(0.15, BEYOND / length)
    out = [(-over, 0.0), (0.38, 0.0), (0.44, 4.0), (0.56, -4.0), (0.62, 0.0), (1 + over, 0.0)]
    path = [(a[0] + dx * s + nx * off, a[1] + dy * s + ny * off) for s, off in out]
    return svg.path(points(path, closed=False), "cut", 0.7)


def measure(a: Point, b: Point, away: Point, text: str, anchor: str = "", further: float = 0.0) -> str:
    """A dimension: extension lines from a and b, the line between them, arrows, and the figure beyond it.

    `away`: from the points to the dimension line [px]. Arrows stand outside where there is no room inside.
    `further`: how much farther than usual the figure stands from that line [px].
    """
    p, q = (a[0] + away[0], a[1] + away[1]), (b[0] + away[0], b[1] + away[1])
    size = hypot(*away) or 1.0
    ux, uy = away[0] / size, away[1] / size
    ends = [(end[0] + ux * 3, end[1] + uy * 3) for end in (p, q)]
    parts = [_thin(start, end) for start, end in zip((a, b), ends, strict=True)]
    parts += _arrows(p, q)
    x, y = (p[0] + q[0]) / 2 + ux * (7 + further), (p[1] + q[1]) / 2 + uy * (7 + further)
    if not anchor:
        anchor = "middle" if abs(ux) < 0.5 else "end" if ux < 0 else "start"
    drop = 4 if abs(uy) < 0.5 else 9 if uy > 0 else 0
    parts.append(svg.label(x, y + drop, text, anchor, "label dim", TEXT))
    return "".join(parts)


def _arrows(p: Point, q: Point) -> list[str]:
    length = hypot(q[0] - p[0], q[1] - p[1])
    inside = length > 4 * ARROW
    sx, sy = ((q[0] - p[0]) / length, (q[1] - p[1]) / length) if length else (1.0, 0.0)
    way = 1 if inside else -1
    over = 0.0 if inside else 3 * ARROW
    line = _thin((p[0] - sx * over, p[1] - sy * over), (q[0] + sx * over, q[1] + sy * over))
    return [line, _head(p, (sx * way, sy * way)), _head(q, (-sx * way, -sy * way))]


def _head(tip: Point, way: Point) -> str:
    """A slim filled arrow head at a tip, its body lying in direction `way`."""
    bx, by = tip[0] + way[0] * ARROW * 1.4, tip[1] + way[1] * ARROW * 1.4
    nx, ny = -way[1] * ARROW * 0.35, way[0] * ARROW * 0.35
    d = points([tip, (bx + nx, by + ny), (bx - nx, by - ny)])
    return svg.element("path", d=d, cls="arrow", fill="currentColor")


def leader(target: Point, text_at: Point, text: str, anchor: str) -> str:
    """A line from a dot at what is meant to the words about it."""
    gap = {"start": -3.0, "end": 3.0}.get(anchor, 0.0)
    dot = svg.element("circle", cx=target[0], cy=target[1], r=1.6, cls="dot", fill="currentColor")
    line = _thin(target, (text_at[0] + gap, text_at[1] - 4))
    return line + dot + svg.label(text_at[0], text_at[1], text, anchor, "label dim", TEXT)


def _thin(a: Point, b: Point) -> str:
    return svg.line(a[0], a[1], b[0], b[1], "thin", 0.7)


def scale_bar(canvas: Canvas, x: float, y: float, system: System) -> str:
    """A bar of a neat length, its right end at x, with its length in figures."""
    fits = [mm for mm in BARS[system] if float(mm) * canvas.scale <= LONGEST_BAR]
    mm = Decimal(fits[0] if fits else BARS[system][-1])
    long = float(mm) * canvas.scale
    half = long / 2
    black = svg.element("rect", x=x - long, y=y - 4, width=half, height=4, cls="bar", fill="currentColor")
    white = svg.element(
        "rect", x=x - half, y=y - 4, width=half, height=4, cls="bar open", fill="#fff", stroke="currentColor",
        stroke_width=0.7,
    )  # fmt: skip
    return black + white + svg.label(x - half, y - 7, amount_in(mm, "mm", system), "middle", "label scale", 10)
