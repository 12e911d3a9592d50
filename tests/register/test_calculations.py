"""The calculation pages: every calculation answers its example, in both unit systems, at the ends of its ranges."""

import re
from collections.abc import Callable
from decimal import Decimal as D

import pytest
from django.test import Client
from django.urls import reverse

from codes.calc.calculation import Calculation, Kind
from codes.calc.registry import calculations
from codes.clauses import Mark
from codes.units import System
from register.calculations.examples import EXAMPLES, example
from register.calculations.families import TITLES, families, family
from register.calculations.forms import CalculationForm
from register.calculations.limits import RANGES, Range
from register.calculations.set_out import set_out, significant
from register.calculations.shown import Shown, shown
from register.calculations.symbols import SYMBOLS
from register.calculations.typed import field_names, plain_of, texts_of

ALL = sorted(calculations())


def texts(name: str, **changed: str) -> dict[str, str]:
    """The fields of the worked example, some of them changed."""
    asked = calculations()[name]
    found: dict[str, str] = {}
    for field, plain in EXAMPLES[name].items():
        found |= texts_of(asked.input(field), plain)
    return found | changed


def form(name: str, system: System = System.SI, **changed: str) -> CalculationForm:
    return CalculationForm(calculations()[name], system, texts(name, **changed))


def answer(name: str, system: System = System.SI, **changed: str) -> Shown:
    filled = form(name, system, **changed)
    assert filled.result is not None, (filled.problems, filled.missing)
    return shown(filled.asked, filled.plain, filled.result, system)


class TestEveryCalculation:
    def test_each_has_an_example_and_a_titled_family(self) -> None:
        assert set(EXAMPLES) == set(ALL)
        assert {one.key for one in families()} == set(TITLES)
        assert sorted(one.name for found in families() for one in found.members) == ALL

    @pytest.mark.parametrize("name", ALL)
    def test_the_example_is_answered(self, name: str) -> None:
        found = answer(name)
        assert found.value
        assert found.clause
        assert found.mark in {mark.value for mark in Mark}

    @pytest.mark.parametrize("name", sorted(SYMBOLS))
    def test_the_formula_is_set_out(self, name: str) -> None:
        """A symbol that the table names but the formula or the result lacks would be a dead entry."""
        filled = form(name)
        assert filled.result is not None
        assert set_out(filled.asked, filled.plain, filled.result), filled.result.formula

    @pytest.mark.parametrize("name", ALL)
    def test_blank_it_asks_and_does_not_scold(self, name: str) -> None:
        blank = CalculationForm(calculations()[name], System.SI, {})
        assert not blank.problems
        assert blank.result is None


# Left and right of the last formula as arithmetic; the sign of a root and the like are left out.
PLAIN_ARITHMETIC = (
    "arc_energy", "heat_input", "heat_input_run_out", "carbon_equivalent", "carbon_equivalent_d11", "cet", "pcm",
    "deposit", "filler_to_buy", "gas_per_metre", "fillet_effective_length", "arc_time", "deposition_efficiency",
    "deposition_rate_weighed", "deposition_rate_by_length", "travel_speed_for_area", "run_area", "shielding_gas",
    "burn_off", "cooling_time_3d", "cooling_time_2d",
)  # fmt: skip


@pytest.mark.parametrize("name", PLAIN_ARITHMETIC)
def test_the_numbers_in_the_formula_give_the_value(name: str) -> None:
    filled = form(name)
    assert filled.result is not None
    line = set_out(filled.asked, filled.plain, filled.result)[-1].partition(" = ")[2]
    for old, new in ("·", "*"), ("²", "**2"), ("10⁵", "1e5"), ("−", "-"), ("[", "("), ("]", ")"):
        line = line.replace(old, new)
    line = re.sub(r"([\d.]+) %", r"(\1/100)", line)
    assert not re.search(r"[A-Za-zα-ω]", line.replace("1e5", "")), line
    assert eval(line) == pytest.approx(float(filled.result.figure), rel=1e-4)  # our own text


