"""Combined thickness of the heat paths (EN 1011-2 method A only), and the mean thickness over 75 mm. Units: mm.

Not the plate thickness of method B and t8/5, nor the thickest part of AWS D1.1.
"""

from collections.abc import Mapping
from decimal import Decimal

from codes.calc.calculation import Calculation, Kind, asked, choice
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, positive
from codes.clauses import Clause, Mark
from codes.values import number

TIMES_PLATE = "preheat help page of a public weld calculator: butt twice, T three times the plate"
CONFIRMED = Clause("EN 1011-2:2001", "C.2.4, combined thickness", Mark.CONFIRMED, TIMES_PLATE)
MEMORY = Clause("EN 1011-2:2001", "C.2.4, combined thickness", Mark.MEMORY)
DERIVED = Clause("EN 1011-2:2001", "C.2.4, combined thickness", Mark.OWN, "derived from the paths of heat")
AVERAGE = Clause("EN 1011-2:2001", "C.2.4, mean over 75 mm", Mark.MEMORY)
DISTANCE = Decimal(75)
LARGEST_BAR = Decimal(80)

# Form -> number of thicknesses, factor of each, factor of the sum, clause, what the thicknesses are.
FORMS: Mapping[str, tuple[tuple[int, ...], Decimal, Clause, str]] = {
    "butt": ((1, 1), Decimal(1), CONFIRMED, "d1 + d2"),
    "corner": ((1, 1), Decimal(1), MEMORY, "d1 + d2"),
    "tee": ((1, 1, 1), Decimal(1), CONFIRMED, "d1 + d2 + d3: flange to both sides, and stem"),
    "tee_both_sides": ((1, 1, 1), Decimal("0.5"), MEMORY, "½·(d1 + d2 + d3): both fillets opposite each other at once"),
    "lap": ((1, 2), Decimal(1), DERIVED, "t_top + 2·t_bottom"),
    "cruciform": ((1, 1, 1, 1), Decimal(1), DERIVED, "d1 + d2 + d3 + d4"),
    "bars": ((1, 1), Decimal("0.5"), MEMORY, "½·(D1 + D2): bars or tubes up to about 80 mm"),
}


@exact
def combined_thickness(form: str, thicknesses: tuple[Decimal, ...]) -> Result:
    """The sum of the paths of heat; each thickness is the mean over 75 mm from the weld line.

    A tee may state flange and stem only. Example: tee 25, 12 is 62 mm; welded on both sides at once 31 mm.
    """
    working = Working()
    counts, factor, clause, formula = FORMS[form]
    parts = thicknesses
    if form.startswith("tee") and len(parts) == 2:
        parts = (parts[0], parts[0], parts[1])
    if len(parts) != len(counts):
        raise Refused(
            "thicknesses", f"{form.replace('_', ' ')} has {len(counts)} thicknesses ({formula}), not {len(thicknesses)}"
        )
    for i, (part, count) in enumerate(zip(parts, counts, strict=True), start=1):
        positive("thicknesses", part, "mm")
        if form == "bars" and part > LARGEST_BAR:
            raise Refused("thicknesses", f"{number(part)} mm is above 80 mm, up to which bars are counted by half")
        working.step(f"path_{i}", part * count, "mm")
    total = sum((part * count for part, count in zip(parts, counts, strict=True)), Decimal(0))
    working.flag("each thickness is the mean over 75 mm from the weld line (from memory)")
    return working.result(total * factor, "mm", clause, formula)


@exact
def averaged_thickness(segments: tuple[tuple[Decimal, Decimal], ...]) -> Result:
    """The mean thickness over 75 mm of (thickness, length) from the weld line outwards.

    Raises Refused where the lengths do not reach 75 mm. Example: 30 mm for 25 mm, then 20 mm for 50: 23.3 mm.
    """
    working = Working()
    left, total = DISTANCE, Decimal(0)
    for i, (thickness, length) in enumerate(segments, start=1):
        counted = min(left, positive("segments", length, "mm"))
        total += working.step(f"segment_{i}", positive("segments", thickness, "mm") * counted, "mm²")
        left -= counted
    if left > 0:
        raise Refused(
            "segments",
            f"the segments reach {number(DISTANCE - left)} mm; state the thickness to 75 mm from the weld line",
        )
    working.flag("what lies beyond 75 mm is left out", when=sum(length for _, length in segments) > DISTANCE)
    return working.result(total / DISTANCE, "mm", AVERAGE, "d = Σ(tᵢ·Lᵢ)/75 mm")


CALCULATIONS = (
    Calculation(
        "combined_thickness",
        "Combined thickness",
        "combined thickness",
        "mm",
        combined_thickness,
        (
            choice("form", "Joint", {form: formula for form, (_, _, _, formula) in FORMS.items()}, "always"),
            asked("thicknesses", "Thicknesses", "mm", "in the order of the formula", Kind.NUMBERS),
        ),
    ),
    Calculation(
        "averaged_thickness",
        "Mean thickness beside the weld",
        "combined thickness",
        "mm",
        averaged_thickness,
        (
            asked(
                "segments",
                "Segments from the weld line outwards",
                "mm",
                "[[thickness, length], ...], the lengths together 75 mm",
                Kind.PAIRS,
            ),
        ),
    ),
)
