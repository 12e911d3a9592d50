"""Exact factors, and rounding that never widens a range."""

from decimal import ROUND_CEILING, ROUND_FLOOR
from decimal import Decimal as D

import pytest

from codes.amounts import amount
from codes.units import (
    CONVERSIONS,
    System,
    amount_in,
    at_least,
    at_most,
    difference_in,
    figure_in,
    interval_in,
    unit_in,
)
from codes.values import Interval

US, SI = System.US, System.SI


@pytest.mark.parametrize(
    ("si", "unit", "us"),
    [
        ("25.4", "mm", "1"),
        ("6.3", "mm", "0.248"),
        ("355", "MPa", "51.4"),
        ("0", "°C", "32"),
        ("100", "°C", "212"),
        ("-40", "°C", "-40"),
        ("254", "mm/min", "10"),
        ("2.54", "m/min", "100"),
        ("1", "kJ/mm", "25.4"),
        ("28.316846592", "l/min", "60"),
        ("220", "A", "220"),
    ],
)
def test_figures(si: str, unit: str, us: str) -> None:
    assert figure_in(D(si), unit, US) == us
    assert figure_in(D(si), unit, SI) == si


def test_a_strength_never_reads_as_more_than_it_is() -> None:
    """355 MPa is 51.488 ksi. One that was typed in ksi comes out as it was, kept to all digits or to three places."""
    assert amount_in(D(355), "MPa", US) == "51.4 ksi" and amount_in(D(275), "MPa", US) == "39.8 ksi"
    row = CONVERSIONS["MPa"]
    for typed in (D(tenths) / 10 for tenths in range(1, 2000)):
        assert row.shown(row.to_si(typed)) == row.shown(row.to_si(typed).quantize(row.kept)) == typed


def test_the_factor_of_ksi_is_exact_to_the_digits_of_the_context() -> None:
    assert str(CONVERSIONS["MPa"].to_si(D(1))).startswith("6.894757293168361")


@pytest.mark.parametrize("unit", ["°C", "l/min"])
def test_a_typed_figure_comes_out_as_it_was_typed(unit: str) -> None:
    """Forms keep 400 °F as 204.444 °C, and 40 ft³/h as 18.878 l/min; one step of what is kept beside it is no such
    figure and is rounded inwards.
    """
    row = CONVERSIONS[unit]
    for typed in range(33, 1000):
        kept = row.to_si(D(typed)).quantize(row.kept)
        assert {row.shown(kept, way) for way in (ROUND_FLOOR, ROUND_CEILING)} == {D(typed)}
        assert row.shown(kept - row.kept, ROUND_FLOOR) == typed - 1
        assert row.shown(kept + row.kept, ROUND_CEILING) == typed + 1


@pytest.mark.parametrize("row", CONVERSIONS.values(), ids=CONVERSIONS)
def test_there_and_back(row: object) -> None:
    value = D("123.456")
    assert abs(row.to_si(row.to_us(value)) - value) < D("1e-20")  # type: ignore[attr-defined]


def test_limits_are_rounded_inwards() -> None:
    assert at_least(D(3), "mm", US) == "0.119 in"  # 0.11811
    assert at_most(D(16), "mm", US) == "0.629 in"  # 0.62992
    assert str(interval_in(Interval(D(3), D(16)), "mm", US)) == "0.119 to 0.629 in"
    assert str(interval_in(Interval(D(20), None, lo_open=True), "°C", US)) == "above 68 °F"


@pytest.mark.parametrize(("lo", "hi"), [("1.2", "1.2"), ("1.2", "1.201")])
def test_a_range_narrower_than_a_step_stays_a_figure(lo: str, hi: str) -> None:
    assert str(interval_in(Interval(D(lo), D(hi)), "mm", US)) == "0.047 in"


@pytest.mark.parametrize(
    ("typed", "unit"),
    [("220 F", "°C"), ("224 F", "°C"), ("51 F", "°C"), ("2.9 kJ/in", "kJ/mm"), ("15.4 ksi", "MPa"), ("0.945 in", "mm")],
)
def test_a_limit_typed_in_us_units_is_shown_as_it_was_typed(typed: str, unit: str) -> None:
    """220 °F is 104.4... °C without end: what is cut off after 28 digits moves no limit by a whole degree."""
    kept = amount(typed, unit)
    figure = D(typed.split()[0])
    shown = interval_in(Interval(kept, kept), unit, US)
    assert (shown.lo, shown.hi) == (figure, figure)
    assert at_least(kept, unit, US) == at_most(kept, unit, US) == amount_in(kept, unit, US)
    assert at_least(kept, unit, US).startswith(f"{figure} ")


def test_si_is_never_rounded() -> None:
    found = interval_in(Interval(D("0.1234"), D("0.5678"), hi_open=True), "mm", SI)
    assert str(found) == "0.1234 to below 0.5678 mm"


def test_unit_names() -> None:
    assert unit_in("mm/min", US) == "in/min"
    assert unit_in("V", US) == "V"
    assert amount_in(D(60), "°", US) == "60°"


@pytest.mark.parametrize(
    ("si", "unit", "us"),
    [("0", "°C", "0 °F"), ("10", "°C", "18 °F"), ("110", "°C", "198 °F"), ("25.4", "mm", "1 in"), ("5", "%", "5 %")],
)
def test_a_difference_of_temperatures_is_no_temperature(si: str, unit: str, us: str) -> None:
    """A kelvin is 1.8 degrees Fahrenheit, with no 32 to add (ISO 80000-5; NIST SP 811, B.8)."""
    assert difference_in(D(si), unit, US) == us
    assert difference_in(D(si), unit, SI) == f"{si} {unit}"


@pytest.mark.parametrize(
    ("si", "unit", "least", "most"), [("0.3", "°C", "0 °F", "1 °F"), ("3", "mm", "0.118 in", "0.119 in")]
)
def test_a_difference_is_rounded_to_the_side_that_is_asked_for(si: str, unit: str, least: str, most: str) -> None:
    assert difference_in(D(si), unit, US, ROUND_FLOOR) == least
    assert difference_in(D(si), unit, US, ROUND_CEILING) == most
