"""The figures beside a symbol, as each standard writes them. No unit stands beside them: the caption names it once."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from math import sqrt

from codes.units import CONVERSIONS, INCH_MM, System, figure_in
from codes.values import Interval
from wps.sketch.preparation import Size
from wps.symbol.spec import Side

SIXTEENTHS = 16
TENTH, FINE = Decimal("0.1"), Decimal("0.0001")
"""Steps of a leg that is reckoned [mm]; one that is turned into inches is rounded there, and not twice."""
STEP_MM = CONVERSIONS["mm"].step * INCH_MM


def iso_size(side: Side, system: System) -> str:
    """Left of an ISO 2553 symbol: a (throat) or z (leg) of a fillet, s (penetration) of a partial butt weld.

    No figure beside a butt weld means full penetration.
    """
    for letter, size in (("a", side.throat), ("z", side.leg), ("s", side.penetration)):
        if size is not None:
            return f"{letter}{said(size, system)}"
    return ""


def iso_length(side: Side, system: System) -> str:
    """Right of an ISO 2553 symbol: the length; of an intermittent weld number × length (clear gap)."""
    if side.length is None:
        return ""
    length = said(side.length, system)
    if side.gap_between is None:
        return length
    count = "n" if side.count is None else str(side.count)
    return f"{count} × {length} ({said(side.gap_between, system)})"


def aws_size(side: Side, system: System) -> str:
    """Left of an AWS A2.4 symbol: the leg of a fillet; depth of groove and, in brackets, weld size of a groove."""
    if side.leg is not None:
        return said(side.leg, system)
    if side.throat is not None:
        return said(_leg_of(side.throat, system), system, ROUND_CEILING)
    depth = "" if side.groove_depth is None else said(side.groove_depth, system)
    return depth + ("" if side.penetration is None else f"({said(side.penetration, system)})")


def aws_length(side: Side, system: System) -> str:
    """Right of an AWS A2.4 symbol: the length; of an intermittent weld length-pitch, from centre to centre."""
    if side.length is None:
        return ""
    if side.gap_between is None:
        return said(side.length, system)
    pitch = side.length.drawn + side.gap_between.drawn
    return f"{said(side.length, system)}-{_figure(pitch, 'mm', system, ROUND_FLOOR)}"


def said(size: Size, system: System, rounding: str = "") -> str:
    """A size as it stands beside a symbol. Examples: "5", "3–6", "≥3", "60°", in inches "1/4".

    In inches it reads as the sheet around the symbol has it: a range rounded inwards, a single figure to the nearest,
    unless `rounding` says otherwise.
    """
    degree = "°" if size.unit == "°" else ""
    stated = size.stated
    if isinstance(stated, Decimal):
        return _figure(stated, size.unit, system, rounding) + degree
    narrow = stated.lo is not None and stated.hi is not None and stated.hi - stated.lo < STEP_MM
    ends = ((stated.lo, ROUND_CEILING), (stated.hi, ROUND_CEILING if narrow else ROUND_FLOOR))
    lo, hi = (None if end is None else _figure(end, size.unit, system, rounding) for end, rounding in ends)
    if lo is None or hi is None:
        return f"≥{lo}{degree}" if hi is None else f"≤{hi}{degree}"
    return f"{lo}{degree}" if lo == hi else f"{lo}–{hi}{degree}"


def _figure(value: Decimal, unit: str, system: System, rounding: str = "") -> str:
    """Inches in sixteenths where they are exact, otherwise as decimals."""
    if system is System.SI or unit != "mm":
        return figure_in(value, unit, system)
    parts = value / INCH_MM * SIXTEENTHS
    if parts != parts.to_integral_value():
        return figure_in(value, unit, system, rounding)
    whole, rest = divmod(int(parts), SIXTEENTHS)
    over = SIXTEENTHS
    while rest and rest % 2 == 0:
        rest, over = rest // 2, over // 2
    return " ".join(
        part for part in (str(whole) if whole or not rest else "", f"{rest}/{over}" if rest else "") if part
    )


def _leg_of(throat: Size, system: System) -> Size:
    """The leg of an equal-legged fillet, z = a × √2, in millimetres to a tenth: AWS sizes the leg.

    A single one is rounded up, so that none makes less than the throat stated; a range inwards: 8.5 mm would be
    a = 6.01 mm, more than one up to 6 mm allows.
    """

    step = FINE if system is System.US else TENTH

    def leg(value: Decimal | None, rounding: str = ROUND_CEILING) -> Decimal | None:
        return None if value is None else (value * Decimal(str(sqrt(2)))).quantize(step, rounding)

    stated = throat.stated
    drawn = leg(throat.drawn) or throat.drawn
    if isinstance(stated, Interval):
        lo, hi = leg(stated.lo), leg(stated.hi, ROUND_FLOOR)
        return Size(Interval(lo, hi if lo is None or hi is None else max(lo, hi), stated.unit), drawn, throat.unit)
    return Size(drawn, drawn, throat.unit)
