"""Every formula against a law that it must keep, and asked in US units made by pint: the same value comes back.

A law names how the value answers to one input: in proportion (1), to its square (2), inversely (-1); or that it only
rises (">") or falls ("<"), a step of a table or a rounding making it stay. The figures to start from are those of the
case table. What no such law can hold is cross-checked elsewhere, by the tests that OTHERWISE names.
"""

from collections.abc import Mapping
from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from codes.calc import consumables, deposition, fillet, gas, resistance, throat
from codes.calc.calculation import Kind
from codes.calc.conversions import US_UNITS
from codes.calc.inputs import decimal_of
from codes.calc.registry import calculate, calculations
from codes.calc.result import Refused
from codes.door.calculation import answer_calculation
from tests.codes import (
    test_calc_areas,
    test_calc_position,
    test_calc_preheat,
    test_calc_properties,
    test_calc_units,
)
from tests.codes.calc_cases import answer_of, inputs_of, rows
from tests.codes.test_calc_units import by_pint

Law = tuple[str, int | str]
LAWS: Mapping[str, tuple[Law, ...]] = {
    "arc_energy": (("voltage", 1), ("current", 1), ("travel_speed", -1)),
    "heat_input": (("voltage", 1), ("current", 1), ("travel_speed", -1), ("k", 1)),
    "arc_energy_waveform": (("instantaneous_power", 1), ("travel_speed", -1)),
    "heat_input_waveform": (("instantaneous_energy", 1), ("run_length", -1), ("k", 1)),
    "heat_input_from_arc_energy": (("arc_energy", 1), ("k", 1)),
    "heat_input_run_out": (("core_diameter", 2), ("consumed_length", 1), ("run_out_length", -1)),
    "cen_factor": (("carbon", ">"),),
    "preheat_method_b": (("cet", ">"), ("thickness", ">"), ("hydrogen", ">")),
    "preheat_method_a_table": (("carbon_equivalent", "<"), ("hydrogen", "<"), ("heat_input", ">")),
    "preheat_method_a": (("combined_thickness", ">"), ("heat_input", "<")),
    "d11_susceptibility_index": (("pcm", ">"), ("hydrogen", ">")),
    "d11_minimum_preheat": (("thickness_mm", ">"),),
    "d11_prequalified_preheat": (("thickness_in", ">"),),
    "temperature_measuring_distance": (("thickness", ">"),),
    "interpass_check": (("highest", ">"), ("preheat", "<")),
    "cooling_time": (("heat_input", ">"), ("thickness", "<"), ("preheat", ">")),
    "cooling_time_3d": (("heat_input", 1), ("f3", 1), ("preheat", ">")),
    "cooling_time_2d": (("heat_input", 2), ("thickness", -2), ("f2", 1)),
    "transition_thickness": (("heat_input", ">"), ("preheat", ">")),
    "heat_input_for_cooling_time": (("time", ">"), ("preheat", "<")),
    "fillet_throat": (("leg", ">"), ("leg_2", ">")),
    "fillet_leg": (("throat", 1),),
    "deposit": (("area", 1), ("density", 1)),
    "runs": (("area", ">"), ("run_area", "<")),
    "deposition_efficiency": (("deposited", 1), ("used", -1)),
    "filler_to_buy": (("mass", 1), ("efficiency", -1)),
    "arc_time": (("mass", 1), ("deposition_rate", -1)),
    "weld_metal": (("area", 1), ("length", 1)),
    "melt_off": (("wire_diameter", 2), ("wire_feed_speed", 1), ("density", 1)),
    "deposition_rate_weighed": (("mass", 1), ("time", -1)),
    "deposition_rate_us": (("wire_diameter", 2), ("wire_feed_speed", 1), ("efficiency", 1)),
    "deposition_rate_by_length": (("length_per_mass", -1), ("wire_feed_speed", 1)),
    "travel_speed_for_area": (("wire_diameter", 2), ("wire_feed_speed", 1), ("run_area", -1), ("efficiency", 1)),
    "run_area": (("wire_diameter", 2), ("wire_feed_speed", 1), ("travel_speed", -1), ("efficiency", 1)),
    "burn_off": (("current", ">"), ("stick_out", ">"), ("wire_diameter", "<"), ("alpha", ">"), ("beta", ">")),
    "shielding_gas": (("flow", 1), ("length", ">"), ("travel_speed", "<")),
    "gas_per_metre": (("flow", 1), ("travel_speed", -1)),
    "cylinder_time": (("volume", 1), ("flow", -1)),
    "fillet_least_leg_d11": (("thicker_mm", ">"),),
    "fillet_least_length": (("throat", ">"),),
    "fillet_effective_length": (("length", ">"), ("throat", "<")),
    "throat_with_penetration": (("throat", ">"), ("penetration", ">")),
    "fillet_leg_with_gap": (("leg", ">"), ("gap", ">")),
    "convexity_limit": (("face_width", ">"),),
    "fillet_shear_strength": (("fu", 1), ("gamma_m2", -1)),
    "fillet_resistance": (("throat", 1), ("fu", 1)),
    "fillet_required_throat": (("longitudinal", ">"), ("fu", "<")),
    "fillet_stress": (("transverse", 1), ("throat", -1)),
    "fillet_long_joint_factor": (("joint_length", "<"), ("throat", ">")),
}
OTHERWISE: Mapping[str, object] = {
    "heat_input_window": test_calc_properties.test_every_point_of_the_ranges_lies_within_the_window,
    "travel_speed_window": test_calc_properties.test_the_travel_speed_gives_the_heat_input_back,
    "carbon_equivalent": test_calc_properties.test_more_of_an_element_never_lowers_an_equivalent,
    "carbon_equivalent_d11": test_calc_properties.test_more_of_an_element_never_lowers_an_equivalent,
    "cet": test_calc_properties.test_more_of_an_element_never_lowers_an_equivalent,
    "pcm": test_calc_properties.test_more_of_an_element_never_lowers_an_equivalent,
    "cen": test_calc_properties.test_more_of_an_element_never_lowers_an_equivalent,
    "d11_susceptibility_group": test_calc_preheat.test_bands_at_their_bounds,
    "heat_input_for_cooling_window": test_calc_properties.test_a_tee_fillet_uses_the_unsafe_factor_at_each_end,
    "interpass_for_cooling_time": test_calc_properties.test_the_interpass_of_a_time_is_the_one_it_came_from,
    "groove_area": test_calc_areas.test_the_area_is_the_integral_of_the_width,
    "fillet_area": test_calc_properties.test_throat_and_leg_are_inverses,
    "welding_position": test_calc_position.test_geometry_gives_the_angles_it_was_made_from,
    "welding_position_by_angles": test_calc_position.test_geometry_gives_the_angles_it_was_made_from,
    "turned_position": test_calc_position.test_turning_along_the_beam_is_turning_in_space,
    "turned_position_along": test_calc_position.test_turning_along_the_beam_is_turning_in_space,
    "best_turn": test_calc_position.test_no_other_turn_of_the_arc_is_nearer_to_flat,
    "convert": test_calc_units.test_there_and_back,
}
WHOLE = {"averaged_thickness", "combined_thickness"}
"""Held by a test of their own below."""
GENTLE = D("1e-20")
"""Relative; what 28 digits leave of a law."""
HAIR = D("1e-26")
"""So that a figure at the lower end of a range is not rounded out of it on the way."""


