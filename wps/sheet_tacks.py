"""What a sheet says of tack welds: whether the procedure serves them, how they are made, how long they must be."""

from collections.abc import Mapping
from decimal import Decimal

from codes.en_1090_2_2018.tacks import ENOUGH, TIMES, tack_minimum_length
from codes.units import System, amount_in, at_least, at_most
from codes.values import Interval, Value, atoms
from codes.values import number as plain

RULE = "EN 1090-2:2018, 7.5.7"
ELSEWHERE = ("AWS ", "ASME ")
"""Codes of work that EN 1090-2 does not govern."""


def governs(code: str) -> bool:
    """Whether EN 1090-2 governs the work of a procedure qualified to a code: it builds on procedures to ISO and EN
    standards (7.4.1), and says nothing of work to AWS D1.1 or ASME IX. For a code that is not known the rule is said.
    """
    return not code.startswith(ELSEWHERE)


def tack_length(values: Mapping[str, Value], system: System) -> str:
    """The shortest tack for the thicker part of the joint, over the range of thickness.

    Example: 6 to 24 mm: "24 mm at 6 mm, growing to 50 mm from 12.5 mm on".
    """
    least, most = _thicknesses(values)
    enough = ENOUGH / TIMES
    if most is None and least is None:
        return f"{plain(TIMES)} x the thicker part, at most {at_least(ENOUGH, 'mm', system)} needed"
    if least is not None and least >= enough:
        return at_least(ENOUGH, "mm", system)
    if most is not None and (least is None or least == most):
        return at_least(tack_minimum_length(most), "mm", system)
    start = f"{_at(least, at_least(least, 'mm', system), system)}, growing to " if least else ""
    if most is not None and most < enough:
        return f"{start}{_at(most, at_most(most, 'mm', system), system)}"
    return f"{start}{at_least(ENOUGH, 'mm', system)} from {amount_in(enough, 'mm', system)} on"


def _at(thickness: Decimal, shown: str, system: System) -> str:
    """`shown`: the thickness as the range of the sheet says it, rounded inwards."""
    return f"{at_least(tack_minimum_length(thickness), 'mm', system)} at {shown}"


def _thicknesses(values: Mapping[str, Value]) -> tuple[Decimal | None, Decimal | None]:
    """The thinnest and the thickest thicker part. Of two single figures the larger is the thicker part."""
    parts = atoms(values.get("parent_t", ()))
    lows = [part.lo if isinstance(part, Interval) else part for part in parts]
    highs = [part.hi if isinstance(part, Interval) else part for part in parts]
    known_lows = [low for low in lows if isinstance(low, Decimal) and low > 0]
    known_highs = [high for high in highs if isinstance(high, Decimal)]
    most = max(known_highs) if known_highs and len(known_highs) == len(highs) else None
    return (max(known_lows) if known_lows else None), most
