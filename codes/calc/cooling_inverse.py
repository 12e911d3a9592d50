"""The heat input, or the interpass temperature, that keeps t8/5 within a window. Units as in `codes.calc.cooling`.

The governing time is the longer of the two formulas, so the heat input for a time is the lower of their inverses.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, Input, Kind, asked
from codes.calc.cooling import (
    CLAUSE,
    F2,
    F3,
    FORM,
    HEAT,
    LOWEST_T0,
    MIND,
    PREHEAT,
    THICKNESS,
    cooling_time,
    factors,
    rate_2d,
    rate_3d,
    start,
)
from codes.calc.exact import exact
from codes.calc.result import AT_LEAST, AT_MOST, Refused, Result, Working, positive
from codes.values import Interval, number

FORMULA = (
    "Q3 = t / {(6700 − 5·T0)·[1/(500−T0) − 1/(800−T0)]·F3}; "
    "Q2 = d·√(t / {(4300 − 4.3·T0)·10⁵·[1/(500−T0)² − 1/(800−T0)²]·F2}); the lower governs"
)
CLOSE_ENOUGH = Decimal("1e-30")
HIGHEST_T0 = Decimal("499.999")


@exact
def heat_input_for_time(
    time: Decimal,
    preheat: Decimal,
    thickness: Decimal,
    form: str | None = None,
    f2: Decimal | None = None,
    f3: Decimal | None = None,
    shortest: bool = False,
) -> Result:
    """Q for a wanted t8/5. `shortest`: with the F2 of the form that gives the shortest time (the lower limit's side).

    Example: 10 s at 120 °C with F 0.9: 1.569 kJ/mm in thick plate, 0.785 in 10 mm.
    """
    working = Working()
    positive("time", time, "s")
    positive("thickness", thickness, "mm")
    two, three = factors(working, form, f2, f3, shortest)
    q3 = working.step("Q_3D", time / (rate_3d(start(preheat)) * three), "kJ/mm")
    q2 = working.step("Q_2D", thickness * (time / (rate_2d(preheat) * two)).sqrt(), "kJ/mm")
    working.word("flow", "two-dimensional" if q2 < q3 else "three-dimensional")
    working.flag(MIND)
    rounding = AT_LEAST if shortest else AT_MOST
    return working.result(min(q2, q3), "kJ/mm", CLAUSE, FORMULA, rounding=rounding)


@exact
def heat_input_for_window(
    time: Interval,
    preheat: Decimal,
    thickness: Decimal,
    form: str | None = None,
    f2: Decimal | None = None,
    f3: Decimal | None = None,
) -> Result:
    """The greatest Q of a window of t8/5 as the result, the least as a step.

    On a T-joint the unsafe side differs: the lower end is met with the lowest F2, the upper with the highest.
    Example: 6 to 15 s at 100 °C, 30 mm, F 0.9: 1.00 to 2.51 kJ/mm.
    """
    working = Working()
    if time.lo is None or time.hi is None:
        raise Refused("time", "a window has two ends")
    low = heat_input_for_time(time.lo, preheat, thickness, form, f2, f3, shortest=True)
    high = heat_input_for_time(time.hi, preheat, thickness, form, f2, f3)
    for end, found in (("least", low), ("greatest", high)):
        working.step(f"F2_{end}", found.number("F2"))
        working.step(end, found.figure, "kJ/mm")
        for flag in found.flags:
            working.flag(flag)
    if low.figure > high.figure:
        raise Refused(
            "time", f"no heat input keeps the window: the least, {low.shown}, lies above the greatest, {high.shown}"
        )
    return working.result(high.figure, "kJ/mm", CLAUSE, FORMULA, rounding=AT_MOST)


@exact
def interpass_for_time(
    heat_input: Decimal,
    time: Decimal,
    thickness: Decimal,
    form: str | None = None,
    f2: Decimal | None = None,
    f3: Decimal | None = None,
) -> Result:
    """The highest T0 at which t8/5 stays at or below the time, by bisection to 10^-30 °C.

    Raises Refused where even at -20 °C it is too long, or nowhere below 500 °C reached.
    Example: 1.5 kJ/mm, 15 s, thick plate, F 0.9: 235.8 °C, printed 235 °C.
    """
    working = Working()
    positive("time", time, "s")

    def at(preheat: Decimal) -> Decimal:
        return cooling_time(heat_input, preheat, thickness, form, f2, f3).figure

    low, high = LOWEST_T0, HIGHEST_T0
    if at(low) > time:
        raise Refused("time", f"{number(time)} s is passed even at {number(low)} °C; lower the heat input")
    if at(high) <= time:
        raise Refused("time", f"{number(time)} s is not reached at any temperature below 500 °C")
    while high - low > CLOSE_ENOUGH:
        middle = (low + high) / 2
        low, high = (middle, high) if at(middle) <= time else (low, middle)
    for step in cooling_time(heat_input, low, thickness, form, f2, f3).steps:
        working.steps.append(step)
    working.flag(MIND)
    formula = "T0 at which the governing t8/5 equals the time, by bisection"
    return working.result(low, "°C", CLAUSE, formula, rounding=AT_MOST)


_TIME = asked("time", "Cooling time t8/5", "s")
CALCULATIONS = (
    Calculation(
        "heat_input_for_cooling_time",
        "Heat input for a cooling time t8/5",
        "cooling",
        "kJ/mm",
        heat_input_for_time,
        (
            _TIME,
            PREHEAT,
            THICKNESS,
            FORM,
            F2,
            F3,
            Input("shortest", "With the lowest F2 of the form", kind=Kind.YES_NO, help="for a lower limit of t8/5"),
        ),
    ),
    Calculation(
        "heat_input_for_cooling_window",
        "Heat input for a window of cooling time t8/5",
        "cooling",
        "kJ/mm",
        heat_input_for_window,
        (
            Input("time", "Window of t8/5", "s", Kind.RANGE, "always", "of the plate maker"),
            PREHEAT,
            THICKNESS,
            FORM,
            F2,
            F3,
        ),
    ),
    Calculation(
        "interpass_for_cooling_time",
        "Highest interpass temperature for a cooling time t8/5",
        "cooling",
        "°C",
        interpass_for_time,
        (HEAT, _TIME, THICKNESS, FORM, F2, F3),
    ),
)
