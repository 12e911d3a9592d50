"""A finding as a reader in US units sees it. It was judged in SI; only what is shown is turned over.

The ends of what is allowed are rounded inwards, so that an end may be typed and still lies inside. A value is rounded
to the nearest, and away from the end where one outside would read as inside: what lies inside is shown inside, the rest
outside. A margin is a difference, rounded down where there is some to spare and up where it misses. What a rule rests
on is turned over with it, so that a tested value that is the limit reads as the limit does (`words.py`).
"""

from dataclasses import replace
from decimal import ROUND_DOWN, ROUND_UP, Decimal

from codes.limits import Within
from codes.units import CONVERSIONS, System, held_to, interval_in
from codes.values import Interval, Value, atoms, number
from codes.verdict import Finding
from register.own_units.words import ranges_in, sentence_in, typed_of


def finding_in(finding: Finding, system: System) -> Finding:
    """The finding in the reader's units; one that measures nothing, or in the same units, is left as it is.

    Example: 12 mm of 3 to 16 mm, 4 mm to spare, is 0.472 in of 0.119 to 0.629 in, 0.157 in to spare.
    """
    if system is System.SI:
        return finding
    limit, unit = finding.limit, finding.unit
    beside = (limit.interval,) if isinstance(limit, Within) else ranges_in(finding.allowed)
    typed = typed_of(finding.variable, finding.wanted, finding.allowed, finding.tested)
    turned = replace(
        finding,
        because=sentence_in(finding.because, system, *beside, typed=typed),
        missing=sentence_in(finding.missing, system, *beside, typed=typed),
        needs=sentence_in(finding.needs, system, *beside, typed=typed),
        readings=tuple(sentence_in(one, system) for one in finding.readings),
    )
    if isinstance(limit, Within) and (unit or limit.interval.unit) in CONVERSIONS:
        turned = _measured(turned, limit.interval, unit or limit.interval.unit)
    elif not isinstance(limit, Within):
        # Parent materials, whose strengths stand in words, and sets of several ranges.
        margin, of = finding.margin, finding.margin_unit
        if margin is not None and of in CONVERSIONS:
            turned = replace(turned, margin=_difference(margin, of), unit=CONVERSIONS[of].us)
        wanted = sentence_in(finding.wanted, system, *beside, typed=typed)
        turned = replace(turned, wanted=wanted, allowed=sentence_in(finding.allowed, system, typed=typed))
    return finding if turned == finding else turned


def _measured(finding: Finding, allowed: Interval, unit: str) -> Finding:
    span, value = interval_in(allowed, unit, System.US), _value(finding.value, allowed, unit)
    us = CONVERSIONS[unit].us
    shown = [_words(one, us) for one in atoms(value)] if finding.wanted and value is not None else []
    return replace(
        finding,
        unit=us,
        limit=Within(span),
        allowed=str(span) if finding.allowed == str(allowed) else finding.allowed,
        value=value,
        wanted=" + ".join(shown) or finding.wanted,
        margin=None if finding.margin is None else _difference(finding.margin, unit),
    )


def _span(span: Interval, allowed: Interval, unit: str) -> Interval:
    """A window. Its own ends are limits too, so they are rounded inwards where they lie inside."""
    inside = interval_in(span, unit, System.US)
    lo = inside.lo if span.lo is None or _is_in(span.lo, allowed) else held_to(span.lo, allowed, unit)
    hi = inside.hi if span.hi is None or _is_in(span.hi, allowed) else held_to(span.hi, allowed, unit)
    if lo is not None and hi is not None and lo > hi:
        lo = hi
    same = lo is not None and lo == hi
    return Interval(lo, hi, inside.unit, span.lo_open and not same, span.hi_open and not same)


def _is_in(end: Decimal, allowed: Interval) -> bool:
    """True where an end lies on the ends of what is allowed or between them, open or not."""
    return (allowed.lo is None or allowed.lo <= end) and (allowed.hi is None or end <= allowed.hi)


def _value(value: Value | None, allowed: Interval, unit: str) -> Value | None:
    if value is None:
        return None
    turned = tuple(
        held_to(one, allowed, unit)
        if isinstance(one, Decimal)
        else _span(one, allowed, unit)
        if isinstance(one, Interval)
        else one
        for one in atoms(value)
    )
    return turned if len(turned) != 1 else turned[0]


def _words(atom: object, us: str) -> str:
    return f"{number(atom)} {us}" if isinstance(atom, Decimal) else str(atom)


def _difference(margin: Decimal, unit: str) -> Decimal:
    return CONVERSIONS[unit].difference(margin, ROUND_UP if margin < 0 else ROUND_DOWN)