ANSWERED = [row for row in rows() if not row["expect"].startswith("refused") and row["calculation"] != "convert"]


def base(name: str, field: str) -> dict[str, object] | None:
    """The inputs of the first answered case that states the field, in the field's own unit; None where none does."""
    unit = calculations()[name].input(field).unit
    for row in ANSWERED:
        if row["calculation"] == name and field in (plain := inputs_of(row)):
            return plain | {field: str(decimal_of(field, str(plain[field]), unit))}
    return None


STATED: Mapping[str, str] = {"k": "0.8", "f2": "0.8", "f3": "0.8"}
"""Figures inside their range, where a case leaves them to their default or states them at an end."""
BASES = [(name, *law) for name, laws in LAWS.items() for law in laws]


def start_of(name: str, field: str) -> dict[str, object]:
    plain = base(name, field) or inputs_of(next(row for row in ANSWERED if row["calculation"] == name))
    return {**plain, field: STATED.get(field, plain.get(field))}


START = {(name, field): start_of(name, field) for name, field, _ in BASES}


def test_every_calculation_keeps_a_law() -> None:
    held = {name for name, laws in LAWS.items() if laws} | set(OTHERWISE) | WHOLE
    assert held == set(calculations())


@pytest.mark.parametrize(("name", "field", "power"), BASES, ids=[f"{name}:{field}" for name, field, _ in BASES])
@settings(max_examples=12)
@given(share=st.decimals("1.001", "1.2", places=3))
def test_the_value_answers_to_the_input(name: str, field: str, power: int | str, share: D) -> None:
    plain = START[name, field]
    start = D(str(plain[field]))
    before = calculate(name, plain).figure  # type: ignore[arg-type]
    try:
        after = calculate(name, {**plain, field: str(start * share)}).figure  # type: ignore[dict-item]
    except Refused:
        # The range ends here; the law holds on its inner side.
        after, before = before, calculate(name, {**plain, field: str(start / share)}).figure  # type: ignore[dict-item]
    if isinstance(power, str):
        assert after >= before if power == ">" else after <= before
    else:
        assert abs(after / before - share**power) <= GENTLE * share**power


