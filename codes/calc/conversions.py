"""Conversion of units by exact factors. Stored values keep the unit of their code; this is for display and for input.

Factors are fractions of integers, so that there and back gives the figure that one began with.
"""

from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction

from codes.calc.calculation import Calculation, Kind, asked
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working
from codes.clauses import Clause, Mark
from codes.units import CUBIC_FOOT_L, INCH_MM, KSI_N

CLAUSE = Clause("ISO 80000-1:2009", "exact factors of inch, pound and pound-force", Mark.CONFIRMED, "by definition")
FORMULA = "value × factor of the unit given / factor of the unit asked for"

INCH = Fraction(INCH_MM)
FOOT = 12 * INCH
POUND = Fraction("0.45359237")
POUND_FORCE = Fraction(KSI_N) / 1000
LITRE = 1_000_000
CUBIC_FOOT = Fraction(CUBIC_FOOT_L)

# Dimension -> unit -> its size in the first unit of the row.
SIZES: dict[str, dict[str, Fraction]] = {
    "length": {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH, "ft": FOOT},
    "area": {"mm²": Fraction(1), "cm²": Fraction(100), "in²": INCH**2},
    "volume": {"l": Fraction(1), "m³": Fraction(1000), "mm³": Fraction(1, LITRE), "ft³": CUBIC_FOOT},
    "time": {"s": Fraction(1), "min": Fraction(60), "h": Fraction(3600)},
    "speed": {
        "mm/min": Fraction(1),
        "mm/s": Fraction(60),
        "cm/min": Fraction(10),
        "m/min": Fraction(1000),
        "in/min": INCH,
        "ft/min": FOOT,
    },
    "heat input": {
        "kJ/mm": Fraction(1),
        "J/mm": Fraction(1, 1000),
        "kJ/cm": Fraction(1, 10),
        "kJ/m": Fraction(1, 1000),
        "kJ/in": 1 / INCH,
        "J/in": 1 / INCH / 1000,
    },
    "stress": {
        "MPa": Fraction(1),
        "N/mm²": Fraction(1),
        "ksi": POUND_FORCE * 1000 / INCH**2,
        "psi": POUND_FORCE / INCH**2,
    },
    "force": {"N": Fraction(1), "kN": Fraction(1000), "lbf": POUND_FORCE, "kip": POUND_FORCE * 1000},
    "force per length": {"N/mm": Fraction(1), "kN/mm": Fraction(1000), "kip/in": POUND_FORCE * 1000 / INCH},
    "energy": {"J": Fraction(1), "kJ": Fraction(1000), "ft·lbf": POUND_FORCE * FOOT / 1000},
    "power": {"W": Fraction(1), "kW": Fraction(1000)},
    "mass": {"kg": Fraction(1), "g": Fraction(1, 1000), "t": Fraction(1000), "lb": POUND},
    "mass per length": {"kg/m": Fraction(1), "g/m": Fraction(1, 1000), "lb/ft": POUND * 1000 / FOOT},
    "mass rate": {"kg/h": Fraction(1), "g/min": Fraction(60, 1000), "lb/h": POUND},
    "density": {"g/cm³": Fraction(1), "kg/m³": Fraction(1, 1000), "lb/in³": POUND * LITRE / INCH**3},
    "length per mass": {"m/kg": Fraction(1), "in/lb": INCH / 1000 / POUND},
    "flow": {"l/min": Fraction(1), "ft³/h": CUBIC_FOOT / 60, "m³/h": Fraction(1000, 60)},
    "current": {"A": Fraction(1), "kA": Fraction(1000)},
    "voltage": {"V": Fraction(1)},
    "temperature difference": {"Δ°C": Fraction(1), "Δ°F": Fraction(5, 9)},
}
# Temperatures have an offset: °C = (figure - zero) x step.
TEMPERATURES = {
    "°C": (Fraction(0), Fraction(1)),
    "°F": (Fraction(32), Fraction(5, 9)),
    "K": (Fraction("273.15"), Fraction(1)),
}
SPELLINGS = {
    "in./min": "in/min",
    "ipm": "in/min",
    "cfh": "ft³/h",
    "ft3/h": "ft³/h",
    "ft3": "ft³",
    "L": "l",
    "litre": "l",
    "L/min": "l/min",
    "mm2": "mm²",
    "mm3": "mm³",
    "m3": "m³",
    "m3/h": "m³/h",
    "cm2": "cm²",
    "in2": "in²",
    "N/mm2": "N/mm²",
    "lb/in3": "lb/in³",
    "g/cm3": "g/cm³",
    "kg/m3": "kg/m³",
    "ft-lbf": "ft·lbf",
    "ft lbf": "ft·lbf",
    "C": "°C",
    "degC": "°C",
    "F": "°F",
    "degF": "°F",
    "inch": "in",
    '"': "in",
    "deg": "°",
    "degree": "°",
}
US_UNITS = {
    "mm": "in",
    "m": "ft",
    "mm²": "in²",
    "l": "ft³",
    "mm/min": "in/min",
    "m/min": "in/min",
    "kJ/mm": "kJ/in",
    "MPa": "ksi",
    "N/mm": "kip/in",
    "kg": "lb",
    "kg/m": "lb/ft",
    "kg/h": "lb/h",
    "g/cm³": "lb/in³",
    "m/kg": "in/lb",
    "l/min": "ft³/h",
    "°C": "°F",
    "Δ°C": "Δ°F",
}
"""SI unit to the US customary unit a value is shown in."""
DIFFERENCES = {"K": "Δ°C"}
"""A calculation gives its differences of temperature in K; they have no offset."""


