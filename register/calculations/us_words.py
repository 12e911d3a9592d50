"""Sentences of the calculations for a reader in US units: every figure with an SI unit in them turned over.

The calculations reckon and refuse in SI units; a refusal that says "95 mm is outside 10 to 90 mm" to somebody who typed
inches would leave the conversion to the reader. The ends of a range are rounded inwards, so that they may be typed.
"""

import re
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from functools import cache

from codes.calc.conversions import US_UNITS, in_us
from codes.values import Interval, number

DIGITS = 4
_FIGURE = r"-?\d+(?:\.\d+)?"


LEAST = ("is below", "not below", "from", "above", "at least")
MOST = ("is above", "not above", "up to", "below", "at most")
"""What stands before the one end of a range: a figure that "is below 3 mm" misses the least that may be typed."""


@cache
def _amount() -> re.Pattern[str]:
    units = "|".join(sorted(map(re.escape, (*US_UNITS, "K")), key=len, reverse=True))
    ends = "|".join((*LEAST, *MOST))
    return re.compile(
        rf"(?<![\w.])(?:({ends}) )?({_FIGURE})(?: to (below )?({_FIGURE}))? ({units})(?![\w/²³·])",
    )


_US_ALREADY = re.compile(r"\d ?(?:in|°F|ksi|lb|kJ/in|ft³|kip)\b")


def in_us_words(text: str) -> str:
    """The sentence in US units; one that states them already is left as it is.

    Example: "95 mm is outside 10 to 90 mm" gives "3.7402 in is outside 0.3938 to 3.543 in".
    """
    return text if _US_ALREADY.search(text) else _amount().sub(_turned, text)


def _turned(found: re.Match[str]) -> str:
    end, low, below, high, unit = found.groups()
    before = f"{end} " if end else ""
    if high is not None:
        least = _words(low, unit, ROUND_CEILING).partition(" ")[0]
        return f"{before}{least} to {below or ''}{_words(high, unit, ROUND_FLOOR)}"
    if end:
        return before + _words(low, unit, ROUND_CEILING if end in LEAST else ROUND_FLOOR)
    # One digit more, so that a figure just outside an end does not read like that end.
    return _words(low, unit, ROUND_HALF_EVEN, DIGITS + 1)


def _words(figure: str, unit: str, rounding: str, digits: int = DIGITS) -> str:
    value, us = in_us(Decimal(figure), unit)
    return f"{number(short(value, rounding, digits))} {us}"


def short(value: Decimal, rounding: str = ROUND_HALF_EVEN, digits: int = DIGITS) -> Decimal:
    """A figure to so many digits. Example: 3.5433 rounded down to four gives 3.543; 14 stays 14."""
    if value == value.to_integral_value() and abs(value) < 10**digits:
        return value
    return value.quantize(Decimal(1).scaleb(value.adjusted() - digits + 1), rounding)


def us_interval(span: Interval) -> Interval:
    """A range in US units, its ends rounded inwards."""
    lo, hi = span.lo, span.hi
    unit = in_us(Decimal(0), span.unit)[1]
    if unit == span.unit:
        return span
    low = short(in_us(lo, span.unit)[0], ROUND_CEILING) if isinstance(lo, Decimal) else lo
    high = short(in_us(hi, span.unit)[0], ROUND_FLOOR) if isinstance(hi, Decimal) else hi
    return Interval(low, high, unit, span.lo_open, span.hi_open)