def test_a_turn_is_set_out_from_the_angle_that_was_stated() -> None:
    """Worked by hand: -45 turned by 45 is 0, which is flat. The angle after the turn has the name of the one before."""
    filled = form("turned_position_along")
    assert filled.result is not None
    assert set_out(filled.asked, filled.plain, filled.result) == ["ψ' = (-45°) + 45°", "φ = |0°|"]


@pytest.mark.parametrize(
    ("name", "part"), [("fillet_area", "7.0711·7.0711"), ("melt_off", "5.3269·96 %"), ("cen", "0.16 + 0.91601·[")]
)
def test_a_formula_takes_an_intermediate_value_as_it_stands_beside_it(name: str, part: str) -> None:
    """Five digits, as the intermediate values and the unrounded answer: two roundings of one figure confuse."""
    filled = form(name)
    assert filled.result is not None
    assert part in " ".join(set_out(filled.asked, filled.plain, filled.result))


def test_what_counts_where_nothing_is_stated_stands_in_the_formula() -> None:
    for name, part in (("fillet_area", "sin 90°"), ("fillet_resistance", "0.9·1.25"), ("transition_thickness", "1/1")):
        filled = form(name)
        assert filled.result is not None
        assert part in set_out(filled.asked, filled.plain, filled.result)[0], name


def test_a_figure_is_not_said_twice() -> None:
    assert answer("arc_energy").exactly == ""  # 2.40 and 2.4 kJ/mm
    assert answer("deposit", System.US, area="80.645", density="7.833").exactly == ""  # 7580.307 lb/ft says more
    assert answer("carbon_equivalent").exactly == "0.40693 %"


@pytest.mark.parametrize(("name", "changed", "si", "us"), [
    # By hand: 3/cos 45° is 4.243 mm, and a leg of 4.2 mm would leave a throat of 2.97 mm.
    ("fillet_leg", {"throat": "3"}, "4.3 mm", None),
    # 8/√2 is 5.657 mm; EN 1993-1-8 reckons with the throat that is there.
    ("fillet_throat", {"leg": "8", "leg_2": ""}, "5.6 mm", None),
    # 3 x 510/(√3 x 0.9 x 1.25) is 785.196 N/mm.
    ("fillet_resistance", {}, "785.1 N/mm", None),
    # 235.79 °C and 456.43 °F: the highest interpass temperature is not passed by its own rounding.
    ("interpass_for_cooling_time", {}, "235 °C", "456 °F (235 °C)"),
    # 0.8 x 28.5 x 270 x 60/800 is 461.7 mm/min, 18.177 in/min: 462 would fall below the least heat input.
    ("travel_speed_window", {}, "231 to 461 mm/min", "9.1 to 18.1 in/min"),
    # A window that is narrower than the last place is not turned round by rounding.
    ("travel_speed_window", {"heat_input_min": "0.8", "heat_input_max": "0.8"}, "461.7 to 461.7 mm/min", None),
])  # fmt: skip
def test_what_must_be_kept_to_is_rounded_to_its_safe_side(
    name: str, changed: dict[str, str], si: str, us: str | None
) -> None:
    filled = form(name, **changed)
    assert filled.result is not None, filled.problems
    assert shown(filled.asked, filled.plain, filled.result, System.SI).value == si
    if us is not None:
        assert shown(filled.asked, filled.plain, filled.result, System.US).value == us


def test_a_position_has_both_names() -> None:
    """PB is 2F, and a groove weld in PF 3G (ISO 6947, Annex with the positions of AWS A3.0)."""
    assert answer("welding_position").value == "PB · 2F"
    assert answer("welding_position_by_angles").value == "PF · 3G"


