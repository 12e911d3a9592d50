"""All calculations by name, and the one way to ask one with plain inputs."""

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache

from codes.calc import (
    carbon,
    combined,
    consumables,
    conversions,
    cooling,
    cooling_inverse,
    deposition,
    fillet,
    gas,
    groove,
    heat,
    heat_window,
    interpass,
    position,
    preheat_cet,
    preheat_d11,
    preheat_method_a,
    resistance,
    throat,
    turning,
)
from codes.calc.calculation import Calculation
from codes.calc.inputs import arguments
from codes.calc.result import Result
from codes.parse import BadField, Plain

FAMILIES = (
    heat,
    heat_window,
    carbon,
    preheat_cet,
    preheat_method_a,
    preheat_d11,
    interpass,
    cooling,
    cooling_inverse,
    combined,
    groove,
    fillet,
    consumables,
    deposition,
    gas,
    position,
    turning,
    throat,
    resistance,
    conversions,
)


@cache
def calculations() -> Mapping[str, Calculation]:
    """Every calculation by its name, families together."""
    found = [one for family in FAMILIES for one in family.CALCULATIONS]
    return {one.name: one for one in found}


def calculation(name: str) -> Calculation:
    """The calculation of that name. Raises BadField naming the nearest."""
    held = calculations()
    if name not in held:
        near = get_close_matches(name, held, n=3) or list(held)
        raise BadField("calculation", f'"{name}" is not known; use one of: {", ".join(near)}')
    return held[name]


def calculate(name: str, inputs: Mapping[str, Plain]) -> Result:
    """The result for plain inputs. Raises BadField for inputs that cannot be read, Refused outside the method's range.

    Example: calculate("cen_factor", {"carbon": "0.12"}).value is 0.75.
    """
    asked = calculation(name)
    return asked.function(**arguments(name, asked.inputs, inputs))
