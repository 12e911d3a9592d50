"""Conversion of units: against pint, there and back, and what cannot be converted."""

from decimal import Decimal as D

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.calc.conversions import SIZES, SPELLINGS, TEMPERATURES, US_UNITS, converted, in_us, known_units
from codes.calc.result import Refused

REGISTRY = pint.UnitRegistry(non_int_type=D)
PINT_NAMES = {
    "l": "liter",
    "mm²": "mm**2",
    "cm²": "cm**2",
    "in²": "inch**2",
    "m³": "m**3",
    "mm³": "mm**3",
    "ft³": "foot**3",
    "in": "inch",
    "ft": "foot",
    "in/min": "inch/minute",
    "ft/min": "foot/minute",
    "kJ/in": "kJ/inch",
    "J/in": "J/inch",
    "N/mm²": "N/mm**2",
    "ksi": "1000*psi",
    "psi": "psi",
    "lbf": "force_pound",
    "kip": "1000*force_pound",
    "kip/in": "1000*force_pound/inch",
    "ft·lbf": "foot*force_pound",
    "t": "tonne",
    "lb": "pound",
    "lb/ft": "pound/foot",
    "lb/h": "pound/hour",
    "kg/h": "kg/hour",
    "g/cm³": "g/cm**3",
    "kg/m³": "kg/m**3",
    "lb/in³": "pound/inch**3",
    "in/lb": "inch/pound",
    "l/min": "liter/minute",
    "ft³/h": "foot**3/hour",
    "m³/h": "m**3/hour",
    "h": "hour",
    "min": "minute",
    "mm/min": "mm/minute",
    "cm/min": "cm/minute",
    "m/min": "m/minute",
    "g/min": "g/minute",
    "V": "volt",
    "A": "ampere",
    "kA": "kiloampere",
    "W": "watt",
    "kW": "kilowatt",
    "Δ°C": "delta_degC",
    "Δ°F": "delta_degF",
}
PAIRS = [(a, b) for units in SIZES.values() for a in units for b in units if a != b]
FIGURES = st.decimals("-1000000", "1000000", places=4, allow_nan=False)


def by_pint(value: D, source: str, target: str) -> D:
    quantity = REGISTRY.Quantity(value, "dimensionless") * REGISTRY.parse_expression(PINT_NAMES.get(source, source))
    ratio = quantity / REGISTRY.parse_expression(PINT_NAMES.get(target, target))
    return D(ratio.to("dimensionless").magnitude)


@pytest.mark.parametrize(("source", "target"), PAIRS)
def test_pint_gives_the_same(source: str, target: str) -> None:
    mine, theirs = converted(D("12.5"), source, target), by_pint(D("12.5"), source, target)
    assert abs(mine - theirs) <= abs(mine) * D("1e-20")


@pytest.mark.parametrize(("source", "target"), [("°C", "°F"), ("°F", "°C"), ("°C", "K"), ("K", "°F")])
def test_pint_gives_the_same_temperature(source: str, target: str) -> None:
    names = {"°C": "degC", "°F": "degF", "K": "kelvin"}
    theirs = REGISTRY.Quantity(D("150"), names[source]).to(names[target]).magnitude
    assert abs(converted(D(150), source, target) - D(theirs)) < D("1e-18")


@given(FIGURES, st.sampled_from([*PAIRS, ("°C", "°F"), ("K", "°F")]))
def test_there_and_back(value: D, pair: tuple[str, str]) -> None:
    source, target = pair
    back = converted(converted(value, source, target), target, source)
    assert abs(back - value) <= D("1e-28") + abs(value) * D("1e-35")


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_spellings_that_convert_mean_a_known_unit(spelling: str) -> None:
    assert SPELLINGS[spelling] in (*known_units(), "°")


@pytest.mark.parametrize("unit", US_UNITS)
def test_us_units_convert(unit: str) -> None:
    value, us = in_us(D(10), unit)
    assert us == US_UNITS[unit] and abs(converted(value, us, unit) - 10) < D("1e-28")


def test_a_unit_of_both_systems_stays() -> None:
    assert in_us(D(220), "A") == (D(220), "A")


def test_what_measures_different_things_is_refused() -> None:
    with pytest.raises(Refused, match="measure different things"):
        converted(D(1), "mm", "kg")
    with pytest.raises(Refused, match="not a unit held here"):
        converted(D(1), "furlong", "mm")
    assert set(TEMPERATURES) == {"°C", "°F", "K"}
