"""Melt-off and deposition of a wire electrode. Units: mm, m/min, kg/h, mm/min; efficiency in %."""

from decimal import Decimal

from codes.calc.calculation import Calculation, asked, optional
from codes.calc.consumables import STEEL, percentage
from codes.calc.conversions import converted
from codes.calc.exact import PI, exact
from codes.calc.result import Refused, Result, Working, positive
from codes.clauses import Clause, Mark
from codes.values import number

MELT_OFF = Clause("geometry", "wire area × wire feed speed × density", Mark.CONFIRMED, "computed; handbook within 2 %")
WEIGHED = Clause("ISO 2401", "deposition rate by weighing", Mark.CONFIRMED, "data sheet of a consumables maker")
US_NOTE = Clause("public note", "13.1 × d² × WFS × DE", Mark.CONFIRMED, "note on deposition rates, US units")
PER_POUND = Clause(
    "public handbook", "inches of wire in a pound", Mark.CONFIRMED, "MIG handbook of a consumables maker"
)
BURN_OFF = Clause("Lesnewich", "burn-off of a wire", Mark.MEMORY)
USUAL_FEED = (Decimal(2), Decimal(25))
US_CONSTANT = Decimal("13.1")
NOT_MIXED = "13.1 lies about 2 % below the figure from density: do not mix the two in one comparison"


def wire_area(diameter: Decimal) -> Decimal:
    """The section of a wire [mm²]. Example: 1.2 mm is 1.131 mm²."""
    return PI * positive("wire_diameter", diameter, "mm") ** 2 / 4


@exact
def melt_off(
    wire_diameter: Decimal,
    wire_feed_speed: Decimal,
    density: Decimal = STEEL,
    metal_share: Decimal | None = None,
    efficiency: Decimal | None = None,
) -> Result:
    """Melt-off rate [kg/h]; with the efficiency [%] the deposition rate as a step.

    `metal_share` [%]: mass per metre of a cored wire against solid wire. Example: 1.2 mm, 10 m/min: 5.327 kg/h.
    """
    working = Working()
    area = working.step("wire_area", wire_area(wire_diameter), "mm²")
    feed = positive("wire_feed_speed", wire_feed_speed, "m/min")
    usual = USUAL_FEED[0] <= feed <= USUAL_FEED[1]
    working.flag(f"{number(feed)} m/min is outside the usual 2 to 25 m/min", when=not usual)
    density = working.step("density", positive("density", density, "g/cm³"), "g/cm³")
    value = area * feed * density * 60 / 1000
    if metal_share is None:
        working.flag("taken as solid wire: mass per metre against it not stated")
    else:
        value *= percentage("metal_share", metal_share)
    if efficiency is not None:
        working.step("deposition_rate", value * percentage("efficiency", efficiency), "kg/h")
    return working.result(value, "kg/h", MELT_OFF, "MR = π·d²/4·WFS·ρ·60/1000; DR = MR·DE")


@exact
def deposition_rate_weighed(mass: Decimal, time: Decimal) -> Result:
    """Deposition rate from a weighed mass [kg] in a time [s]. Example: 0.095 kg in 60 s are 5.7 kg/h."""
    value = positive("mass", mass, "kg") * 3600 / positive("time", time, "s")
    return Working().result(value, "kg/h", WEIGHED, "DR = 3600·m / t")


@exact
def deposition_rate_us(wire_diameter: Decimal, wire_feed_speed: Decimal, efficiency: Decimal) -> Result:
    """The handbook form in US units; the result in kg/h, the lb/h of the handbook as a step.

    Example: 0.052 in, 320 in/min, 98 % are 11.1 lb/h.
    """
    working = Working()
    diameter = working.step("diameter", converted(positive("wire_diameter", wire_diameter, "mm"), "mm", "in"), "in")
    feed = converted(positive("wire_feed_speed", wire_feed_speed, "m/min"), "m/min", "in/min")
    working.step("wire_feed_speed", feed, "in/min")
    pounds = US_CONSTANT * diameter**2 * feed * percentage("efficiency", efficiency)
    working.step("pounds_per_hour", pounds, "lb/h")
    working.flag(NOT_MIXED)
    return working.result(converted(pounds, "lb/h", "kg/h"), "kg/h", US_NOTE, "DR = 13.1·d²·WFS·DE (in, in/min, lb/h)")


@exact
def deposition_rate_by_length(
    length_per_mass: Decimal, wire_feed_speed: Decimal, efficiency: Decimal = Decimal(100)
) -> Result:
    """From the length of wire in a mass [m/kg]. Example: 2196 in/lb at 400 in/min are 10.93 lb/h."""
    working = Working()
    melted = (
        positive("wire_feed_speed", wire_feed_speed, "m/min")
        * 60
        / positive("length_per_mass", length_per_mass, "m/kg")
    )
    value = melted * percentage("efficiency", efficiency)
    working.step("pounds_per_hour", converted(value, "kg/h", "lb/h"), "lb/h")
    working.flag("melt-off rate: efficiency of 100 %", when=efficiency == 100)
    return working.result(value, "kg/h", PER_POUND, "DR = 60·WFS·DE / L")


