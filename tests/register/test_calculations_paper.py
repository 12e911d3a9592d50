"""What a calculation leaves on paper: its sheet on one side, and the printed page with what was stated."""

from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse

from codes.calc.registry import calculations
from codes.units import System
from register.calculations.examples import example
from register.calculations.typed import texts_of
from register.templatetags.formulas import set_formula
from tests.wps.pdfs import text

pytestmark = pytest.mark.django_db


@pytest.fixture
def auditor(client_of: Callable[[str], Client]) -> Client:
    return client_of("auditor")


def stated(name: str, units: str) -> dict[str, str]:
    """The worked example as the address states it."""
    asked, given = calculations()[name], {"calculation": name, "units": units}
    for field, plain in example(asked, System(units)).items():
        given |= texts_of(asked.input(field), plain)
    return given


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize(
    ("family", "name"),
    [("cooling", "cooling_time"), ("heat", "heat_input_window"), ("preheat", "d11_prequalified_preheat")],
)
def test_a_plot_that_can_be_read_leaves_the_sheet_one_side(auditor: Client, family: str, name: str, units: str) -> None:
    """160 mm for 560 px: letters of 11 px are 3.1 mm, near 9 pt, on paper."""
    said = text(auditor.get(reverse("calc:sheet", args=[family]), stated(name, units)).content)
    assert "side 1 of 1" in said


def test_a_printed_page_names_what_was_stated(auditor: Client) -> None:
    """The form stays off the paper."""
    body = auditor.get(reverse("calc:family", args=["heat"]), stated("heat_input", "si")).content.decode()
    paper = body.split('<section class="on-paper">')[1].split("</section>")[0]
    assert "<dt>Arc voltage</dt><dd>24 V</dd>" in paper and "<dd>135 · GMAW</dd>" in paper


@pytest.mark.parametrize(
    ("family", "name", "said"),
    [
        ("combined-thickness", "combined_thickness", "such as 0.75; 0.75; 0.5"),
        ("deposition", "melt_off", "0.2836 lb/in³, steel, where not stated"),
        ("heat", "heat_input_run_out", "usually 1.5 in"),
    ],
)
def test_hints_are_in_the_units_of_their_field(auditor: Client, family: str, name: str, said: str) -> None:
    page = auditor.get(reverse("calc:family", args=[family]), {"calculation": name, "units": "us"}).content.decode()
    assert said in page


def test_a_formula_breaks_before_the_sign_of_a_sum_or_a_bracket_that_multiplies() -> None:
    """On a phone one broke inside 1/(500−T0)."""
    said = set_formula("t = (4300 − 4.3·T0)·10⁵·[1/(500−T0)^2]·F_2")
    assert said == "t = (4300 −\u00a04.3·T0)<wbr>·10⁵<wbr>·[1/(500−T0)<sup>2</sup>]·F<sub>2</sub>"


def test_an_unknown_calculation_is_answered_with_the_names_of_those_that_are_there(auditor: Client) -> None:
    refused = auditor.get(reverse("calc:family", args=["heat"]), {"calculation": "none"})
    assert refused.status_code == 400
    said = refused.content.decode()
    assert "Arc energy; Heat input; " in said and "heat_input" not in said


def test_an_error_at_a_field_begins_with_a_capital(auditor: Client) -> None:
    given = {"calculation": "shielding_gas", "flow": "15"}
    page = auditor.get(reverse("calc:family", args=["gas"]), given).content.decode()
    assert ">State either the arc time, or length and travel speed" in page
