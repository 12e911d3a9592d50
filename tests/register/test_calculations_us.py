"""To a reader in US units the calculations speak US units: examples, answers, refusals, rulers and plots."""

import re
from decimal import Decimal as D
from html import unescape
from typing import Any

import pytest
from django.urls import reverse

from codes.calc.conversions import US_UNITS
from codes.calc.registry import calculations
from codes.units import System
from codes.values import number
from register.calculations.examples import IN_INCHES, example
from register.calculations.families import families
from register.calculations.forms import CalculationForm
from register.calculations.limits import RANGES
from register.calculations.shown import ranges, shown
from register.calculations.typed import shown_unit, texts_of

US = System.US
UNITS = "|".join(sorted(map(re.escape, US_UNITS), key=len, reverse=True))
SI_FIGURE = re.compile(rf"(?<![\w.])\d[\d.]* ?({UNITS})(?![\w/²³·])")
BESIDE = re.compile(r"\((?:-?[\d.]+ °C|[\d.]+ mm)\)|in beside \d+ mm")
"""The SI figure that stands in brackets behind the US one."""
GRAPH = "Points entered"
"""The points of a graph stay in the units of the standard that prints it, as the form asks for them."""
SLUG = {one.name: family.slug for family in families() for one in family.members}


def us_texts(name: str) -> dict[str, str]:
    asked = calculations()[name]
    found: dict[str, str] = {}
    for field, plain in example(asked, US).items():
        found |= texts_of(asked.input(field), plain)
    return found


@pytest.mark.parametrize("name", ["preheat_method_b", "cooling_time", "d11_prequalified_preheat"])
def test_the_point_of_a_plot_says_what_the_answer_says(name: str) -> None:
    """109.7 °C is 229 °F, and the answer, rounded upwards to 110 °C, 230 °F: the plot must not ask for less."""
    filled = CalculationForm(calculations()[name], US, us_texts(name))
    assert filled.result is not None
    found = shown(filled.asked, filled.plain, filled.result, US)
    assert found.plot is not None
    assert found.value.partition(" (")[0] == found.plot.marks[0].words


def test_a_conversion_ends_in_the_unit_that_was_asked_for() -> None:
    """50 kJ/in divided by 25.4 is 1.9685 kJ/mm, whatever units the reader has."""
    filled = CalculationForm(calculations()["convert"], US, us_texts("convert"))
    assert filled.result is not None
    found = shown(filled.asked, filled.plain, filled.result, US)
    assert (found.value, found.exactly) == ("1.97 kJ/mm", "1.9685 kJ/mm")


@pytest.mark.parametrize("name", sorted(calculations()))
def test_the_example_is_answered_and_says_nothing_in_si_alone(name: str) -> None:
    asked = calculations()[name]
    form = CalculationForm(asked, US, us_texts(name))
    assert form.result is not None, (form.missing, form.problems)
    answer = shown(asked, form.plain, form.result, US)
    fixed = form.result.fixed_units and name not in IN_INCHES
    said = [
        answer.value,
        answer.exactly,
        *answer.flags,
        *(v for k, v in answer.stated if name != "convert" and k != GRAPH),
    ]
    said += [text for step in answer.steps for text in step] if not form.result.fixed_units else []
    if answer.plot is not None:
        said += [*answer.plot.heads, *(series.name for series in answer.plot.series)]
    left = [text for text in said if SI_FIGURE.search(BESIDE.sub("", text))]
    assert fixed or left == []


@pytest.mark.parametrize(("name", "one"), [(name, one) for name, several in RANGES.items() for one in several])
def test_the_ends_on_the_ruler_may_be_typed(name: str, one: Any) -> None:
    """Rounded inwards, both ends of the range in US units are accepted; a step outside is refused in US units."""
    asked = calculations()[name]
    field = asked.input(one.field)
    unit = shown_unit(field, US)
    if unit == field.unit:
        pytest.skip("the same unit in both systems")
    spans = dict(ranges(asked, US))
    span = spans[field.label]
    assert span.unit == unit
    for end, open_end in ((span.lo, span.lo_open), (span.hi, span.hi_open)):
        if end is not None and not open_end:
            form = CalculationForm(asked, US, us_texts(name) | {one.field: number(end)})
            assert one.field not in form.problems, form.problems
    beyond = span.hi * D("1.01") if span.hi is not None else span.lo * D("0.99")
    refused = CalculationForm(asked, US, us_texts(name) | {one.field: number(beyond)}).problems
    assert one.field in refused and not SI_FIGURE.search(refused[one.field]), refused


@pytest.mark.django_db
def test_the_page_refuses_in_inches_and_keeps_the_units_of_its_example(client_of: Any) -> None:
    asked = {"calculation": "preheat_method_b", "units": "us"}
    page = client_of("auditor").get(
        reverse("calc:family", args=["preheat"]), asked | us_texts("preheat_method_b") | {"thickness": "4"}
    )
    text = unescape(page.content.decode())
    assert "4 in is outside 0.394 to 3.543 in" in text
    assert "units=us" in text and "thickness=1.25" in text


def test_parts_of_a_preheat_are_differences() -> None:
    """EN 1011-2 method B: in °F the parts, turned over without the offset of 32, add up to the preheat less that 32."""
    asked = calculations()["preheat_method_b"]
    form = CalculationForm(asked, US, us_texts("preheat_method_b"))
    assert form.result is not None
    answer = shown(asked, form.plain, form.result, US)
    parts = [D(value.split()[0]) for label, value in answer.steps if label.startswith("Tp ")]
    assert len(parts) == 4 and abs(sum(parts) + 32 - D(answer.exactly.split()[0])) < D("0.05")


def test_the_segments_of_a_mean_thickness_are_typed_in_inches() -> None:
    """Worked by hand: 1 in of 1.25 in, then 1.9528 in (to 75 mm) of 0.75 in: (1.25 + 1.4646) / 2.9528 = 0.9193 in."""
    asked = calculations()["averaged_thickness"]
    form = CalculationForm(asked, US, {"segments": "1.25; 1\n0.75; 2"})
    assert form.fields["segments"].label == "Segments from the weld line outwards [in]"
    assert form.result is not None
    found = shown(asked, form.plain, form.result, US)
    assert (found.value, found.stated[0][1]) == ("0.919 in", "1.25 in\xa0/\xa01 in; 0.75 in\xa0/\xa02 in")
    assert "mm" not in found.formula
    short = CalculationForm(asked, US, {"segments": "1.25; 2.9"})
    assert short.problems == {
        "segments": "the segments reach 2.9 in; state the thickness to 2.953 in from the weld line"
    }
    assert not CalculationForm(asked, US, {"segments": "1.25; 2.953"}).problems


def test_long_lengths_are_feet_and_wire_is_counted_by_the_pound() -> None:
    assert [
        CalculationForm(calculations()[name], US).fields[field].label
        for name, field in (("weld_metal", "length"), ("deposition_rate_by_length", "length_per_mass"))
    ] == ["Length [ft]", "Length L of wire in a mass [in/lb]"]


def test_what_a_formula_says_of_units_holds() -> None:
    """Figures without a unit need no conversion, and the US handbook form is in US units itself."""
    said = {}
    for name in ("heat_input", "d11_susceptibility_index", "deposition_efficiency", "deposition_rate_us"):
        form = CalculationForm(calculations()[name], US, us_texts(name))
        assert form.result is not None
        said[name] = shown(form.asked, form.plain, form.result, US).lines_in_si
    assert said == {
        "heat_input": True, "d11_susceptibility_index": False, "deposition_efficiency": False,
        "deposition_rate_us": False,
    }  # fmt: skip
