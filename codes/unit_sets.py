"""Figures that a code states twice, in US customary and in SI units, rounded apart: two sets, never converted.

A record is judged by the set it was made to (`unit_system`). All results are in mm, an inch figure by the exact
factor: a limit of 3/4 in is 19.05 mm for a record in US units and 20 mm for one in SI units.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from codes.editions import Tested
from codes.units import INCH_MM
from codes.values import number

System = Literal["us", "si"]


@dataclass(frozen=True, slots=True)
class Twin:
    """One limit in both sets: inches and millimetres. Example: Twin(D("0.75"), D(20)).mm("si") is 20."""

    inches: Decimal
    metric: Decimal

    def mm(self, system: System) -> Decimal:
        """The limit in mm by the set."""
        return self.inches * INCH_MM if system == "us" else self.metric


def twin(inches: str, metric: str) -> Twin:
    """Shorthand. Example: twin("0.125", "3") is 1/8 in or 3 mm."""
    return Twin(Decimal(inches), Decimal(metric))


def size_said(length: Decimal, system: System) -> str:
    """A length in words, in inches too for a record in US units. Example: "12.7 mm (0.5 in)"."""
    # Four places, since the figures of the code are sixteenths.
    inches = number((length / INCH_MM).quantize(Decimal("0.0001")))
    return f"{number(length)} mm ({inches} in)" if system == "us" else f"{number(length)} mm"


def system_of(piece: Tested) -> System | None:
    """The unit set of a record, None where it is not stated."""
    stated = piece.get("unit_system")
    if stated == "us":
        return "us"
    return "si" if stated == "si" else None
