"""An interval drawn as a ruler, with the value that is asked about on it."""

from dataclasses import dataclass
from decimal import Decimal

from register.base.draw import shapes, svg

WIDTH, HEIGHT, EDGE, AXIS = 190, 40, 14, 19
LABEL_GAP = 6
DIGIT = 6.2
"""Width of a figure at the size of the labels [px]; figures are tabular."""


@dataclass(frozen=True, slots=True)
class Scale:
    """From numbers to pixels: `lo` lies at the left edge, `hi` at the right one."""

    lo: Decimal
    hi: Decimal

    def x(self, value: Decimal) -> float:
        """The pixel of a number."""
        share = (value - self.lo) / (self.hi - self.lo)
        return EDGE + float(share) * (WIDTH - 2 * EDGE)


def ruler(
    lo: Decimal | None,
    hi: Decimal | None,
    value: Decimal | None,
    unit: str = "",
    lo_open: bool = False,
    hi_open: bool = False,
    outcome: object = "covered",
    value_to: Decimal | None = None,
) -> str:
    """The interval lo..hi as a bar with its ends in figures, and the value (or value..value_to) on it.

    None means no end on that side (an arrow), an open end is a hollow ring. Without a value only the interval is drawn.
    Example: ruler(D(3), D(30), D(32), "mm", outcome="outside") puts a barred square right of the bar.
    """
    word = shapes.outcome_text(outcome)
    scale = _scale(lo, hi, value, value_to)
    parts = [svg.line(EDGE - 8, AXIS, WIDTH - EDGE + 8, AXIS, "axis", 1)]
    parts.append(_bar(scale, lo, hi, lo_open, hi_open))
    parts.append(_end_labels(scale, lo, hi))
    if value is not None:
        parts.append(_value(scale, value, value_to, unit, word))
    title = _title(lo, hi, value, value_to, unit, lo_open, hi_open, word)
    top = 0 if value is not None else 9
    box = f"0 {top} {WIDTH} {HEIGHT - top}"
    return svg.drawing(WIDTH, HEIGHT - top, title, f"ruler {shapes.css_class(word)}", parts, box)


def _scale(lo: Decimal | None, hi: Decimal | None, value: Decimal | None, value_to: Decimal | None) -> Scale:
    known = [n for n in (lo, hi, value, value_to) if n is not None] or [Decimal(0)]
    first, last = min(known), max(known)
    reach = (last - first) or max(abs(last), Decimal(1))
    left = first - reach * (Decimal("0.3") if lo is None else Decimal("0.08"))
    right = last + reach * (Decimal("0.3") if hi is None else Decimal("0.08"))
    return Scale(left, right)


def _bar(scale: Scale, lo: Decimal | None, hi: Decimal | None, lo_open: bool, hi_open: bool) -> str:
    left = scale.x(lo) if lo is not None else EDGE - 8.0
    right = scale.x(hi) if hi is not None else WIDTH - EDGE + 8.0
    parts = [svg.line(left, AXIS, right, AXIS, "span", 4)]
    parts.append(_end(left, lo_open) if lo is not None else _arrow(left, -1))
    parts.append(_end(right, hi_open) if hi is not None else _arrow(right, 1))
    return "".join(parts)


def _end(x: float, is_open: bool) -> str:
    if not is_open:
        return svg.line(x, AXIS - 6, x, AXIS + 6, "end", 2)
    return svg.element(
        "circle", cx=x, cy=AXIS, r=3.5, cls="end open", fill="#fff", stroke="currentColor", stroke_width=1.5
    )


def _arrow(x: float, way: int) -> str:
    d = f"M{svg.pixels(x - 5 * way)} {AXIS - 5}L{svg.pixels(x)} {AXIS}L{svg.pixels(x - 5 * way)} {AXIS + 5}"
    return svg.path(d, "end", 2)


def _end_labels(scale: Scale, lo: Decimal | None, hi: Decimal | None) -> str:
    y = HEIGHT - 3
    ends = [(scale.x(n), figure(n)) for n in (lo, hi) if n is not None]
    if len(ends) == 2 and _collide(ends[0], ends[1]):
        text = ends[0][1] if lo == hi else f"{ends[0][1]} to {ends[1][1]}"
        ends = [((ends[0][0] + ends[1][0]) / 2, text)]
    return "".join(svg.label(_inside(x, text), y, text) for x, text in ends)


def _collide(a: tuple[float, str], b: tuple[float, str]) -> bool:
    return b[0] - a[0] < (len(a[1]) + len(b[1])) / 2 * DIGIT + LABEL_GAP


def _inside(x: float, text: str) -> float:
    half = len(text) * DIGIT / 2
    return min(max(x, half + 1), WIDTH - half - 1)


def _value(scale: Scale, value: Decimal, value_to: Decimal | None, unit: str, word: str) -> str:
    x = scale.x(value)
    text = figure(value)
    parts = []
    if value_to is not None and value_to != value:
        to = scale.x(value_to)
        parts.append(svg.line(x, AXIS, to, AXIS, "wanted", 8))
        parts.append(shapes.marker(word, to, AXIS))
        text = f"{text} to {figure(value_to)}"
        middle = (x + to) / 2
    else:
        middle = x
    parts.append(shapes.marker(word, x, AXIS))
    text = f"{text} {unit}".strip()
    parts.append(svg.label(_inside(middle, text), 9, text, cls="label value"))
    return "".join(parts)


def _title(
    lo: Decimal | None,
    hi: Decimal | None,
    value: Decimal | None,
    value_to: Decimal | None,
    unit: str,
    lo_open: bool,
    hi_open: bool,
    word: str,
) -> str:
    span = _span_text(lo, hi, lo_open, hi_open)
    if value is None:
        return f"Allowed: {span} {unit}".strip()
    asked = figure(value) if value_to in (None, value) else f"{figure(value)} to {figure(value_to)}"
    return f"{f'{asked} {unit}'.strip()} on {f'{span} {unit}'.strip()}: {word}"


def _span_text(lo: Decimal | None, hi: Decimal | None, lo_open: bool, hi_open: bool) -> str:
    if lo is None and hi is None:
        return "any value"
    if hi is None:
        return f"{'above' if lo_open else 'from'} {figure(lo)}"
    if lo is None:
        return f"{'below' if hi_open else 'up to'} {figure(hi)}"
    return f"{'above ' if lo_open else ''}{figure(lo)} to {'below ' if hi_open else ''}{figure(hi)}"


def figure(value: Decimal | None) -> str:
    """A number as print sets it, without exponent or trailing zeros. Example: Decimal("-7.50") gives "−7.5"."""
    text = format(value, "f").replace("-", "−") if value is not None else ""
    return text.rstrip("0").rstrip(".") if "." in text else text
