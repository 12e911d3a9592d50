"""Cooling time t8/5 from 800 to 500 °C, in thick (three-dimensional) and thin (two-dimensional) plate, and its limit.

Units: heat input kJ/mm with k, T0 °C (preheat or interpass), plate thickness mm, time s.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, asked, choice, optional
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, positive
from codes.clauses import Clause, Mark
from codes.values import number

CLAUSE = Clause(
    "EN 1011-2:2001",
    "Annex D (SEW 088)",
    Mark.CONFIRMED,
    "public German notes and trade specifications; factors in part",
)
FORMULA_3D = "t = (6700 − 5·T0)·Q·[1/(500−T0) − 1/(800−T0)]·F3"
FORMULA_2D = "t = (4300 − 4.3·T0)·10⁵·(Q²/d²)·[1/(500−T0)² − 1/(800−T0)²]·F2"
FORMULA_DT = "dt = √{(4300−4.3·T0)/(6700−5·T0)·10⁵·Q·[1/(500−T0) + 1/(800−T0)]·F2/F3}"
LOWEST_T0 = Decimal(-20)
MIND = "ferritic steels, arc welding; not near free edges, on small pipe or with water cooling"

# Form of weld -> F2 for the longest and for the shortest time, F3.
FORMS = {
    "run_on_plate": ("1.0", "1.0", "1.0"),
    "butt_fill": ("0.9", "0.9", "0.9"),
    "corner_fillet": ("0.9", "0.9", "0.67"),
    "tee_fillet": ("0.67", "0.45", "0.67"),
}
FORM_WORDS = {
    "run_on_plate": "run on plate",
    "butt_fill": "between runs of a butt weld",
    "corner_fillet": "single-run fillet, corner joint",
    "tee_fillet": "single-run fillet, T-joint",
}


def factors(
    working: Working, form: str | None, f2: Decimal | None, f3: Decimal | None, shortest: bool = False
) -> tuple[Decimal, Decimal]:
    """F2 and F3: as stated, else of the form of weld. Raises Refused where either stays unknown, or lies outside 0..1.

    `shortest`: the F2 that gives the shortest time, where the form leaves it open.
    """
    if form is not None:
        long, short, three = FORMS[form]
        f2 = f2 if f2 is not None else Decimal(short if shortest else long)
        f3 = f3 if f3 is not None else Decimal(three)
        working.flag("factors of the form of weld from memory", when=form != "butt_fill")
    if f2 is None or f3 is None:
        raise Refused("form", "state the form of weld, or the factors F2 and F3")
    for name, factor in (("f2", f2), ("f3", f3)):
        if not 0 < factor <= 1:
            raise Refused(name, f"{number(factor)} is outside 0 to 1")
    return working.step("F2", f2), working.step("F3", f3)


def start(preheat: Decimal) -> Decimal:
    """T0, the temperature the run begins at. Raises Refused from 500 °C on and below -20 °C."""
    if preheat >= 500:
        raise Refused("preheat", f"{number(preheat)} °C is not below 500 °C, where the time would have to end")
    if preheat < LOWEST_T0:
        raise Refused("preheat", f"{number(preheat)} °C is below -20 °C, where steel is not welded")
    return preheat


def rate_3d(preheat: Decimal) -> Decimal:
    """t8/5 in thick plate for Q = 1 and F3 = 1 [s]."""
    return (6700 - 5 * preheat) * (1 / (500 - preheat) - 1 / (800 - preheat))


def rate_2d(preheat: Decimal) -> Decimal:
    """t8/5 for Q = 1, d = 1, F2 = 1 [s]."""
    return (4300 - Decimal("4.3") * preheat) * 10**5 * (1 / (500 - preheat) ** 2 - 1 / (800 - preheat) ** 2)


@exact
def cooling_time_3d(heat_input: Decimal, preheat: Decimal, f3: Decimal = Decimal(1)) -> Result:
    """t8/5 in thick plate. Example: 1.0 kJ/mm at 20 °C are 5.29 s."""
    working = Working()
    positive("heat_input", heat_input, "kJ/mm")
    working.flag(MIND)
    factors(Working(), None, Decimal(1), f3)
    return working.result(rate_3d(start(preheat)) * heat_input * f3, "s", CLAUSE, FORMULA_3D)


@exact
def cooling_time_2d(heat_input: Decimal, preheat: Decimal, thickness: Decimal, f2: Decimal = Decimal(1)) -> Result:
    """t8/5 in thin plate. Example: 1.0 kJ/mm at 20 °C in 10 mm are 11.36 s."""
    working = Working()
    positive("heat_input", heat_input, "kJ/mm")
    positive("thickness", thickness, "mm")
    working.flag(MIND)
    factors(Working(), None, f2, Decimal(1))
    return working.result(rate_2d(start(preheat)) * heat_input**2 / thickness**2 * f2, "s", CLAUSE, FORMULA_2D)


@exact
def transition_thickness(
    heat_input: Decimal, preheat: Decimal, f2: Decimal = Decimal(1), f3: Decimal = Decimal(1)
) -> Result:
    """The plate thickness [mm] at which both formulas give the same time. Example: 1.0 kJ/mm at 20 °C: 14.7 mm."""
    working = Working()
    positive("heat_input", heat_input, "kJ/mm")
    factors(Working(), None, f2, f3)
    squared = rate_2d(start(preheat)) * heat_input * f2 / (rate_3d(preheat) * f3)
    return working.result(squared.sqrt(), "mm", CLAUSE, FORMULA_DT)


@exact
def cooling_time(
    heat_input: Decimal,
    preheat: Decimal,
    thickness: Decimal,
    form: str | None = None,
    f2: Decimal | None = None,
    f3: Decimal | None = None,
) -> Result:
    """The governing t8/5: the longer of the two. On a T-joint the step `shortest` uses the lowest F2 of the form.

    Example: 1.2 kJ/mm, 100 °C, 15 mm between runs of a butt weld: 9.38 s, two-dimensional.
    """
    working = Working()
    two, three = factors(working, form, f2, f3)
    thin = working.step("t_2D", cooling_time_2d(heat_input, preheat, thickness, two).figure, "s")
    thick = working.step("t_3D", cooling_time_3d(heat_input, preheat, three).figure, "s")
    working.step("transition_thickness", transition_thickness(heat_input, preheat, two, three).figure, "mm")
    governing = max(thin, thick)
    working.word("flow", "two-dimensional" if thin > thick else "three-dimensional")
    if form == "tee_fillet" and f2 is None:
        short, _ = factors(Working(), form, None, f3, shortest=True)
        shortest = max(cooling_time_2d(heat_input, preheat, thickness, short).figure, thick)
        working.step("shortest", shortest, "s")
        working.flag("F2 of a T-joint lies between 0.45 and 0.67: the longest time is given, the shortest is a step")
    working.flag(MIND)
    return working.result(governing, "s", CLAUSE, f"{FORMULA_3D}; {FORMULA_2D}; the longer governs")


HEAT = asked("heat_input", "Heat input with k", "kJ/mm")
PREHEAT = asked("preheat", "Preheat or interpass temperature T0", "°C")
THICKNESS = asked("thickness", "Plate thickness", "mm", "single plate that conducts")
FORM = choice("form", "Form of weld", FORM_WORDS, "no F2 and F3")
F2 = optional("f2", "Factor F2, two-dimensional", needed="no form of weld")
F3 = optional("f3", "Factor F3, three-dimensional", needed="no form of weld")
CALCULATIONS = (
    Calculation(
        "cooling_time", "Cooling time t8/5", "cooling", "s", cooling_time, (HEAT, PREHEAT, THICKNESS, FORM, F2, F3)
    ),
    Calculation(
        "cooling_time_3d",
        "Cooling time t8/5, three-dimensional",
        "cooling",
        "s",
        cooling_time_3d,
        (HEAT, PREHEAT, optional("f3", "Factor F3", help="1 where not stated")),
    ),
    Calculation(
        "cooling_time_2d",
        "Cooling time t8/5, two-dimensional",
        "cooling",
        "s",
        cooling_time_2d,
        (HEAT, PREHEAT, THICKNESS, optional("f2", "Factor F2", help="1 where not stated")),
    ),
    Calculation(
        "transition_thickness",
        "Transition thickness of the heat flow",
        "cooling",
        "mm",
        transition_thickness,
        (
            HEAT,
            PREHEAT,
            optional("f2", "Factor F2", help="1 where not stated"),
            optional("f3", "Factor F3", help="1 where not stated"),
        ),
    ),
)
