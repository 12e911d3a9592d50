"""Figures of a certificate in words."""

from decimal import ROUND_FLOOR, Decimal

from codes.units import System, amount_in
from codes.values import Interval, number

FOOT_POUND_J = Decimal("1.3558179483314004")
"""Exact by definition: 0.3048 m times 4.4482216152605 N."""


def span_words(lo: Decimal | None, hi: Decimal | None, unit: str = "", system: System = System.SI) -> str:
    """A range whose ends may be missing, to the nearest in the reader's units.

    Example: (None, 40, "mm") gives "up to 40 mm".
    """
    if lo is None and hi is None:
        return ""
    ends = [None if end is None else amount_in(end, unit, system).partition(" ") for end in (lo, hi)]
    figures = [None if end is None else Decimal(end[0]) for end in ends]
    return str(Interval(figures[0], figures[1], next(end[2] for end in ends if end)))


def energy_in(joules: Decimal, system: System) -> str:
    """A measured impact energy; in US units rounded down, so that no toughness is claimed that was not measured.

    Example: 96 J is "70.8 ft·lbf (96 J)" to a reader in US units.
    """
    if system is System.SI:
        return amount_in(joules, "J", system)
    feet = (joules / FOOT_POUND_J).quantize(Decimal("0.1"), ROUND_FLOOR)
    return f"{number(feet)} ft·lbf ({number(joules)} J)"
