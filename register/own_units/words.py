"""A sentence as a reader in US units sees it: every figure in it that has an SI unit is turned over.

It was judged and said in SI. A figure goes to the nearest step of its unit, a strength down (codes.units). A limit goes
to its safe side, whatever words tell that it is one: "from", "up to and including", "at most", "or more". What stands
beside a limit, in the same sentence or in `beside`, is said as the limit is where it is the same figure, and keeps its
side where it is not. So nothing has two figures in one line. A difference has no zero: 50 °C more is 90 °F more; what
is missed by is rounded up, what is to spare down.
"""

import re
from collections.abc import Iterable, Iterator
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_UP, Decimal
from functools import cache, lru_cache

from codes.calc.conversions import US_UNITS, in_us
from codes.units import CONVERSIONS, System, held_to, interval_in
from codes.values import Interval, number
from codes.variables import VARIABLES, Kind

DIGITS = 4
"""Of a figure whose unit has no step (mm², kg)."""
DIFFERENCE, DEGREE = "K", "°C"
LEAST = ("from", "above", "over", "more than", "at least")
MOST = ("up to and including", "up to", "below", "under", "less than", "at most")
COMPARED = frozenset({"above", "over", "more than", "below", "under", "less than"})
"""A figure that "is below 3 mm" misses the least there is; alone, "below 3 mm" is an upper end."""
LEAST_BEHIND = ("at least", "at the lowest", "or more", "and more", "or thicker", "and thicker", "or over")
MOST_BEHIND = ("at most", "at the highest", "or less", "and less", "or thinner")
PLACED = ("at t =",)
"""What stands behind is where a test stood, not what the limit beside it is of: it is no limit of any kind."""
MISSED, SPARED = ("less", "short"), ("to spare",)
NOTHING = r"(?!)"
"""A pattern that fits nowhere."""
APART = ("more", "lower", "higher", "off", "over", "apart", "too", "below it", "above it", "either way")
"""What stands behind a difference of two figures."""
_FIGURE = r"-?\d+(?:\.\d+)?"
_US_FIGURE = r"\d+(?:-\d+/\d+|/\d+|\.\d+)?"
_US_UNIT = r"(?:in(?! (?:the|a|an|one|each|which|all|any|its|that|this)\b| [A-Z])|°F|ksi|lb|kJ/in|ft³|kip)\b"
_US_ALREADY = re.compile(rf"\d ?{_US_UNIT}")
_NEGATED = re.compile(r"\b(?:not|no|never) $")
_ENDS = {**dict.fromkeys(LEAST, ROUND_CEILING), **dict.fromkeys(MOST, ROUND_FLOOR)}
_ENDS_BEHIND = {**dict.fromkeys(LEAST_BEHIND, ROUND_CEILING), **dict.fromkeys(MOST_BEHIND, ROUND_FLOOR)}
_OTHER = {ROUND_CEILING: ROUND_FLOOR, ROUND_FLOOR: ROUND_CEILING}


def _any(words: Iterable[str]) -> str:
    return "|".join(map(re.escape, sorted(words, key=len, reverse=True)))


@cache
def _amounts() -> re.Pattern[str]:
    behind = (*_ENDS_BEHIND, *MISSED, *SPARED, *APART)
    return re.compile(
        rf"(?<![\w.])(?:(?P<before>by|±|{_any((*_ENDS, *PLACED))}) )?(?P<low>{_FIGURE})"
        rf"(?:(?P<between> to below | to | and up to | and less than )(?P<high>{_FIGURE}))? "
        rf"(?P<unit>{_any((*US_UNITS, DIFFERENCE))})(?![\w/²³·])"
        rf"(?= (?:(?P<behind>{_any(behind)})\b|(?P<times>to [\d.]+ ?[A-Za-z]\b)))?"
    )


@cache
def _pairs() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """What a code prints in both units, the inches last, and first."""
    amount = rf"{_FIGURE} (?:{_any(US_UNITS)})"
    us = rf"{_US_FIGURE} {_US_UNIT}"
    return re.compile(rf"(?<![\w.]){amount} [(\[]({us})[)\]]"), re.compile(rf"(?<![\d.]){us} [(\[]{amount}[)\]]")


def sentence_in(text: str, system: System, *beside: Interval, typed: Iterable[str] = ()) -> str:
    """The sentence in the reader's units; one that states US units already is left as it is.

    `beside`: in SI, what is allowed in the line that the sentence stands in. What a code prints in both units keeps
    them, and is its inches alone where those come second. `typed`: what somebody named, which stays as it is.
    Example: "parent thickness 19 mm, WPS 2 allows 6 to 16 mm" gives "parent thickness 0.748 in, WPS 2 allows 0.237 to
    0.629 in".
    """
    return text if system is System.SI else _in_us(text, beside, tuple(filter(None, typed)))


def typed_of(variable: str, *texts: str) -> tuple[str, ...]:
    """Of texts about a variable those that somebody typed: all where it is one of words, else none."""
    known = VARIABLES.get(variable)
    return tuple(dict.fromkeys(filter(None, texts))) if known is not None and known.kind is Kind.TEXT else ()


