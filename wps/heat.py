"""Arc energy and heat input of a run, from the corners of its ranges. Units: A, V, mm/min, kJ/mm.

The formulas and the thermal efficiencies are those of `codes.calc`; here they meet ranges that may lack an end.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.calc import heat
from codes.calc.heat import efficiency
from codes.calc.heat_window import heat_input_window
from codes.calc.result import Refused
from codes.values import Interval, number

__all__ = ["ARC_ENERGY", "HEAT_INPUT", "Range", "arc_energy", "efficiency", "heat_interval", "measure_by"]

PLACES = Decimal("0.001")
HEAT_INPUT, ARC_ENERGY = "heat_input", "arc_energy"
WITHOUT_K = ("AWS D1.1", "ASME IX")
"""Codes whose heat input knows no efficiency factor: AWS D1.1, 6.8.5; ASME IX, QW-409.1."""


def measure_by(code: str, stated: object = None) -> str:
    """How the heat of runs is reckoned: as the procedure states, else as its code does.

    Example: "AWS D1.1:2020" gives "arc_energy", "ISO 15614-1:2017" gives "heat_input", which has k in it.
    """
    if isinstance(stated, list | tuple) and len(stated) == 1:
        stated = stated[0]
    if isinstance(stated, str) and stated:
        return stated
    return ARC_ENERGY if code.startswith(WITHOUT_K) else HEAT_INPUT


@dataclass(frozen=True, slots=True)
class Range:
    """A range of one welding parameter; an end that is not stated is None."""

    lo: Decimal | None
    hi: Decimal | None

    def interval(self, unit: str) -> Interval | None:
        """The range with both ends, or None where one is missing or they are the wrong way round."""
        if self.lo is None or self.hi is None or self.lo > self.hi:
            return None
        return Interval(self.lo, self.hi, unit)


def arc_energy(current: Decimal, voltage: Decimal, speed: Decimal) -> Decimal:
    """E in kJ/mm of I in A, U in V and v in mm/min. Raises ValueError where one is not above 0.

    Example: 300 A, 20 V, 150 mm/min give 2.4 kJ/mm.
    """
    return heat.arc_energy(voltage, current, speed).figure


def heat_interval(
    process: str, current: Range, voltage: Range, speed: Range, measure: str = HEAT_INPUT
) -> Interval | None:
    """The least and the greatest heat of a run: all parameters at the ends that make it so. None where one is missing
    or has no use in the formula.

    `measure`: "heat_input" with k, "arc_energy" without. Example: 135, 200-250 A, 24-28 V, 300-400 mm/min give
    0.576 to 1.12 kJ/mm.
    """
    u, i, v = voltage.interval("V"), current.interval("A"), speed.interval("mm/min")
    known = measure != HEAT_INPUT or efficiency(process) is not None
    if u is None or i is None or v is None or not known:
        return None
    try:
        found = heat_input_window(u, i, v, process if measure == HEAT_INPUT else None, measure=measure)
    except Refused:
        return None
    ends = _rounded(found.number("least"), ROUND_FLOOR), _rounded(found.number("greatest"), ROUND_CEILING)
    return Interval(*ends, "kJ/mm")


def _rounded(value: Decimal, way: str) -> Decimal:
    """To a watt-second per mm, away from the middle: a rounded range never hides an end that lies outside."""
    return Decimal(number(value.quantize(PLACES, way)))
