"""Arc energy and heat input of a run, from the corners of its ranges. Units: A, V, mm/min, kJ/mm.

E = U I / v x 10^-3 with v in mm/s; Q = k E with the thermal efficiency k of the process.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.clauses import Clause, Mark
from codes.values import Interval, number

FORMULA = Clause("ISO/TR 18491:2015", "arc energy U x I / v", Mark.CONFIRMED, "maker's handbook on heat input")
EFFICIENCY = Clause("ISO/TR 17671-1:2002", "Table 1, thermal efficiency k", Mark.CONFIRMED, "two public handbooks")

# Processes that are not named have no factor here: no heat input is worked out for them.
K_FACTORS = (
    (("121", "122", "124", "125", "126"), Decimal("1.0")),
    (("111", "114", "131", "132", "133", "135", "136", "137", "138"), Decimal("0.8")),
    (("141", "142", "143", "145", "15"), Decimal("0.6")),
)
PLACES = Decimal("0.001")
HEAT_INPUT, ARC_ENERGY = "heat_input", "arc_energy"


@dataclass(frozen=True, slots=True)
class Range:
    """A range of one welding parameter; an end that is not stated is None."""

    lo: Decimal | None
    hi: Decimal | None


def efficiency(process: str) -> Decimal | None:
    """The factor k of a process, or None where none is on file. Example: efficiency("135") is 0.8."""
    return next((k for processes, k in K_FACTORS if process in processes), None)


def arc_energy(current: Decimal, voltage: Decimal, speed: Decimal) -> Decimal:
    """E in kJ/mm of I in A, U in V and v in mm/min. Raises ValueError if v is not above 0.

    Example: 300 A, 20 V, 150 mm/min give 2.4 kJ/mm.
    """
    if speed <= 0:
        raise ValueError("the travel speed must be above 0 mm/min")
    return current * voltage * 60 / (speed * 1000)


def heat_interval(
    process: str, current: Range, voltage: Range, speed: Range, measure: str = HEAT_INPUT
) -> Interval | None:
    """The least and the greatest heat of a run: all parameters at the ends that make it so. None where one is missing.

    `measure`: "heat_input" with k, "arc_energy" without. Example: 135, 200-250 A, 24-28 V, 300-400 mm/min give
    0.576 to 1.12 kJ/mm.
    """
    k = efficiency(process) if measure == HEAT_INPUT else Decimal(1)
    ends = (current.lo, current.hi, voltage.lo, voltage.hi, speed.lo, speed.hi)
    if k is None or any(end is None for end in ends) or not speed.lo:
        return None
    least = k * arc_energy(current.lo, voltage.lo, speed.hi)  # type: ignore[arg-type]
    greatest = k * arc_energy(current.hi, voltage.hi, speed.lo)  # type: ignore[arg-type]
    return Interval(_rounded(least, ROUND_FLOOR), _rounded(greatest, ROUND_CEILING), "kJ/mm")


def _rounded(value: Decimal, way: str) -> Decimal:
    """To a watt-second per mm, away from the middle: a rounded range never hides an end that lies outside."""
    return Decimal(number(value.quantize(PLACES, way)))
