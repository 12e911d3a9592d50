"""Values and limits of procedures and records as a page says them, in the reader's units.

They were judged in SI; only what is shown is turned over. The ends of a range are rounded inwards, so that none is ever
shown wider than it is; what was tested or measured is rounded to the nearest, and reads as the limit does
in the line of a limit that it is.
"""

import re
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.limits import Limit, When, Within
from codes.units import CONVERSIONS, Conversion, System, amount_in, figure_in, interval_in, unit_in
from codes.values import Atom, Interval, SteelPair, Value, atoms
from codes.variables import unit_of
from codes.words import value_words
from register.own_units.words import ranges_in, sentence_in, typed_of
from wps.sheet_figures import LEAST, MOST

_SPAN = re.compile(r"(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))?")


def said(name: str, value: Value, system: System) -> str:
    """A value of a variable in words; two parts of one steel are named once.

    Example: parent_t 6 to 24 mm in US units is "0.237 to 0.944 in".
    """
    return " + ".join(_said(name, atom, system) for atom in atoms(value))


def said_of_test(name: str, value: Value, system: System) -> str:
    """A value of a test piece. What was tested is no limit: it is rounded to the nearest."""
    return " + ".join(_said(name, atom, system, is_limit=False) for atom in atoms(value))


def _said(name: str, atom: Atom, system: System, is_limit: bool = True) -> str:
    if isinstance(atom, SteelPair):
        return sentence_in(" to ".join(dict.fromkeys(str(one) for one in atom)), system)
    if system is System.SI or unit_of(name) not in CONVERSIONS:
        return value_words(name, atom)
    if isinstance(atom, Interval):
        return str(interval_in(atom, unit_of(name), system))
    if isinstance(atom, Decimal):
        return amount_in(atom, unit_of(name), system, _rounding(name) if is_limit else "")
    return value_words(name, atom)


def _rounding(name: str) -> str:
    """How one figure that is a limit is rounded; any other as is usual of its unit."""
    return ROUND_CEILING if name in LEAST else ROUND_FLOOR if name in MOST else ""


def uncovered_said(name: str, value: Value, system: System) -> str:
    """A part that no record covers. An open end is the end of what is covered, so it reads as it does there.

    Example: above 24 to 30 mm, beside a range that ends at 24 mm (0.944 in), is "above 0.944 to 1.181 in".
    """
    row = CONVERSIONS.get(unit_of(name))
    if system is System.SI or row is None:
        return said(name, value, system)
    parts = [
        str(_outside(atom, row)) if isinstance(atom, Interval) else _said(name, atom, system) for atom in atoms(value)
    ]
    return " + ".join(parts)


def _outside(span: Interval, row: Conversion) -> Interval:
    lo = None if span.lo is None else row.shown(span.lo, ROUND_FLOOR if span.lo_open else ROUND_CEILING)
    hi = None if span.hi is None else row.shown(span.hi, ROUND_CEILING if span.hi_open else ROUND_FLOOR)
    if lo is not None and hi is not None and lo >= hi:
        # Narrower than one step: one figure, on the side of the open end that is not covered.
        one = (
            row.shown(span.hi or Decimal(0), ROUND_CEILING)
            if span.lo_open
            else row.shown(span.lo or Decimal(0), ROUND_FLOOR)
        )
        return Interval(one, one, row.us)
    return Interval(lo, hi, row.us, span.lo_open, span.hi_open)


def limit_in(limit: Limit, system: System) -> Limit:
    """The limit, its conditions and what it rests on in the reader's units.

    Example: 3 to 16 mm is 0.119 to 0.629 in.
    """
    if system is System.SI:
        return limit
    allowed = limit.allowed
    beside = (allowed.interval,) if isinstance(allowed, Within) else ranges_in(limit.words)
    typed = typed_of(limit.variable, limit.words, limit.tested)
    return replace(
        limit,
        because=sentence_in(limit.because, system, *beside, typed=typed),
        needs=sentence_in(limit.needs, system, *beside, typed=typed),
        readings=tuple(sentence_in(one, system) for one in limit.readings),
        allowed=_within(allowed, limit.variable, system) if isinstance(allowed, Within) else allowed,
        when=tuple(_when(one, system) for one in limit.when),
    )


def _within(allowed: Within, name: str, system: System) -> Within:
    return Within(interval_in(allowed.interval, allowed.interval.unit or unit_of(name), system))


def _when(when: When, system: System) -> When:
    return (
        replace(when, allowed=_within(when.allowed, when.variable, system))
        if isinstance(when.allowed, Within)
        else when
    )


def measured_in(text: str, unit: str, system: System) -> str:
    """A measured figure, or a range of two, without its unit. Example: "250 to 300" mm/min is "9.8 to 11.8"."""
    span = _SPAN.fullmatch(text)
    if system is System.SI or span is None:
        return text
    return " to ".join(figure_in(Decimal(one), unit, system) for one in span.groups() if one)


def headed(label: str, system: System) -> str:
    """The head of a column that ends in its unit. Example: "speed, mm/min" is "speed, in/min"."""
    name, comma, unit = label.rpartition(", ")
    return f"{name}{comma}{unit_in(unit, system)}" if comma else label
