"""A finding as a reader in US units sees it. It was judged in SI; only what is shown is turned over.

Value and ends are rounded alike, to the nearest, so that a value at an end still reads as that end. A margin is a
difference, rounded down where there is some to spare and up where it misses. What a rule rests on stays in the figures
of its code.
"""

from dataclasses import replace
from decimal import ROUND_DOWN, ROUND_UP, Decimal

from codes.limits import Within
from codes.units import CONVERSIONS, Conversion, System
from codes.values import Interval, Value, atoms, number
from codes.verdict import Finding


def finding_in(finding: Finding, system: System) -> Finding:
    """The finding in the reader's units; one that measures nothing, or in the same units, is left as it is.

    Example: 12 mm of 3 to 16 mm, 4 mm to spare, is 0.472 in of 0.118 to 0.63 in, 0.157 in to spare.
    """
    limit = finding.limit
    if system is System.SI or not isinstance(limit, Within):
        return finding
    row = CONVERSIONS.get(finding.unit or limit.interval.unit)
    if row is None:
        return finding
    span, value = _span(limit.interval, row), _value(finding.value, row)
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


def _figure(value: Decimal, row: Conversion) -> Decimal:
    return row.to_us(value).quantize(row.step)


def _span(span: Interval, row: Conversion) -> Interval:
    lo, hi = (end if end is None else _figure(end, row) for end in (span.lo, span.hi))
    return Interval(lo, hi, row.us, span.lo_open, span.hi_open)


def _value(value: Value | None, row: Conversion) -> Value | None:
    if value is None:
        return None
    turned = tuple(
        _figure(one, row) if isinstance(one, Decimal) else _span(one, row) if isinstance(one, Interval) else one
        for one in atoms(value)
    )
    return turned if len(turned) != 1 else turned[0]


def _words(atom: object, row: Conversion) -> str:
    return f"{number(atom)} {row.us}" if isinstance(atom, Decimal) else str(atom)


def _difference(margin: Decimal, row: Conversion) -> Decimal:
    exact = row.to_us(margin) - row.plus
    return exact.quantize(row.step, ROUND_UP if margin < 0 else ROUND_DOWN)