class TestWrongEntries:
    def test_each_end_of_a_range_has_its_own_message(self) -> None:
        assert set(form("heat_input_window", voltage_max="abc").problems) == {"voltage_max"}
        filled = form("heat_input_window", voltage_min="30")
        assert filled.problems == {"voltage_min": "30 lies above 28: write the least first"}

    def test_a_letter_in_a_figure_is_answered_with_the_units_of_that_figure(self) -> None:
        assert form("arc_energy", voltage="12x").problems == {
            "voltage": "“x” is no unit of this figure; write V, or leave it out"
        }
        assert form("preheat_method_b", thickness="12 kg").problems["thickness"] == (
            "“kg” is no unit of this figure; write mm, cm, m, in or ft, or leave it out"
        )

    def test_a_share_of_an_element_may_name_its_unit(self) -> None:
        assert form("carbon_equivalent", analysis_C="0.16 %").result == form("carbon_equivalent").result

    def test_a_part_of_a_vector_is_refused_at_its_field(self) -> None:
        filled = form("welding_position", axis_y="0x")
        assert set(filled.problems) == {"axis_y"}
        assert filled.refusals[0][0] == "Weld axis in the direction of travel, y"

    def test_a_column_of_a_code_is_refused_in_its_own_unit(self) -> None:
        """AWS D1.1 prints 3 mm beside 1/8 in: the field in mm is answered in mm to whoever types in it."""
        for system in System:
            assert form("d11_prequalified_preheat", system, thickness_mm="2").problems == {
                "thickness_mm": "2 mm is below 3 mm, where the table begins"
            }

    def test_what_is_refused_names_the_field(self) -> None:
        assert form("arc_energy", voltage="0").refusals == [("Arc voltage", "0 V; it must be above 0")]
        assert form("welding_position_by_angles", slope="91").refusals == [
            ("Slope of the weld axis", "91° is outside 0 to 90°, the range of a slope")
        ]

    @pytest.mark.parametrize("name", ["carbon_equivalent", "carbon_equivalent_d11", "cet", "pcm", "cen"])
    def test_carbon_is_never_taken_as_nought(self, name: str) -> None:
        """It is the greatest part of each formula: without it the steel would seem harmless."""
        for changed in ({"analysis_C": "0"}, {"analysis_C": "", "assumed_zero": "C B"}):
            assert "state it" in form(name, **changed).problems["analysis_C"]

    def test_a_figure_of_a_wrong_unit_is_flagged(self) -> None:
        """1500 mm/min typed as 15: 20 V, 300 A give 24 kJ/mm, more than a run of an arc has (own choice of limits)."""
        assert any(
            "outside the usual 0.05 to 20 kJ/mm" in flag for flag in answer("arc_energy", travel_speed="15").flags
        )
        assert any("outside the usual 5 to 2000 A" in flag for flag in answer("arc_energy", current="3000").flags)
        assert answer("arc_energy").flags == ()


def _edges() -> list[tuple[str, Range, str, str]]:
    """(calculation, range, figure inside, figure one step outside) for every stated end."""
    step, found = D("0.001"), []
    for name, ranges in RANGES.items():
        for one in ranges:
            for end, is_open, way in ((one.lo, one.lo_open, -1), (one.hi, one.hi_open, 1)):
                if end is not None:
                    at = D(end)
                    inside, outside = (at - way * step, at) if is_open else (at, at + way * step)
                    found.append((name, one, str(inside), str(outside)))
    return found


ALONE = {"thickness_in": "thickness_mm", "hydrogen": ""}
FACTORS = {"form": "", "f2": "0.9", "f3": "0.9"}


def _with(name: str, field: str, figure: str) -> CalculationForm:
    changed = {field: figure}
    if ALONE.get(field):
        changed[ALONE[field]] = ""
    if field == "k":
        changed["process"] = ""
    if field in ("f2", "f3") and "form" in {one.name for one in calculations()[name].inputs}:
        changed = {**FACTORS, **changed}
    if (name, field) == ("preheat_method_a", "carbon_equivalent"):
        changed |= {"graph_ce": "0.8"}
    return form(name, **changed)


@pytest.mark.parametrize(("name", "one", "inside", "outside"), _edges())
def test_a_range_on_the_page_is_the_range_of_the_rule(name: str, one: Range, inside: str, outside: str) -> None:
    if one.field == "starts":
        outside = "0"  # whole numbers only
    assert one.field not in _with(name, one.field, inside).problems
    assert _with(name, one.field, outside).problems, (one.field, outside)


