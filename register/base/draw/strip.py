"""Validity as a strip of time: a bar for every period that counts, a gap where none does, and the day asked about."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from register.base.draw import svg

WIDTH, HEIGHT, TOP, BAR = 320, 44, 16, 10


class Span(NamedTuple):
    """A period, first and last day included; `label` says what it is, for the title."""

    start: date
    end: date
    label: str = ""


def time_strip(periods: Iterable[Span | tuple[date, date]], today: date, start: date, end: date) -> str:
    """Periods between two days, with the day asked about as a line across. A period counts on its last day too.

    Raises ValueError where end does not lie after start.
    """
    if end <= start:
        raise ValueError(f"a strip of time cannot run from {start} to {end}")
    spans = [Span(*period) for period in periods]
    seen = [s for s in spans if s.end >= start and s.start <= end]
    parts = [svg.line(0, TOP + BAR, WIDTH, TOP + BAR, "axis", 1), *_years(start, end)]
    parts += [_bar(s, start, end) for s in seen]
    if start <= today <= end:
        parts.append(_day(today, start, end))
    return svg.drawing(WIDTH, HEIGHT, _title(seen, today), "strip", parts)


def _x(day: date, start: date, end: date) -> float:
    return (day - start).days / (end - start).days * WIDTH


def _bar(span: Span, start: date, end: date) -> str:
    left = max(_x(span.start, start, end), 0)
    right = min(_x(span.end + timedelta(days=1), start, end), WIDTH)
    return svg.element(
        "rect", x=left, y=TOP, width=max(right - left, 1), height=BAR, cls="span",
        fill="currentColor", fill_opacity="0.35", stroke="currentColor", stroke_width=0.5,
    )  # fmt: skip


def _years(start: date, end: date) -> list[str]:
    """Ticks at the year's turn with the year, and between them at the quarters unless that would be a comb."""
    quarters = (1, 4, 7, 10) if end.year - start.year <= 8 else (1,)
    days = [date(year, month, 1) for year in range(start.year, end.year + 1) for month in quarters]
    ticks = [(day, _x(day, start, end)) for day in days if start <= day <= end]
    parts = [svg.line(x, TOP + BAR, x, TOP + BAR + (7 if day.month == 1 else 3), "tick", 1) for day, x in ticks]
    free_from = 0.0
    for day, x in ticks:
        if day.month == 1 and x - 14 >= free_from and x <= WIDTH - 14:
            parts.append(svg.label(x, HEIGHT - 1, str(day.year)))
            free_from = x + 26
    return parts


def _day(today: date, start: date, end: date) -> str:
    x = _x(today, start, end)
    text = today.isoformat()
    at = min(max(x, 32), WIDTH - 32)
    return svg.line(x, TOP - 4, x, TOP + BAR + 6, "today", 2) + svg.label(at, 9, text, cls="label value")


def _title(spans: list[Span], today: date) -> str:
    said = "; ".join(f"{s.label or 'valid'} {s.start.isoformat()} to {s.end.isoformat()}" for s in spans)
    now = any(s.start <= today <= s.end for s in spans)
    return f"{said or 'no period in view'}. " + _where(today, now)


def _where(today: date, inside: bool) -> str:
    return f"On {today.isoformat()}: {'inside' if inside else 'not inside'} a period"
