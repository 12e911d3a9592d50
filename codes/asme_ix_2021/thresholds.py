"""The figures of ASME IX in its two unit systems, rounded apart and never converted: inches beside millimetres."""

from decimal import Decimal

from codes.unit_sets import System, twin
from codes.units import CONVERSIONS

THIN = twin("0.0625", "1.5")
LOW = twin("0.1875", "5")
SIX = twin("0.25", "6")
SIDE_BEND = twin("0.375", "10")
THICK_PASS = twin("0.5", "13")
TOUGH_LEAST = twin("0.625", "16")
MID = twin("0.75", "19")
HEAVY = twin("1.5", "38")
CAP = twin("6", "150")
TOP = twin("8", "200")

STEP_SI, STEP_US = Decimal(55), Decimal(100)
"""The step of preheat and interpass temperature: 55 degrees Celsius or 100 degrees Fahrenheit."""


def stepped(celsius: Decimal, system: System, down: bool) -> Decimal:
    """A temperature one step lower or higher, in the record's own scale. Celsius in, Celsius out.

    Example: 400 °F goes up to 500 °F, which is 260 °C exactly.
    """
    if system == "si":
        return celsius - STEP_SI if down else celsius + STEP_SI
    scale = CONVERSIONS["°C"]
    # A Fahrenheit figure stored in Celsius has 28 digits; the scale is read back to the hundredth.
    tested = scale.to_us(celsius).quantize(Decimal("0.01"))
    return scale.to_si(tested - STEP_US if down else tested + STEP_US)


def step_words(system: System) -> str:
    """The step in words. Example: "55 °C" or "100 °F"."""
    return f"{STEP_US} °F" if system == "us" else f"{STEP_SI} °C"
