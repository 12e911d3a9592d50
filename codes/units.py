"""SI values and their US customary forms, by exact factors. Stored values are SI; only what is shown is converted.

Exact by definition: inch 25.4 mm, cubic foot 28.316846592 l, pound-force 4.4482216152605 N. The pound-force per square
inch is 4448.2216152605 N / 645.16 mm2 for 1000 of them, so 1 ksi is 6.894757293168361... MPa and never needs rounding.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from enum import Enum

from codes.values import Interval, number

INCH_MM = Decimal("25.4")
KSI_N, KSI_MM2 = Decimal("4448.2216152605"), Decimal("645.16")
CUBIC_FOOT_L = Decimal("28.316846592")
DIGITS = Context(prec=24)
"""Of a figure that is kept with 28: what was cut off of 224 °F when it was typed lies behind them."""


class System(Enum):
    """The units in which a reader wants to see values."""

    SI = "si"
    US = "us"


@dataclass(frozen=True, slots=True)
class Conversion:
    """us = si x times / over + plus; `step` is the finest figure that is shown in US units.

    `kept`: the SI places to which forms keep a US figure that ends in none, nought where every step ends in SI.
    `usual`: how a figure is rounded that is no limit. To the nearest, but a strength is a least and never read as more.
    """

    si: str
    us: str
    times: Decimal
    over: Decimal
    step: Decimal
    plus: Decimal = Decimal(0)
    kept: Decimal = Decimal(0)
    usual: str = ROUND_HALF_EVEN

    def to_us(self, value: Decimal) -> Decimal:
        """The US figure of an SI value, to the 28 digits of the decimal context."""
        return value * self.times / self.over + self.plus

    def to_si(self, value: Decimal) -> Decimal:
        """The SI figure of a US value."""
        return (value - self.plus) * self.over / self.times

    def shown(self, value: Decimal, rounding: str = "") -> Decimal:
        """The US figure to the step; one that was typed in US units comes out as it was, however it is rounded.

        Example: 400 °F is kept as 204.444 °C, which is 399.9992 °F; as the most it is 400 °F and not 399.
        """
        exact = DIGITS.plus(self.to_us(value))
        if self.kept and value == self.to_si(typed := exact.quantize(self.step)).quantize(self.kept):
            return typed
        return exact.quantize(self.step, rounding or self.usual)

    def difference(self, value: Decimal, rounding: str = ROUND_HALF_EVEN) -> Decimal:
        """The US figure of a difference of two SI values, to the step."""
        return DIGITS.plus(value * self.times / self.over).quantize(self.step, rounding)


_ONE = Decimal(1)
_ROWS = (
    Conversion("mm", "in", _ONE, INCH_MM, Decimal("0.001")),
    Conversion("MPa", "ksi", KSI_MM2, KSI_N, Decimal("0.1"), kept=Decimal("0.001"), usual=ROUND_FLOOR),
    Conversion("°C", "°F", Decimal(9), Decimal(5), _ONE, plus=Decimal(32), kept=Decimal("0.001")),
    Conversion("mm/min", "in/min", _ONE, INCH_MM, Decimal("0.1")),
    Conversion("m/min", "in/min", Decimal(1000), INCH_MM, _ONE),
    Conversion("kJ/mm", "kJ/in", INCH_MM, _ONE, Decimal("0.1")),
    Conversion("l/min", "ft³/h", Decimal(60), CUBIC_FOOT_L, _ONE, kept=Decimal("0.001")),
)
CONVERSIONS = {row.si: row for row in _ROWS}
"""SI unit to its conversion; a unit that is not here (A, V, %, min) is the same in both systems."""


def unit_in(unit: str, system: System) -> str:
    """The unit as the system writes it. Example: unit_in("mm/min", System.US) is "in/min"."""
    row = CONVERSIONS.get(unit)
    return row.us if row and system is System.US else unit


def figure_in(value: Decimal, unit: str, system: System, rounding: str = "") -> str:
    """The figure of a stored SI value, without its unit. SI figures are never rounded.

    Example: figure_in(Decimal("25.4"), "mm", System.US) is "1".
    """
    row = CONVERSIONS.get(unit)
    if row is None or system is System.SI:
        return number(value)
    return number(row.shown(value, rounding))


def amount_in(value: Decimal, unit: str, system: System, rounding: str = "") -> str:
    """Figure and unit. Example: amount_in(Decimal(100), "°C", System.US) is "212 °F"."""
    gap = "" if unit == "°" else " "
    return f"{figure_in(value, unit, system, rounding)}{gap}{unit_in(unit, system)}".strip()


def difference_in(value: Decimal, unit: str, system: System, rounding: str = "") -> str:
    """Figure and unit of a difference, as a margin is one: of two temperatures, 0 °C apart is 0 °F and not 32 °F.

    Example: difference_in(Decimal(10), "°C", System.US) is "18 °F".
    """
    row = CONVERSIONS.get(unit)
    if row is None or system is System.SI or not row.plus:
        return amount_in(value, unit, system, rounding)
    return f"{number(row.difference(value, rounding or ROUND_HALF_EVEN))} {row.us}"


def at_least(value: Decimal, unit: str, system: System) -> str:
    """A lower limit, rounded upwards so that what is shown never lies outside. Example: 3 mm is 0.119 in."""
    return amount_in(value, unit, system, ROUND_CEILING)


def at_most(value: Decimal, unit: str, system: System) -> str:
    """An upper limit, rounded downwards. Example: 16 mm is 0.629 in."""
    return amount_in(value, unit, system, ROUND_FLOOR)


def interval_in(interval: Interval, unit: str, system: System) -> Interval:
    """The interval in the figures of a system, each end rounded inwards (to the nearest where that leaves nothing).

    Example: 3 to 16 mm is 0.119 to 0.629 in.
    """
    row = CONVERSIONS.get(unit)
    if row is None or system is System.SI:
        return Interval(interval.lo, interval.hi, unit, interval.lo_open, interval.hi_open)
    lo = None if interval.lo is None else row.shown(interval.lo, ROUND_CEILING)
    hi = None if interval.hi is None else row.shown(interval.hi, ROUND_FLOOR)
    if lo is not None and hi is not None and lo > hi:
        # Narrower than one step: both ends are the same figure.
        lo = hi = row.shown(interval.lo or Decimal(0))
    same = lo is not None and lo == hi
    return Interval(lo, hi, row.us, interval.lo_open and not same, interval.hi_open and not same)


def held_to(value: Decimal, allowed: Interval, unit: str) -> Decimal:
    """A value in US units beside what is allowed, both given in SI: on the side of the ends shown on which it lies.

    To the nearest step; on an end it is said as that end is, and nothing outside reads as inside.
    Example: 19 mm, of up to 16 mm, is 0.748 in; 25.401 mm, of up to 25.4 mm, is 1.001 in and not 1 in.
    """
    row = CONVERSIONS[unit]
    shown, span = row.shown(value), interval_in(allowed, unit, System.US)
    if allowed.lo is not None and value < allowed.lo:
        return shown if span.lo is None or shown < span.lo else row.shown(value, ROUND_FLOOR)
    if allowed.hi is not None and value > allowed.hi:
        return shown if span.hi is None or shown > span.hi else row.shown(value, ROUND_CEILING)
    shown = shown if span.lo is None else max(shown, span.lo)
    return shown if span.hi is None else min(shown, span.hi)
