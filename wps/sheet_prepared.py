"""What the preparation of a procedure says, for paper: figures in the reader's units, an author's words as they are."""

import re
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from codes.units import System, amount_in, interval_in
from codes.values import Interval

_FIGURES = re.compile(r"(\d+(?:\.\d+)?)(?:\s*(?:to|-|–)\s*(\d+(?:\.\d+)?))?")
UNITS = ("mm", "°")


def stated(label: str, said: str, system: System) -> tuple[str, str]:
    """Label and value, the unit moved from the label to the figure; a range is rounded inwards.

    Example: ("Root gap, mm", "2 to 4") gives ("Root gap", "0.079 to 0.157 in") in US units. Other words stay.
    """
    name, _, unit = label.rpartition(", ")
    found = _FIGURES.fullmatch(said)
    if unit not in UNITS or not name:
        return label, said
    if found is None:
        # "about 2" is nobody's figure to convert: the unit that the form asked for goes along.
        return name, said if re.search(rf"{unit}(?![a-z])", said) else f"{said} {unit}"
    lo, hi = (None if figure is None else Decimal(figure) for figure in found.groups())
    if lo is None or hi is None or lo >= hi:
        return name, amount_in(lo or Decimal(0), unit, system) if hi is None else f"{said} {unit}"
    return name, str(interval_in(Interval(lo, hi, unit), unit, system))


def prepared_lines(
    preparation: Mapping[str, object], asked: Sequence[tuple[str, str]], system: System
) -> Iterator[tuple[str, str]]:
    """Label and value of each field (label, key) that is stated."""
    for label, key in asked:
        if said := str(preparation.get(key) or "").strip():
            yield stated(label, said, system)
