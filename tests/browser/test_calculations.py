"""Calculations in a browser: one worked example a family read off its page, live, in both unit systems."""

from collections.abc import Callable
from urllib.parse import urlencode

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from register.calculations.families import families
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.register.test_calculations import texts

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]

WORKED = {
    "heat": ("heat_input", "0.69 kJ/mm", "0.8·0.864"),
    "carbon": ("cet", "0.30 %", "(1.4+0.005)/10"),
    "preheat": ("preheat_method_b", "110 °C", "697·0.3325"),
    "cooling": ("cooling_time", "9.4 s", "two-dimensional"),
    "combined-thickness": ("combined_thickness", "45 mm", "Path 3"),
    "areas": ("groove_area", "143.2 mm²", "Gap area"),
    "throat": ("fillet_throat", "6.6 mm", "8·12"),
    "weld-metal": ("weld_metal", "1.124 kg", "143.16·7.85·1/1000"),
    "deposition": ("melt_off", "5.33 kg/h", "5.1138 kg/h"),
    "gas": ("gas_per_metre", "37.5 l", "15·1000/400"),
    "position": ("best_turn", "225°", "Flat reached"),
    "units": ("convert", "1.9685 kJ/mm", "compare within the unit system"),
}
"""Family to calculation, value and a piece of the working."""


def address(slug: str, name: str, units: str = "si", filled: bool = True) -> str:
    query = {"calculation": name, "units": units} | (texts(name) if filled else {})
    return f"{reverse('calc:family', args=[slug])}?{urlencode(query)}"


def test_each_family_is_read() -> None:
    assert set(WORKED) == {one.slug for one in families()}


@pytest.mark.parametrize("slug", sorted(WORKED))
def test_a_worked_example(sign_in: SignIn, slug: str) -> None:
    """The link fills the form in; the page answers without a click."""
    name, value, piece = WORKED[slug]
    page = sign_in("auditor")
    page.goto(address(slug, name, filled=False))
    answer = page.locator("#answer")
    expect(answer).to_contain_text("State the figures")
    page.get_by_role("link", name="Fill in a worked example").click()
    expect(answer).to_contain_text(value)
    expect(answer).to_contain_text(piece)
    assert_no_axe_violations(page)
    assert_fits_the_width(page)


def test_it_answers_while_one_types(sign_in: SignIn) -> None:
    page = sign_in("auditor")
    page.goto(address("preheat", "preheat_method_b"))
    page.get_by_label("Plate thickness [mm]").fill("95")
    expect(page.locator("#id_thickness_error")).to_contain_text("95 mm is outside 10 to 90 mm")
    expect(page.locator("#answer")).to_contain_text("No answer")
    page.get_by_label("Plate thickness [mm]").fill("60")
    expect(page.locator("#id_thickness_error")).to_be_empty()
    expect(page.locator("#answer")).to_contain_text("145 °C")
    assert "thickness=60" in page.url


def test_us_units_and_a_comma(sign_in: SignIn) -> None:
    page = sign_in("auditor")
    page.goto(address("heat", "arc_energy", filled=False))
    page.get_by_role("link", name="US customary").click()
    page.get_by_label("Arc voltage [V]").fill("24,0")
    page.get_by_label("Welding current [A]").fill("120")
    page.get_by_label("Travel speed [in/min]").fill("10")
    expect(page.locator("#answer")).to_contain_text("17.3 kJ/in")


def test_the_worked_example_in_us_units_stays_in_them_and_so_does_a_refusal(sign_in: SignIn) -> None:
    page = sign_in("auditor")
    page.goto(address("preheat", "preheat_method_b", "us", filled=False))
    page.get_by_role("link", name="Fill in a worked example").click()
    expect(page.get_by_label("Plate thickness [in]")).to_have_value("1.25")
    expect(page.locator("#answer")).to_contain_text("230 °F (110 °C)")
    page.get_by_label("Plate thickness [in]").fill("4")
    expect(page.locator("#id_thickness_error")).to_contain_text("4 in is outside 0.394 to 3.543 in")
    assert_fits_the_width(page)


@pytest.mark.parametrize("width", [1280, 375])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    "name", ["preheat_method_b", "cooling_time", "heat_input_window", "d11_prequalified_preheat", "cen"]
)
def test_plots_and_narrow_windows(sign_in: SignIn, name: str, width: int, scheme: str) -> None:
    page = sign_in("auditor")
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    slug = next(one.slug for one in families() for member in one.members if member.name == name)
    page.goto(address(slug, name))
    expect(page.locator("#answer p.value")).to_be_visible()
    assert_no_axe_violations(page)
    assert_fits_the_width(page)


def test_the_index(sign_in: SignIn) -> None:
    page = sign_in("auditor")
    page.goto(reverse("calc:calculations"))
    assert_no_axe_violations(page)
    page.get_by_role("link", name="Preheat, EN 1011-2 method B").click()
    expect(page.get_by_role("heading", name="Preheat, EN 1011-2 method B")).to_be_visible()
