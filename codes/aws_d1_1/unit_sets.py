"""The two sets of figures of AWS D1.1: US customary and SI. They are not conversions of each other (1.4 [1.5]).

A record states which set it was made to; its limits come from that set and are kept in mm and °C by exact factors.
A demand of the other set is not compared with it: 20 mm is "up to 20 mm" in SI, though it is more than 3/4 in.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from enum import Enum
from fractions import Fraction

from codes.units import INCH_MM, System, amount_in

THOUSANDTH = Decimal("0.001")


class Units(Enum):
    """A set of figures."""

    US = "us"
    SI = "si"

    @property
    def shown(self) -> System:
        """The system its values are shown in."""
        return System.US if self is Units.US else System.SI


def inch(text: str) -> Decimal:
    """Inches as the code writes them, in mm, exactly. Raises ValueError. Example: inch("1-1/2") is 38.1."""
    whole, _, part = text.rpartition("-")
    parts = Fraction(part) + (Fraction(whole) if whole else 0)
    return Decimal(parts.numerator) * INCH_MM / Decimal(parts.denominator)


@dataclass(frozen=True, slots=True)
class Size:
    """A length that the code gives in both sets. Example: Size("3/8", "10")."""

    us: str
    si: str

    def mm(self, units: Units) -> Decimal:
        """The figure of one set, in mm."""
        return inch(self.us) if units is Units.US else Decimal(self.si)

    def __str__(self) -> str:
        return f"{self.us} in [{self.si} mm]"


@dataclass(frozen=True, slots=True)
class Heat:
    """A temperature that the code gives in both sets, whole degrees. Example: Heat(150, 65)."""

    f: int
    c: int

    def at_least(self, units: Units) -> Decimal:
        """As a lower limit in °C. Ninths have no end as a decimal: they are cut to the thousandth below."""
        return floor_thousandth(fahrenheit(Decimal(self.f))) if units is Units.US else Decimal(self.c)

    def __str__(self) -> str:
        return f"{self.f} °F [{self.c} °C]"


@dataclass(frozen=True, slots=True)
class Degrees:
    """A difference of temperature in both sets. Example: Degrees(25, 15)."""

    f: int
    c: int

    def celsius(self, units: Units) -> Decimal:
        """The difference in °C."""
        return Decimal(self.f) * 5 / 9 if units is Units.US else Decimal(self.c)

    def __str__(self) -> str:
        return f"{self.f} °F [{self.c} °C]"


def fahrenheit(value: Decimal) -> Decimal:
    """°F to °C. Example: fahrenheit(D(212)) is 100."""
    return (value - 32) * 5 / 9


def floor_thousandth(value: Decimal) -> Decimal:
    """Cut to the thousandth below: so that a lower limit of repeating ninths is met by its own figure."""
    return value.quantize(THOUSANDTH, ROUND_FLOOR)


def ceiling_thousandth(value: Decimal) -> Decimal:
    """Raised to the thousandth above, for an upper limit."""
    return value.quantize(THOUSANDTH, ROUND_CEILING)


def words(value: Decimal, units: Units, unit: str = "mm") -> str:
    """A stored value in the words of a set. Example: 9.525 mm gives "0.375 in"."""
    return amount_in(value, unit, units.shown)
