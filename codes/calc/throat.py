"""Sizes of fillets: least by AWS D1.1, effective length, penetration, gap, convexity. Units: mm, in where named so.

AWS prints its own figures per unit system: inches are answered in inches, millimetres in millimetres.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, asked, choice, optional, yes_no
from codes.calc.exact import exact
from codes.calc.result import AT_LEAST, AT_MOST, Refused, Result, Working, not_negative, one_of, positive
from codes.clauses import Clause, Mark
from codes.values import number

TABLE_7_7 = Clause(
    "AWS D1.1:2020",
    "7.13, Table 7.7 (2015: 5.13, Table 5.7), least fillet",
    Mark.CONFIRMED,
    "public explainer of D1.1:2025; AWS Forum, Nov 2024; AISC J2.4",
)
LENGTH = Clause("EN 1993-1-8:2005", "4.5.1, effective length", Mark.CONFIRMED, "public engineering page")
PENETRATION = Clause("EN 1993-1-8:2005", "4.5.2(3), deep penetration", Mark.MEMORY)
GAP = Clause("AWS D1.1:2020", "7.21, root opening of fillets", Mark.MEMORY)
CONVEXITY = Clause("ISO 5817:2014", "excessive convexity (503)", Mark.MEMORY)

# Thickness up to (in, mm), leg (in, mm); where sources print two metric ends the stricter one stands.
LEAST_LEGS = (
    (("0.25", "6"), ("0.125", "3")),
    (("0.5", "12"), ("0.1875", "5")),
    (("0.75", "19"), ("0.25", "6")),
    ((None, None), ("0.3125", "8")),
)
CYCLIC_LEAST = (Decimal("0.1875"), Decimal(5))
CONVEXITIES = {"B": ("0.10", 3), "C": ("0.15", 4), "D": ("0.25", 5)}
"""Quality level -> share of the width, greatest convexity [mm]."""
SETS = {"us": "in inches", "si": "in millimetres"}
GAPS = {
    "us": ((Decimal("1.5875"), "1.5875 mm (1/16 in)"), (Decimal("4.7625"), "4.7625 mm (3/16 in)")),
    "si": ((Decimal(2), "2 mm"), (Decimal(5), "5 mm")),
}
"""Set of figures -> up to which a gap [mm] adds nothing, and the greatest. The inches are the stricter."""


@exact
def least_leg_d11(
    thicker_mm: Decimal | None = None,
    thinner_mm: Decimal | None = None,
    thicker_in: Decimal | None = None,
    thinner_in: Decimal | None = None,
    low_hydrogen: bool | None = None,
    cyclic: bool = False,
) -> Result:
    """Least leg by the thicker part, or the thinner with low hydrogen (or calculated preheat); never above the thinner.

    Example: 5/8 in gives 1/4 in; 16 mm gives 6 mm; 19.1 mm gives 8 mm.
    """
    working = Working()
    one_of("thicker_mm", thicker_mm, ("thicker_in", thicker_in))
    us = thicker_in is not None
    unit, column = ("in", 0) if us else ("mm", 1)
    thicker = positive("thicker_in" if us else "thicker_mm", (thicker_in if us else thicker_mm) or Decimal(0), unit)
    thinner = thinner_in if us else thinner_mm
    if (thinner_mm if us else thinner_in) is not None:
        raise Refused("thinner_in" if us else "thinner_mm", "state both parts in one unit system")
    if thinner is not None and thinner > thicker:
        raise Refused("thinner_in" if us else "thinner_mm", "is more than the thicker part")
    governing = thinner if low_hydrogen and thinner is not None else thicker
    working.step("governing_thickness", governing, unit)
    working.flag("process not stated: read for the thicker part, single pass", when=low_hydrogen is None)
    leg = _leg_for(governing, column)
    if cyclic:
        leg = max(leg, CYCLIC_LEAST[column])
        working.flag("cyclic loading: not below 3/16 in (5 mm) (public forum on 4.18.3)")
    if thinner is not None and leg > thinner:
        leg = thinner
        working.flag("need not exceed the thinner part")
    return working.result(
        leg, unit, TABLE_7_7, "look-up in the table named below", shown=f"{number(leg)} {unit}", fixed_units=True
    )


def _leg_for(thickness: Decimal, column: int) -> Decimal:
    for ends, legs in LEAST_LEGS:
        end = ends[column]
        if end is None or thickness <= Decimal(end):
            return Decimal(legs[column])
    raise AssertionError("the last row has no end")


@exact
def least_effective_length(throat: Decimal) -> Result:
    """A shorter fillet carries no load: the greater of 30 mm and 6 a. Example: a 6 gives 36 mm."""
    value = max(Decimal(30), 6 * positive("throat", throat, "mm"))
    return Working().result(value, "mm", LENGTH, "l = max(30 mm, 6·a)", rounding=AT_LEAST)


@exact
def effective_length(length: Decimal, throat: Decimal, full_size_ends: bool = False) -> Result:
    """The length less 2 a, unless full size to the ends. Raises Refused where too short to carry load.

    Example: 310 mm at a 6 give 298 mm.
    """
    working = Working()
    positive("length", length, "mm")
    value = length if full_size_ends else length - 2 * positive("throat", throat, "mm")
    least = working.step("least", least_effective_length(throat).figure, "mm")
    if value < least:
        raise Refused("length", f"leaves {number(value)} mm, less than {number(least)} mm: the fillet carries no load")
    formula = "l_eff = l" if full_size_ends else "l_eff = l − 2·a"
    return working.result(value, "mm", LENGTH, formula, rounding=AT_MOST)


@exact
def throat_with_penetration(throat: Decimal, penetration: Decimal, proven: bool, along_leg: bool = False) -> Result:
    """Throat with deep penetration: a + p along the throat line; a + p/√2 where p is measured along a leg plane.

    Raises Refused unless the penetration is proven by macro sections of procedure tests.
    """
    working = Working()
    positive("throat", throat, "mm")
    not_negative("penetration", penetration, "mm")
    if not proven:
        raise Refused("proven", "penetration counts only where macro sections of procedure tests prove it")
    added = penetration / Decimal(2).sqrt() if along_leg else penetration
    working.step("added", added, "mm")
    formula = "s = a + p/√2" if along_leg else "s = a + p"
    return working.result(throat + added, "mm", PENETRATION, formula, rounding=AT_MOST)


@exact
def leg_with_gap(leg: Decimal, gap: Decimal, unit_system: str = "") -> Result:
    """The leg increased by a gap above 1/16 in, in the metric set above 2 mm. Raises Refused above 3/16 in, 5 mm.

    The two sets of the code are no conversions of each other: a set that is not stated is read as the stricter.
    Example: "si", gap 2 adds nothing, 2.1 adds 2.1.
    """
    working = Working()
    positive("leg", leg, "mm")
    (free, free_said), (greatest, greatest_said) = GAPS[unit_system or "us"]
    if not_negative("gap", gap, "mm") > greatest:
        raise Refused("gap", f"{number(gap)} mm is above {greatest_said}, the most that a fillet may bridge")
    differs = not unit_system and free < gap <= GAPS["si"][0][0]
    working.flag("set of figures not stated: read in inches, by which this gap counts", when=differs)
    counted = gap if gap > free else Decimal(0)
    formula = f"{'z + g' if counted else 'z'}; an opening up to {free_said} adds nothing"
    return working.result(leg + counted, "mm", GAP, formula, rounding=AT_LEAST)


@exact
def convexity_limit(face_width: Decimal, quality_level: str) -> Result:
    """Greatest convexity. Example: level B, width 10 mm: 2 mm; from width 20 on 3 mm."""
    share, most = CONVEXITIES[quality_level]
    value = min(1 + Decimal(share) * positive("face_width", face_width, "mm"), Decimal(most))
    return Working().result(value, "mm", CONVEXITY, f"h ≤ 1 mm + {share}·b, at most {most} mm", rounding=AT_MOST)


_THROAT = asked("throat", "Throat a", "mm")
CALCULATIONS = (
    Calculation(
        "fillet_least_leg_d11",
        "Least fillet leg, D1.1",
        "throat",
        "mm",
        least_leg_d11,
        (
            optional("thicker_mm", "Thicker part, SI column", "mm", needed="no inches"),
            optional("thinner_mm", "Thinner part, SI column", "mm"),
            optional("thicker_in", "Thicker part, US column", "in", needed="no millimetres"),
            optional("thinner_in", "Thinner part, US column", "in"),
            yes_no("low_hydrogen", "Low hydrogen, or preheat calculated"),
            yes_no("cyclic", "Cyclic loading"),
        ),
    ),
    Calculation(
        "fillet_least_length", "Least effective length of a fillet", "throat", "mm", least_effective_length, (_THROAT,)
    ),
    Calculation(
        "fillet_effective_length",
        "Effective length of a fillet",
        "throat",
        "mm",
        effective_length,
        (asked("length", "Length", "mm"), _THROAT, yes_no("full_size_ends", "Full size to the ends")),
    ),
    Calculation(
        "throat_with_penetration",
        "Throat with deep penetration",
        "throat",
        "mm",
        throat_with_penetration,
        (
            _THROAT,
            asked("penetration", "Penetration p", "mm"),
            yes_no("along_leg", "Measured along a leg plane"),
            yes_no("proven", "Proven by macro sections", needed="always"),
        ),
    ),
    Calculation(
        "fillet_leg_with_gap",
        "Fillet leg with a root gap, D1.1",
        "throat",
        "mm",
        leg_with_gap,
        (
            asked("leg", "Leg z", "mm"),
            asked("gap", "Gap g", "mm"),
            choice("unit_system", "Set of figures", SETS, help="of the code; not stated, the stricter inches"),
        ),
    ),
    Calculation(
        "convexity_limit",
        "Greatest convexity of a fillet",
        "throat",
        "mm",
        convexity_limit,
        (
            asked("face_width", "Width b of the face", "mm"),
            choice("quality_level", "Quality level", {level: f"level {level}" for level in CONVEXITIES}, "always"),
        ),
    ),
)