def _with_units(asked: Calculation, given: dict[str, str]) -> dict[str, str]:
    """The same figures with their SI unit written behind them, to be typed among US units."""
    units = {name: one.unit for one in asked.inputs for name in field_names(one)}
    kinds = {name: one.kind for one in asked.inputs for name in field_names(one)}
    bare = re.compile(r"[\d.]+")
    return {
        name: "; ".join(
            f"{part} {units[name]}".strip() if bare.fullmatch(part) and kinds[name] is not Kind.ANALYSIS else part
            for part in text.split("; ")
        )
        for name, text in given.items()
    }


class TestUnits:
    def test_us_figures_are_read_as_us(self) -> None:
        """10 in/min at 24 V and 120 A: 17.28 kJ/in."""
        us = {"voltage": "24", "current": "120", "travel_speed": "10", "process": "", "waveform_controlled": "no"}
        assert answer("arc_energy", System.US, **us).value == "17.3 kJ/in"

    def test_a_figure_may_name_its_own_unit(self) -> None:
        mixed = {"travel_speed": "254 mm/min", "voltage": "24", "current": "120"}
        assert answer("arc_energy", System.US, **mixed).exactly.startswith("17.28 kJ/in")

    def test_a_decimal_comma(self) -> None:
        assert answer("arc_energy", voltage="20,5").value == answer("arc_energy", voltage="20.5").value == "2.46 kJ/mm"

    def test_preheat_rounded_up_says_both(self) -> None:
        us = {"thickness": "1.25", "heat_input": "32.004"}
        assert answer("preheat_method_b", System.US, **us).value == "230 °F (110 °C)"

    def test_columns_of_the_code_keep_their_unit(self) -> None:
        assert answer("d11_prequalified_preheat", System.US).value == "10 °C"
        assert answer("d11_prequalified_preheat", System.US, thickness_mm="", thickness_in="1").value == "50 °F"


class TestWindows:
    def test_both_ends_are_said(self) -> None:
        found = answer("heat_input_window")
        assert found.value == "0.58 to 1.12 kJ/mm"
        assert found.lines == ("least = 0.8·24·200·60 / (1000·400)", "greatest = 0.8·28·250·60 / (1000·300)")
        assert answer("travel_speed_window").value == "231 to 461 mm/min"

    def test_contours_run_through_the_corners_of_the_middle_voltage(self) -> None:
        """At 26 V and 300 A the greatest heat, 1.12 kJ/mm, takes 0.8 x 26 x 300 x 0.06 / 1.12 = 334.3 mm/min."""
        plot = answer("heat_input_window").plot
        assert plot is not None
        assert dict(plot.series[-1].points)[plot.x.hi] == D("334.3")  # at 300 A
        assert plot.series[-1].name == "1.12 kJ/mm"


class TestRefusals:
    def test_it_stands_at_the_field(self) -> None:
        refused = form("preheat_method_b", thickness="95")
        assert "95 mm is outside 10 to 90 mm" in refused.errors["thickness"][0]
        assert refused.result is None

    def test_an_element_that_is_not_stated(self) -> None:
        refused = form("cet", analysis_Cu="")
        assert refused.errors["assumed_zero"] == [
            "CET needs Cu, not stated; state them or name them in “Elements taken as nought”"
        ]

    def test_every_slip_is_said_at_once(self) -> None:
        slips = form("heat_input", voltage="twenty", current="1.2.3")
        assert set(slips.problems) == {"voltage", "current"}

    def test_what_is_missing_is_named(self) -> None:
        assert form("preheat_method_b", hydrogen="").missing == ["Diffusible hydrogen"]


class TestTyped:
    def test_a_range_with_one_end_is_that_figure(self) -> None:
        asked = calculations()["heat_input_window"].input("voltage")
        assert plain_of(asked, {"voltage_min": "24"}, System.SI) == {"min": "24", "max": "24"}

    def test_a_list(self) -> None:
        asked = calculations()["combined_thickness"].input("thicknesses")
        assert plain_of(asked, {"thicknesses": "15; 15,5;12"}, System.SI) == ["15", "15,5", "12"]

    @pytest.mark.parametrize(
        ("value", "text"),
        [("1.5748031", "1.5748"), ("0.0000005", "0.0000005"), ("123456789.4", "123456789"), ("0", "0")],
    )
    def test_significant(self, value: str, text: str) -> None:
        assert significant(D(value)) == text