@exact
def travel_speed_for_area(
    wire_diameter: Decimal, wire_feed_speed: Decimal, efficiency: Decimal, run_area: Decimal
) -> Result:
    """Travel speed [mm/min] that lays a run of the area. Example: 1.2 mm, 8 m/min, 96 %, 19.8 mm²: 439 mm/min."""
    working = Working()
    area = working.step("wire_area", wire_area(wire_diameter), "mm²")
    feed = positive("wire_feed_speed", wire_feed_speed, "m/min") * 1000
    value = area * feed * percentage("efficiency", efficiency) / positive("run_area", run_area, "mm²")
    return working.result(value, "mm/min", MELT_OFF, "v = 1000·A_wire·WFS·DE / A_run")


@exact
def run_area(wire_diameter: Decimal, wire_feed_speed: Decimal, efficiency: Decimal, travel_speed: Decimal) -> Result:
    """Area [mm²] that one run adds: the inverse of `travel_speed_for_area`."""
    working = Working()
    area = working.step("wire_area", wire_area(wire_diameter), "mm²")
    feed = positive("wire_feed_speed", wire_feed_speed, "m/min") * 1000
    value = area * feed * percentage("efficiency", efficiency) / positive("travel_speed", travel_speed, "mm/min")
    return working.result(value, "mm²", MELT_OFF, "A_run = 1000·A_wire·WFS·DE / v")


@exact
def burn_off(current: Decimal, stick_out: Decimal, wire_diameter: Decimal, alpha: Decimal, beta: Decimal) -> Result:
    """Melt-off [kg/h] from the current; α [kg/(A·h)] and β [kg·mm/(A²·h)] fitted from two weighed trials of the firm.

    The constants belong to one wire and gas; none are held here.
    """
    working = Working()
    amperes = positive("current", current, "A")
    section = working.step("wire_area", wire_area(wire_diameter), "mm²")
    arc = working.step("by_the_arc", positive("alpha", alpha) * amperes, "kg/h")
    if beta < 0:
        raise Refused("beta", "must be 0 or more")
    resistance = working.step(
        "by_resistance", beta * positive("stick_out", stick_out, "mm") * amperes**2 / section, "kg/h"
    )
    working.flag("holds for the wire and gas of the two trials only")
    return working.result(arc + resistance, "kg/h", BURN_OFF, "MR = α·I + β·Lₑ·I²/A")


_WIRE = asked("wire_diameter", "Wire diameter", "mm")
_FEED = asked("wire_feed_speed", "Wire feed speed", "m/min")
_EFFICIENCY = asked("efficiency", "Deposition efficiency", "%")
CALCULATIONS = (
    Calculation(
        "melt_off",
        "Melt-off rate of a wire",
        "deposition",
        "kg/h",
        melt_off,
        (
            _WIRE,
            _FEED,
            optional("density", "Density", "g/cm³", "7.85 g/cm³, steel, where not stated"),
            optional("metal_share", "Mass per metre against solid wire", "%", "cored wire, usually 80 to 92"),
            optional("efficiency", "Deposition efficiency", "%"),
        ),
    ),
    Calculation(
        "deposition_rate_weighed",
        "Deposition rate by weighing",
        "deposition",
        "kg/h",
        deposition_rate_weighed,
        (asked("mass", "Mass deposited", "kg"), asked("time", "Arc time", "s")),
    ),
    Calculation(
        "deposition_rate_us",
        "Deposition rate, US handbook form",
        "deposition",
        "kg/h",
        deposition_rate_us,
        (_WIRE, _FEED, _EFFICIENCY),
    ),
    Calculation(
        "deposition_rate_by_length",
        "Deposition rate from the length of wire in a mass",
        "deposition",
        "kg/h",
        deposition_rate_by_length,
        (
            asked("length_per_mass", "Length L of wire in a mass", "m/kg"),
            _FEED,
            optional("efficiency", "Deposition efficiency", "%", "100 where not stated: melt-off"),
        ),
    ),
    Calculation(
        "travel_speed_for_area",
        "Travel speed for the area of a run",
        "deposition",
        "mm/min",
        travel_speed_for_area,
        (_WIRE, _FEED, _EFFICIENCY, asked("run_area", "Area of the run", "mm²")),
    ),
    Calculation(
        "run_area",
        "Area of a run",
        "deposition",
        "mm²",
        run_area,
        (_WIRE, _FEED, _EFFICIENCY, asked("travel_speed", "Travel speed", "mm/min")),
    ),
    Calculation(
        "burn_off",
        "Melt-off rate from the current",
        "deposition",
        "kg/h",
        burn_off,
        (
            asked("current", "Welding current", "A"),
            asked("stick_out", "Electrical stick-out", "mm"),
            _WIRE,
            asked("alpha", "Constant α", help="kg/(A·h), from two weighed trials"),
            asked("beta", "Constant β", help="kg·mm/(A²·h), from two weighed trials"),
        ),
    ),
)
