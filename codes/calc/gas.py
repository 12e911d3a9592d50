"""Shielding gas of a weld and of a metre, and how long a cylinder lasts. Units: l, l/min, min, mm/min."""

from decimal import Decimal

from codes.calc.calculation import Calculation, asked, optional
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, not_negative, positive, within
from codes.clauses import Clause, Mark

GAS = Clause(
    "this register", "flow × time with gas", Mark.OWN, "computed; waste by surge and leaks is stated by the user"
)
CYLINDER = Clause("geometry", "volume / flow", Mark.CONFIRMED, "trade magazine on shielding gas")


@exact
def shielding_gas(
    flow: Decimal,
    arc_time: Decimal | None = None,
    length: Decimal | None = None,
    travel_speed: Decimal | None = None,
    starts: Decimal = Decimal(1),
    pre_post_time: Decimal = Decimal(0),
    waste_factor: Decimal = Decimal(1),
) -> Result:
    """Gas [l] of a weld: flow over the arc time [min] (or length [mm] over speed) and pre- and post-flow [s] per start.

    `waste_factor` 1.0 to 2.0 for surge and leaks. Example: 15 l/min, 1 m at 400 mm/min, 1 start of 3 s: 38.25 l.
    """
    working = Working()
    minutes = _minutes(working, arc_time, length, travel_speed)
    if starts < 1 or starts != starts.to_integral_value():
        raise Refused("starts", "must be a whole number from 1 on")
    idle = working.step("flow_without_arc", starts * not_negative("pre_post_time", pre_post_time, "s") / 60, "min")
    within("waste_factor", waste_factor, "1.0", "2.0", "", "surge and leaks")
    working.flag("starting surge and leaks not counted", when=waste_factor == 1)
    value = positive("flow", flow, "l/min") * (minutes + idle) * waste_factor
    formula = "V = q·(t_arc + t_idle)" if waste_factor == 1 else "V = q·(t_arc + t_idle)·factor"
    return working.result(value, "l", GAS, formula)


def _minutes(
    working: Working, arc_time: Decimal | None, length: Decimal | None, travel_speed: Decimal | None
) -> Decimal:
    if arc_time is not None and length is None and travel_speed is None:
        return working.step("arc_time", positive("arc_time", arc_time, "min"), "min")
    if arc_time is not None or length is None or travel_speed is None:
        raise Refused("arc_time", "state either the arc time, or length and travel speed")
    value = positive("length", length, "mm") / positive("travel_speed", travel_speed, "mm/min")
    return working.step("arc_time", value, "min")


@exact
def gas_per_metre(flow: Decimal, travel_speed: Decimal) -> Result:
    """Gas [l] of a metre of run, without pre- and post-flow. Example: 15 l/min at 400 mm/min: 37.5 l."""
    value = positive("flow", flow, "l/min") * 1000 / positive("travel_speed", travel_speed, "mm/min")
    return Working().result(value, "l", GAS, "V = q·1000/v")


@exact
def cylinder_time(volume: Decimal, flow: Decimal) -> Result:
    """Minutes that a volume [l] lasts. Example: 100 ft³ at 45 ft³/h are 133.3 min."""
    value = positive("volume", volume, "l") / positive("flow", flow, "l/min")
    return Working().result(value, "min", CYLINDER, "t = V / q")


_FLOW = asked("flow", "Gas flow", "l/min")
CALCULATIONS = (
    Calculation(
        "shielding_gas",
        "Shielding gas of a weld",
        "gas",
        "l",
        shielding_gas,
        (
            _FLOW,
            optional("arc_time", "Arc time", "min", needed="no length and travel speed"),
            optional("length", "Length", "mm", needed="no arc time"),
            optional("travel_speed", "Travel speed", "mm/min", needed="no arc time"),
            optional("starts", "Starts", help="1 where not stated"),
            optional("pre_post_time", "Pre- and post-flow of a start", "s", "0 where not stated"),
            optional("waste_factor", "Factor for surge and leaks", help="1.0 to 2.0"),
        ),
    ),
    Calculation(
        "gas_per_metre",
        "Shielding gas of a metre of run",
        "gas",
        "l",
        gas_per_metre,
        (_FLOW, asked("travel_speed", "Travel speed", "mm/min")),
    ),
    Calculation(
        "cylinder_time",
        "Time that a volume of gas lasts",
        "gas",
        "min",
        cylinder_time,
        (asked("volume", "Volume", "l"), _FLOW),
    ),
)
