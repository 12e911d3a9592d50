"""Interpass temperature: where it is measured, and whether a highest value fits preheat and steel. Units: mm, °C."""

from collections.abc import Mapping
from decimal import Decimal

from codes.calc.calculation import Calculation, asked, choice
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, positive
from codes.clauses import Clause, Mark
from codes.values import number

MEASURING = Clause("ISO 13916", "distance of the measuring point", Mark.MEMORY)
D11_ZONE = Clause("AWS D1.1:2020", "zone that is preheated", Mark.PART, "public note on the preheat zone")
CHECK = Clause("this register", "highest interpass temperature", Mark.OWN, "a plate maker's page (210 °C for Q&T)")
THIN = Decimal(50)
MOST_THIN, LEAST_THICK = Decimal(50), Decimal(75)
THREE_INCHES = Decimal("76.2")
USUAL: Mapping[str, Decimal] = {"normalised": Decimal(250), "quenched_tempered": Decimal(200)}
"""Kind of steel -> highest interpass temperature above which a warning stands [°C]."""
ZONES = {"iso": "ISO 13916", "aws": "AWS D1.1"}


@exact
def measuring_distance(thickness: Decimal, code: str = "iso") -> Result:
    """Distance from the groove to the measuring point. ISO: 4 t up to 50 mm thick, at most 50 mm; above, at least 75.

    AWS: the thickness, at least 75 mm all around. Example: 10 mm is 40 mm by ISO, 75 mm by AWS; 50.1 mm is 75 mm.
    """
    working = Working()
    positive("thickness", thickness, "mm")
    if code == "aws":
        working.flag(
            "the code prints 3 in beside 75 mm: whoever works in inches measures at 3 in", thickness < THREE_INCHES
        )
        return working.result(max(thickness, LEAST_THICK), "mm", D11_ZONE, "the thickness, at least 75 mm")
    if thickness <= THIN:
        return working.result(min(4 * thickness, MOST_THIN), "mm", MEASURING, "4·t, at most 50 mm")
    working.flag("at least so far")
    return working.result(LEAST_THICK, "mm", MEASURING, "at least 75 mm above 50 mm of thickness")


@exact
def interpass_check(highest: Decimal, preheat: Decimal, steel: str) -> Result:
    """The span between preheat (the lowest interpass temperature) and the highest.

    Raises Refused where the highest lies below. Example: 250 °C on S355 is not flagged, 251 °C is.
    """
    working = Working()
    if highest < preheat:
        told = f"{number(highest)} °C is below the preheat of {number(preheat)} °C, the lowest interpass temperature"
        raise Refused("highest", told)
    usual = USUAL[steel]
    working.flag(f"above {number(usual)} °C, usual at most for such steel", when=highest > usual)
    return working.result(highest - preheat, "K", CHECK, "highest interpass temperature − preheat")


CALCULATIONS = (
    Calculation(
        "temperature_measuring_distance",
        "Distance at which preheat and interpass temperature are measured",
        "preheat",
        "mm",
        measuring_distance,
        (asked("thickness", "Thickness", "mm"), choice("code", "Standard", ZONES)),
    ),
    Calculation(
        "interpass_check",
        "Span from preheat to the highest interpass temperature",
        "preheat",
        "K",
        interpass_check,
        (
            asked("highest", "Highest interpass temperature", "°C"),
            asked("preheat", "Preheat", "°C"),
            choice(
                "steel",
                "Kind of steel",
                {"normalised": "normalised, S235 to S355", "quenched_tempered": "quenched and tempered"},
                "always",
            ),
        ),
    ),
)
