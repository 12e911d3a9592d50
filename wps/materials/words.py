"""Figures of a certificate in words."""

from decimal import Decimal

from codes.units import System, amount_in
from codes.values import Interval


def span_words(lo: Decimal | None, hi: Decimal | None, unit: str = "", system: System = System.SI) -> str:
    """A range whose ends may be missing, to the nearest in the reader's units.

    Example: (None, 40, "mm") gives "up to 40 mm".
    """
    if lo is None and hi is None:
        return ""
    ends = [None if end is None else amount_in(end, unit, system).partition(" ") for end in (lo, hi)]
    figures = [None if end is None else Decimal(end[0]) for end in ends]
    return str(Interval(figures[0], figures[1], next(end[2] for end in ends if end)))
