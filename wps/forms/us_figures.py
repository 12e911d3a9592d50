"""Figures typed in US customary units, as a US drawing writes them: kept as SI by exact factors.

Fractions are read ("1-1/2 in", "5/32"" with an inch sign). Temperatures end in ninths: they are kept to the thousandth.
"""

import re
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from codes.units import CONVERSIONS, Conversion
from codes.values import number

NAMES = {
    "mm": ("in", "in.", "inch", "inches", '"', "″"),
    "MPa": ("ksi",),
    "°C": ("°f", "f", "degf", "deg f"),
    "mm/min": ("in/min", "ipm", "in./min"),
    "m/min": ("in/min", "ipm", "in./min"),
    "kJ/mm": ("kj/in", "kj/in."),
    "l/min": ("ft³/h", "ft3/h", "cfh", "scfh"),
}
"""SI unit to the ways in which its US counterpart is written."""
THOUSANDTH = Decimal("0.001")
_FIGURE = re.compile(r"^\s*(-?\d+(?:[.,]\d+)?(?:[- ]\d+/\d+)?|\d+/\d+)\s*(\D.*?)\s*$")


def in_si(value: Any, unit: str) -> Any:
    """What was typed with every US figure in the SI unit; all else as it is. Ranges and lists part by part.

    Example: in_si("3/8 in", "mm") is "9.525"; in_si("12", "mm") is "12".
    """
    if isinstance(value, Mapping):
        return {key: in_si(part, unit) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [in_si(part, unit) for part in value]
    row = CONVERSIONS.get(unit)
    found = _FIGURE.match(value) if isinstance(value, str) and row is not None else None
    if row is None or found is None or found[2].casefold() not in NAMES.get(unit, ()):
        return value
    figure = _figure(found[1])
    return value if figure is None else _si_text(figure, row)


def _si_text(figure: Decimal, row: Conversion) -> str:
    exact = row.to_si(figure)
    return number(exact.quantize(THOUSANDTH) if row.plus else exact)


def _figure(text: str) -> Decimal | None:
    whole, _, part = text.replace(",", ".").replace(" ", "-").rpartition("-") if "/" in text else ("", "", "")
    try:
        if not part:
            return Decimal(text.replace(",", "."))
        above, below = (Decimal(one) for one in part.split("/"))
        return (Decimal(whole) if whole else Decimal(0)) + above / below
    except (InvalidOperation, ZeroDivisionError):
        return None
