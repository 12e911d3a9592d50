"""A finding as a reader in US units sees it. It was judged in SI; only what is shown is turned over.

The ends of what is allowed are rounded inwards, so that an end may be typed and still lies inside. A value is rounded
to the nearest, and away from the end where one outside would read as inside: what lies inside is shown inside, the rest
outside. A margin is a difference, rounded down where there is some to spare and up where it misses. What a rule rests
on stays in the figures of its code.
"""

import re
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_UP, Decimal

from codes.limits import Within
from codes.units import CONVERSIONS, Conversion, System, interval_in
from codes.values import Interval, Value, atoms, number
from codes.verdict import Finding, Outcome

_UNITS = "|".join(sorted(map(re.escape, CONVERSIONS), key=len, reverse=True))
_AMOUNT = re.compile(rf"(?:(from|above|at least|up to|below|at most) )?(-?\d+(?:\.\d+)?) ({_UNITS})(?![\w/²³·])")
_STRENGTH = re.compile(r"(?:(from|above|at least|up to|below|at most) )?(\d+(?:\.\d+)?) (MPa)")
_ENDS = {"up to": ROUND_FLOOR, "below": ROUND_FLOOR, "at most": ROUND_FLOOR}
_ENDS |= dict.fromkeys(("from", "above", "at least"), ROUND_CEILING)


def strengths_in(text: str, system: System, rounding: str = ROUND_HALF_EVEN) -> str:
    """Words with the strengths in them in the reader's units, a limit rounded inwards.

    Example: "group 1.2, up to 355 MPa" is "group 1.2, up to 51.4 ksi".
    """
    return text if system is System.SI else _STRENGTH.sub(lambda found: _amount(found, rounding), text)


def amounts_in(text: str, system: System) -> str:
    """Words with every single figure that has an SI unit in the reader's units, to the step in which they are shown.

    Example: "heat input 0.651 kJ/mm" is "heat input 16.5 kJ/in".
    """
    return text if system is System.SI else _AMOUNT.sub(_amount, text)


def _amount(found: re.Match[str], rounding: str = ROUND_HALF_EVEN) -> str:
    end, figure, unit = found.groups()
    row = CONVERSIONS[unit]
    said = f"{number(row.shown(Decimal(figure), _ENDS.get(end, rounding)))} {row.us}"
    return f"{end} {said}" if end else said


def finding_in(finding: Finding, system: System) -> Finding:
    """The finding in the reader's units; one that measures nothing, or in the same units, is left as it is. Of parent
    materials the strengths in the words are turned over.

    Example: 12 mm of 3 to 16 mm, 4 mm to spare, is 0.472 in of 0.119 to 0.629 in, 0.157 in to spare.
    """
    limit = finding.limit
    if system is System.SI:
        return finding
    if not isinstance(limit, Within):
        # What is covered must not look stronger than the limit beside it, which is rounded down.
        kept = ROUND_FLOOR if finding.outcome is Outcome.COVERED else ROUND_HALF_EVEN
        wanted, allowed = strengths_in(finding.wanted, system, kept), strengths_in(finding.allowed, system)
        turned = replace(finding, wanted=wanted, allowed=allowed)
        if finding.margin is not None and finding.margin_unit == "MPa":
            row = CONVERSIONS["MPa"]
            turned = replace(turned, margin=_difference(finding.margin, row), unit=row.us)
        return finding if turned == finding else turned
    row = CONVERSIONS.get(finding.unit or limit.interval.unit)
    if row is None:
        return finding
    span, value = interval_in(limit.interval, row.si, system), _value(finding.value, limit.interval, row)
    shown = [_words(one, row) for one in atoms(value)] if finding.wanted and value is not None else []
    return replace(
        finding,
        unit=row.us,
        limit=Within(span),
        allowed=str(span) if finding.allowed == str(limit.interval) else finding.allowed,
        value=value,
        wanted=" + ".join(shown) or finding.wanted,
        margin=None if finding.margin is None else _difference(finding.margin, row),
    )


def figure_held_to(value: Decimal, allowed: Interval, row: Conversion) -> Decimal:
    """The nearest figure that is on the same side of the ends shown as the value is of the ends that count.

    Example: 19 mm, of up to 16 mm, is 0.748 in as everywhere; 25.401 mm, of up to 25.4 mm, is 1.001 in and not 1 in.
    """
    shown, span = row.shown(value), interval_in(allowed, row.si, System.US)
    if allowed.lo is not None and value < allowed.lo:
        return shown if span.lo is None or shown < span.lo else row.shown(value, ROUND_FLOOR)
    if allowed.hi is not None and value > allowed.hi:
        return shown if span.hi is None or shown > span.hi else row.shown(value, ROUND_CEILING)
    shown = shown if span.lo is None else max(shown, span.lo)
    return shown if span.hi is None else min(shown, span.hi)


def _span(span: Interval, allowed: Interval, row: Conversion) -> Interval:
    """A window. Its own ends are limits too, so they are rounded inwards where they lie inside."""
    inside = interval_in(span, row.si, System.US)
    lo = inside.lo if span.lo is None or _is_in(span.lo, allowed) else figure_held_to(span.lo, allowed, row)
    hi = inside.hi if span.hi is None or _is_in(span.hi, allowed) else figure_held_to(span.hi, allowed, row)
    if lo is not None and hi is not None and lo > hi:
        lo = hi
    same = lo is not None and lo == hi
    return Interval(lo, hi, row.us, span.lo_open and not same, span.hi_open and not same)


def _is_in(end: Decimal, allowed: Interval) -> bool:
    """True where an end lies on the ends of what is allowed or between them, open or not."""
    return (allowed.lo is None or allowed.lo <= end) and (allowed.hi is None or end <= allowed.hi)


def _value(value: Value | None, allowed: Interval, row: Conversion) -> Value | None:
    if value is None:
        return None
    turned = tuple(
        figure_held_to(one, allowed, row)
        if isinstance(one, Decimal)
        else _span(one, allowed, row)
        if isinstance(one, Interval)
        else one
        for one in atoms(value)
    )
    return turned if len(turned) != 1 else turned[0]


def _words(atom: object, row: Conversion) -> str:
    return f"{number(atom)} {row.us}" if isinstance(atom, Decimal) else str(atom)


def _difference(margin: Decimal, row: Conversion) -> Decimal:
    return row.difference(margin, ROUND_UP if margin < 0 else ROUND_DOWN)