@pytest.mark.parametrize("row", ANSWERED, ids=[row["id"] for row in ANSWERED])
def test_asked_in_us_units_the_value_is_the_same(row: dict[str, str]) -> None:
    """Inputs turned into US units by pint, the answer turned back by pint: no formula minds in which it is asked."""
    asked = calculations()[row["calculation"]]
    there = dict(inputs_of(row))
    for one in asked.inputs:
        us = US_UNITS.get(one.unit, "")
        if one.kind is Kind.NUMBER and one.name in there and us not in ("", one.unit, "°F"):
            figure = decimal_of(one.name, str(there[one.name]), one.unit)
            there[one.name] = {"value": str(by_pint(figure, one.unit, us) + HAIR), "unit": us}
    us_answer = answer_calculation({"calculation": asked.name, "inputs": there, "units": "us"})
    si_answer = answer_of(row)
    assert us_answer["outcome"] == si_answer["outcome"] == "answered"
    value, unit = str(us_answer["value"]), str(us_answer["unit"])
    if unit == si_answer["unit"]:
        assert _same(value, str(si_answer["value"]))
    elif unit == "°F":
        assert _same(str((D(value) - 32) / D("1.8")), str(si_answer["value"]))
    else:
        assert _same(str(by_pint(D(value), unit, str(si_answer["unit"]))), str(si_answer["value"]))


def _same(one: str, other: str) -> bool:
    try:
        a, b = D(one), D(other)
    except ArithmeticError:
        return one == other
    return abs(a - b) <= D("1e-12") * max(abs(a), abs(b), D(1))


SIZES = st.decimals("1", "200", places=1)
SHARES = st.decimals("1", "100", places=1)


@given(st.lists(st.tuples(SIZES, st.integers(1, 25)), min_size=1, max_size=3))
def test_an_average_lies_between_its_parts(parts: list[tuple[D, int]]) -> None:
    lengths = [length for _, length in parts]
    rest = 75 - sum(lengths)
    segments = [[str(t), str(length)] for t, length in parts] + ([[str(parts[0][0]), str(rest)]] if rest else [])
    found = calculate("averaged_thickness", {"segments": segments}).figure
    assert min(t for t, _ in parts) - GENTLE <= found <= max(t for t, _ in parts) + GENTLE


@given(SIZES, SIZES, SIZES)
def test_combined_thickness_is_a_sum_over_its_paths(t1: D, t2: D, t3: D) -> None:
    """EN 1011-2, C.2.4: whatever the order of equal paths, and both fillets at once are half of one at a time."""
    tee = calculate("combined_thickness", {"form": "tee", "thicknesses": [str(t) for t in (t1, t2, t3)]}).figure
    twin = calculate("combined_thickness", {"form": "tee_both_sides", "thicknesses": [str(t) for t in (t3, t1, t2)]})
    butt = calculate("combined_thickness", {"form": "butt", "thicknesses": [str(t1), str(t2)]}).figure
    assert tee == t1 + t2 + t3 == twin.figure * 2
    assert butt == t1 + t2


@given(SIZES, SIZES, SHARES, st.decimals("0.5", "20", places=1))
def test_weld_metal_is_its_parts_one_after_the_other(area: D, length: D, efficiency: D, rate: D) -> None:
    whole = consumables.weld_metal(area, length, efficiency, rate)
    mass = consumables.deposit(area).figure * length
    assert abs(whole.figure - mass) <= GENTLE * mass
    steps = {step.name: step.value for step in whole.steps}
    assert consumables.filler_to_buy(whole.figure, efficiency).figure in steps.values()
    assert consumables.arc_time(whole.figure, rate).figure in steps.values()


@given(st.decimals("0.6", "3.2", places=1), st.decimals("2", "25", places=1), SHARES)
def test_the_handbook_form_lies_two_percent_below_the_density(d: D, feed: D, efficiency: D) -> None:
    """13.1 against 60·π/4·0.2833 = 13.35, as the source of the constant is read."""
    by_density = deposition.melt_off(d, feed, efficiency=efficiency).number("deposition_rate")
    ratio = deposition.deposition_rate_us(d, feed, efficiency).figure / by_density
    assert D("0.975") < ratio < D("0.985")


@given(SIZES, st.decimals("50", "1000", places=0), SIZES)
def test_gas_without_pre_and_post_flow_is_the_gas_of_its_metres(flow: D, speed: D, length: D) -> None:
    whole = gas.shielding_gas(flow, length=length, travel_speed=speed).figure
    by_metre = gas.gas_per_metre(flow, speed).figure * length / 1000
    assert abs(whole - by_metre) <= D("1e-18") * by_metre
    assert abs(gas.cylinder_time(whole, flow).figure * flow - whole) <= D("1e-18") * whole


@given(st.decimals("100", "3000", places=0), st.sampled_from(["S235", "S275", "S355", "S460"]))
def test_the_required_throat_just_carries_its_force(force: D, steel: str) -> None:
    """EN 1993-1-8, 4.5.3.2 along the weld is 4.5.3.3: resistance of the throat asked for is the force."""
    asked = resistance.required_throat(D(510), steel, longitudinal=force)
    carried = resistance.resistance(asked.figure, D(510), steel).figure
    assert carried >= force * (1 - GENTLE)
    if asked.figure > 3:
        assert abs(carried - force) <= D("1e-18") * force


@given(SIZES, st.decimals("60", "120", places=0))
def test_the_effective_length_gives_its_ends_back(size: D, angle: D) -> None:
    leg = fillet.fillet_leg(size, angle).figure
    assert abs(fillet.fillet_throat(leg, angle=angle).figure - size) <= GENTLE * size
    length = 40 * size + 100
    assert throat.effective_length(length, size).figure + 2 * size == length