@lru_cache(maxsize=16384)
def _in_us(text: str, beside: tuple[Interval, ...], typed: tuple[str, ...]) -> str:
    """Kept: equal findings stand in many answers."""
    inches_last, inches_first = _pairs()
    names = re.compile(_any(typed) or NOTHING)
    alone = inches_first.sub("", inches_last.sub("", names.sub("", text)))
    text = inches_last.sub(r"\1", text)
    if _US_ALREADY.search(alone):
        return text
    kept = [one.span() for stays in (inches_first, names) for one in stays.finditer(text)]
    found = [one for one in _amounts().finditer(text) if not any(a <= one.start() < b for a, b in kept)]
    ranges = [(one.start(), span) for one in found for span in _range(one, _rounding(text, one))]
    said, at = [], 0
    for one in found:
        # What follows first: "50 mm of up to 50 mm".
        own = [span for start, span in ranges if start > one.start()] + [*beside]
        own += [span for start, span in ranges if start < one.start()]
        said += [text[at : one.start()], _turned(one, _rounding(text, one), own)]
        at = one.end()
    return "".join((*said, text[at:]))


def ranges_in(text: str) -> tuple[Interval, ...]:
    """The ranges that a text in SI states, to be laid beside another. Example: "group 1.2 up to 355 MPa"."""
    return tuple(span for one in _amounts().finditer(text) for span in _range(one, _rounding(text, one)))


def interval_in_us(span: Interval) -> Interval:
    """A range in US units, its ends rounded inwards, also of a unit that has no step."""
    if span.unit in CONVERSIONS or in_us(Decimal(0), span.unit)[1] == span.unit:
        return interval_in(span, span.unit, System.US)
    lo = None if span.lo is None else _shown(span.lo, span.unit, ROUND_CEILING)
    hi = None if span.hi is None else _shown(span.hi, span.unit, ROUND_FLOOR)
    return Interval(lo, hi, in_us(Decimal(0), span.unit)[1], span.lo_open, span.hi_open)


def short(value: Decimal, rounding: str = ROUND_HALF_EVEN, digits: int = DIGITS) -> Decimal:
    """A figure to so many digits. Example: 3.5433 rounded down to four gives 3.543; 14 stays 14."""
    if value == value.to_integral_value() and abs(value) < 10**digits:
        return value
    return value.quantize(Decimal(1).scaleb(value.adjusted() - digits + 1), rounding)


def _shown(value: Decimal, unit: str, rounding: str = "") -> Decimal:
    row = CONVERSIONS.get(unit)
    return short(in_us(value, unit)[0], rounding or ROUND_HALF_EVEN) if row is None else row.shown(value, rounding)


def _rounding(text: str, found: re.Match[str]) -> str:
    """The safe side of a single figure that is a limit; "" for any other."""
    if found["behind"] in _ENDS_BEHIND or found["times"]:
        return _ENDS_BEHIND.get(found["behind"], ROUND_CEILING)
    side = _ENDS.get(found["before"], "")
    if found["before"] not in COMPARED:
        return side
    ahead = text[max(0, found.start() - 80) : found.start()]
    negated = _NEGATED.search(ahead) is not None
    told = re.search(rf"{_FIGURE} (?:{_any((*US_UNITS, DIFFERENCE))})(?: is (?:not )?|, )$", ahead) is not None
    return _OTHER[side] if negated is not told else side


def _range(found: re.Match[str], rounding: str) -> Iterator[Interval]:
    """The range that an amount states, in SI: of two ends, or of the one that its words make it."""
    if found["unit"] == DIFFERENCE or found["before"] in ("by", "±"):
        return
    low = Decimal(found["low"])
    if found["high"] is not None:
        yield Interval(low, max(low, Decimal(found["high"])), found["unit"])
    elif rounding:
        ends = (low, None) if rounding == ROUND_CEILING else (None, low)
        yield Interval(*ends, found["unit"])


def _turned(found: re.Match[str], rounding: str, beside: list[Interval]) -> str:
    low, unit = Decimal(found["low"]), found["unit"]
    before = f"{found['before']} " if found["before"] else ""
    if found["high"] is not None:
        span = interval_in_us(Interval(*sorted((low, Decimal(found["high"]))), unit))
        return f"{before}{number(span.lo or low)}{found['between']}{number(span.hi or low)} {_us(unit)}"
    if unit == DIFFERENCE or found["before"] in ("by", "±") or found["behind"] in (*MISSED, *SPARED, *APART):
        return f"{before}{number(_difference(found, low))} {_us(unit)}"
    alone = rounding or found["before"] in PLACED
    shown = _shown(low, unit, rounding) if alone else _held(low, unit, beside)
    return f"{before}{number(shown)} {_us(unit)}"


def _us(unit: str) -> str:
    return CONVERSIONS[DEGREE].us if unit == DIFFERENCE else US_UNITS[unit]


def _difference(found: re.Match[str], size: Decimal) -> Decimal:
    missed = found["before"] == "by" or found["behind"] in MISSED
    rounding = ROUND_UP if missed else ROUND_DOWN if found["behind"] in SPARED else ROUND_HALF_EVEN
    row = CONVERSIONS.get(DEGREE if found["unit"] == DIFFERENCE else found["unit"])
    return _shown(size, found["unit"], rounding) if row is None else row.difference(size, rounding)


def _held(value: Decimal, unit: str, beside: Iterable[Interval]) -> Decimal:
    """A figure beside limits: as the limit that it is, else on its side of the first."""
    limits = [span for span in beside if span.unit == unit and (span.lo, span.hi) != (None, None)]
    for span in limits:
        if value in (span.lo, span.hi):
            shown = interval_in_us(span)
            return (shown.lo if value == span.lo else shown.hi) or value
    if not limits or unit not in CONVERSIONS:
        return _shown(value, unit)
    return held_to(value, limits[0], unit)