@pytest.mark.django_db
class TestPages:
    @pytest.fixture
    def auditor(self, client_of: Callable[[str], Client]) -> Client:
        return client_of("auditor")

    @pytest.mark.parametrize("units", ["si", "us"])
    @pytest.mark.parametrize("name", ALL)
    def test_each_calculation_has_a_page(self, auditor: Client, name: str, units: str) -> None:
        asked: Calculation = calculations()[name]
        slug = next(one.slug for one in families() if asked in one.members)
        assert family(slug) is not None
        query = {"calculation": name, "units": units}
        empty = auditor.get(reverse("calc:family", args=[slug]), query)
        assert "State the figures" in empty.content.decode()
        given = texts(name) if units == "si" else _with_units(asked, texts(name))
        filled = auditor.get(reverse("calc:family", args=[slug]), query | given).content.decode()
        assert "Formula" in filled
        assert 'id="answer"' in filled

    def test_live_answer_puts_the_problem_at_the_field(self, auditor: Client) -> None:
        query = {"calculation": "preheat_method_b", "thickness": "95", "cet": ".3", "hydrogen": "5", "heat_input": "1"}
        said = auditor.get(reverse("calc:family", args=["preheat"]), query, headers={"HX-Request": "true"})
        body = said.content.decode()
        assert "<html" not in body
        assert re.search(r'id="id_thickness_error" hx-swap-oob="true">\s*95\s+mm is outside', body)
        assert re.search(r'id="id_cet_error" hx-swap-oob="true"></p>', body)

    def test_the_sheet(self, auditor: Client) -> None:
        from tests.wps.pdfs import text

        made = auditor.get(reverse("calc:sheet", args=["heat"]), {"calculation": "heat_input"} | texts("heat_input"))
        assert made["Content-Type"] == "application/pdf"
        said = text(made.content)
        for words in ("0.69 kJ/mm", "24·180·60 / (1000·300)", "0.8·0.864", "Table 1", "135 · GMAW", "never replaces"):
            assert words in said

    @pytest.mark.parametrize("units", ["si", "us"])
    def test_the_longest_sheet_has_one_side_and_says_where_it_ends(self, auditor: Client, units: str) -> None:
        """Method B: parts, limits, what to mind and the plot; EN 1011-2, C.3 serves plates of 10 to 90 mm."""
        from tests.wps.pdfs import text

        system = System(units)
        given: dict[str, str] = {}
        for field, plain in example(calculations()["preheat_method_b"], system).items():
            given |= texts_of(calculations()["preheat_method_b"].input(field), plain)
        made = auditor.get(
            reverse("calc:sheet", args=["preheat"]), {"calculation": "preheat_method_b", "units": units} | given
        )
        said = text(made.content)
        assert "side 1 of 1" in said
        assert ("10 to 90 mm" if units == "si" else "0.394 to 3.543 in") in said

    def test_the_points_of_a_graph_are_said_in_words(self, auditor: Client) -> None:
        from tests.wps.pdfs import text

        asked = {"calculation": "preheat_method_a"} | texts("preheat_method_a")
        said = text(auditor.get(reverse("calc:sheet", args=["preheat"]), asked).content)
        assert "75 °C: 40 mm 1.0 kJ/mm, 60 mm 1.6 kJ/mm, 80 mm 2.4 kJ/mm; 100 °C: 40 mm 0.8 kJ/mm" in said

    def test_no_sheet_without_an_answer(self, auditor: Client) -> None:
        """It leads back to the page, which says what is missing."""
        answer = auditor.get(reverse("calc:sheet", args=["heat"]), {"calculation": "heat_input", "voltage": "24"})
        assert answer.status_code == 302
        assert "current" in auditor.get(answer.headers["Location"]).content.decode()

    def test_odd_addresses(self, auditor: Client) -> None:
        assert auditor.get("/calculations/none/").status_code == 404
        assert auditor.get("/calculations/heat/?calculation=none").status_code == 400
        assert auditor.get("/calculations/heat/?units=furlongs").status_code == 400