def unit_of(field: str, written: str) -> str:
    """The unit as it is spelled here. Raises Refused. Example: "cfh" gives "ft³/h"."""
    unit = SPELLINGS.get(written.strip(), written.strip())
    if unit not in TEMPERATURES and not any(unit in units for units in SIZES.values()):
        near = get_close_matches(unit, known_units(), n=3, cutoff=0.4) or ["mm", "kg", "°C", "kJ/mm"]
        raise Refused(field, f'"{written}" is not a unit held here; write for example {", ".join(near)}')
    return unit


def known_units() -> tuple[str, ...]:
    """Every unit that can be converted."""
    return (*TEMPERATURES, *(unit for units in SIZES.values() for unit in units))


def units_like(unit: str) -> tuple[str, ...]:
    """The units that measure the same as this one. Example: "A" gives A and kA."""
    if unit in TEMPERATURES:
        return tuple(TEMPERATURES)
    return next((tuple(units) for units in SIZES.values() if unit in units), (unit,))


@exact
def converted(value: Decimal, from_unit: str, to_unit: str) -> Decimal:
    """The figure in the other unit, to 40 digits. Raises Refused where the two measure different things.

    Example: 300 °F is 148.888... °C; 1 kJ/mm is 25.4 kJ/in.
    """
    source, target = unit_of("from_unit", from_unit), unit_of("to_unit", to_unit)
    if source in TEMPERATURES and target in TEMPERATURES:
        (zero, step), (other_zero, other_step) = TEMPERATURES[source], TEMPERATURES[target]
        return _decimal((Fraction(value) - zero) * step / other_step + other_zero)
    for units in SIZES.values():
        if source in units and target in units:
            return _decimal(Fraction(value) * units[source] / units[target])
    raise Refused("to_unit", f"{source} cannot be converted to {target}; they measure different things")


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)


def in_us(value: Decimal, unit: str) -> tuple[Decimal, str]:
    """A value in the US customary unit, or as it is where the unit is common to both systems."""
    unit = DIFFERENCES.get(unit, unit)
    us = US_UNITS.get(unit)
    return (converted(value, unit, us), us) if us else (value, unit)


@exact
def convert(value: Decimal, from_unit: str, to_unit: str) -> Result:
    """The figure in another unit. Example: 45.24 kJ/in is 1.7811... kJ/mm."""
    working = Working()
    found = converted(value, from_unit, to_unit)
    working.flag(
        "AWS codes print rounded pairs, not conversions: compare within the unit system of the code",
        when=unit_of("to_unit", to_unit) != unit_of("from_unit", from_unit),
    )
    # The unit asked for stays, whatever units the reader has.
    return working.result(found, unit_of("to_unit", to_unit), CLAUSE, FORMULA, fixed_units=True)


CALCULATIONS = (
    Calculation(
        "convert",
        "Conversion of units",
        "units",
        "",
        convert,
        (
            asked("value", "Figure"),
            asked("from_unit", "Unit given", kind=Kind.TEXT),
            asked("to_unit", "Unit asked for", kind=Kind.TEXT),
        ),
    ),
)
