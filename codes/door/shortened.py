"""Figures of an answer as they are read: a value that US units or a formula gave many places is told to a thousandth.

Judged is always the whole figure. The ends of what is allowed are rounded inwards, a value to the nearest, and away
from an end where it would else stand on its other side; a margin down where there is some to spare, up where it misses.
"""

import re
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_UP, Decimal

from codes.limits import Limit, Within
from codes.values import Atom, Interval, Value, atoms, number
from codes.verdict import Finding, Verdict
from codes.words import value_words

STEP = Decimal("0.001")
LONG = 4
"""Places that are told as they are: 0.1875 in is one figure of a drawing."""
_LONG_FIGURE = re.compile(rf"(?<![\w.])-?\d+\.\d{{{LONG + 1},}}(?!\d)")


def in_short(words: str) -> str:
    """Words with each long figure to the nearest. Example: "tested 15.55555555556 °C" is "tested 15.556 °C"."""
    return _LONG_FIGURE.sub(lambda found: number(_short(Decimal(found[0]))), words)


def verdict_in_short(verdict: Verdict) -> Verdict:
    """The verdict with its findings as they are read."""
    return replace(verdict, findings=tuple(map(finding_in_short, verdict.findings)))


def finding_in_short(found: Finding) -> Finding:
    """Example: 12.700000001 mm of up to 12.7 mm is 12.701 mm, which misses by 0.001 mm."""
    because, tested = in_short(found.because), in_short(found.tested)
    found = replace(found, because=because, tested=tested, missing=in_short(found.missing), needs=in_short(found.needs))
    margin = None if found.margin is None else _short(found.margin, ROUND_UP if found.margin < 0 else ROUND_DOWN)
    if not isinstance(found.limit, Within):
        return replace(found, margin=margin, wanted=in_short(found.wanted), allowed=in_short(found.allowed))
    ends, value, wanted = found.limit.interval, found.value, found.wanted
    if value is not None and value_words(found.variable, value) == wanted:
        parts = tuple(_held(one, ends) for one in atoms(value))
        wanted = value_words(found.variable, parts if len(parts) > 1 else parts[0])
    allowed = str(_inwards(ends)) if found.allowed == str(ends) else in_short(found.allowed)
    return replace(found, wanted=wanted, allowed=allowed, margin=margin)


def allowed_in_short(limit: Limit) -> str:
    """What a limit allows, in words."""
    return str(_inwards(limit.allowed.interval)) if isinstance(limit.allowed, Within) else in_short(limit.words)


def value_in_short(name: str, value: Value) -> str:
    """A value in words."""
    return in_short(value_words(name, value))


def _short(value: Decimal, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    places = -int(value.as_tuple().exponent)
    return value if places <= LONG or number(value).partition(".")[2][LONG:] == "" else value.quantize(STEP, rounding)


def _inwards(span: Interval) -> Interval:
    lo = None if span.lo is None else _short(span.lo, ROUND_CEILING)
    hi = None if span.hi is None else _short(span.hi, ROUND_FLOOR)
    return span if lo is not None and hi is not None and lo >= hi else replace(span, lo=lo, hi=hi)


def _held(one: Atom, ends: Interval) -> Atom:
    if isinstance(one, Decimal):
        return _on_its_side(one, ends)
    if not isinstance(one, Interval):
        return one
    lo = None if one.lo is None else _on_its_side(one.lo, ends)
    hi = None if one.hi is None else _on_its_side(one.hi, ends)
    return one if lo is not None and hi is not None and lo >= hi else replace(one, lo=lo, hi=hi)


def _on_its_side(value: Decimal, ends: Interval) -> Decimal:
    """To the nearest, on the same side of the ends shown as the whole figure is of the ends that count."""
    short, shown = _short(value), _inwards(ends)
    if ends.lo is not None and value < ends.lo:
        return short if shown.lo is None or short < shown.lo else _short(value, ROUND_FLOOR)
    if ends.hi is not None and value > ends.hi:
        return short if shown.hi is None or short > shown.hi else _short(value, ROUND_CEILING)
    short = short if shown.lo is None else max(short, shown.lo)
    return short if shown.hi is None else min(short, shown.hi)
