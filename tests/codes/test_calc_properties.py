"""Formulas against their inverses, and that they rise and fall as they must."""

import math
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.calc import carbon, cooling, cooling_inverse, deposition, fillet, heat, heat_window, preheat_cet
from codes.calc.result import Refused
from codes.values import Interval

VOLTS = st.decimals("8", "50", places=1)
AMPERES = st.decimals("20", "1200", places=0)
SPEEDS = st.decimals("20", "2900", places=0)
KS = st.decimals("0.3", "1.0", places=2)
HEATS = st.decimals("0.5", "4.0", places=2)
STARTS = st.decimals("0", "350", places=0)
PLATES = st.decimals("10", "90", places=1)
FACTORS = st.decimals("0.4", "1.0", places=2)
SHARES = st.decimals("0", "0.3", places=3)
CETS = st.decimals("0.2", "0.5", places=3)
HYDROGENS = st.decimals("1", "20", places=1)
STEP = D("0.01")


def close(a: D, b: D) -> bool:
    return abs(a - b) <= abs(b) * D("1e-24")


@given(VOLTS, AMPERES, HEATS, KS)
def test_the_travel_speed_gives_the_heat_input_back(u: D, i: D, q: D, k: D) -> None:
    speed = heat_window.travel_speed_window(u, i, Interval(q, q), k=k).figure
    assert close(heat.heat_input(u, i, speed, k=k).figure, q)


@given(VOLTS, AMPERES, SPEEDS)
def test_time_and_length_are_the_speed(u: D, i: D, v: D) -> None:
    by_time = heat.arc_energy(u, i, arc_time=D(60), run_length=v).figure
    assert by_time == heat.arc_energy(u, i, v).figure
    assert by_time == heat.arc_energy_waveform(instantaneous_power=u * i, travel_speed=v).figure
    assert by_time == heat.arc_energy_waveform(instantaneous_energy=u * i * 60, run_length=v).figure


@given(VOLTS, AMPERES, SPEEDS)
def test_arc_energy_rises_with_power_and_falls_with_speed(u: D, i: D, v: D) -> None:
    value = heat.arc_energy(u, i, v).figure
    assert heat.arc_energy(u + 1, i, v).figure > value
    assert heat.arc_energy(u, i + 1, v).figure > value
    assert heat.arc_energy(u, i, v + 1).figure < value


@given(*(st.tuples(one, one, one) for one in (VOLTS, AMPERES, SPEEDS)))
def test_every_point_of_the_ranges_lies_within_the_window(
    volts: tuple[D, D, D], amperes: tuple[D, D, D], speeds: tuple[D, D, D]
) -> None:
    (u1, u, u2), (i1, i, i2), (v1, v, v2) = sorted(volts), sorted(amperes), sorted(speeds)
    window = heat_window.heat_input_window(Interval(u1, u2), Interval(i1, i2), Interval(v1, v2), k=D("0.8"))
    assert window.number("least") <= heat.heat_input(u, i, v, k=D("0.8")).figure <= window.figure


ALLOYS = dict.fromkeys(("Si", "Mn", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "B"), SHARES)


@given(st.fixed_dictionaries({"C": st.decimals("0.001", "0.3", places=3), **ALLOYS}))
def test_more_of_an_element_never_lowers_an_equivalent(analysis: dict[str, D]) -> None:
    for kind in (carbon.CE, carbon.CE_D11, carbon.PCM):
        value = carbon.equivalent(kind, analysis).figure
        for element in kind.divisors:
            assert carbon.equivalent(kind, analysis | {element: analysis[element] + STEP}).figure > value
    value = carbon.cen(analysis).figure
    assert all(carbon.cen(analysis | {e: analysis[e] + STEP}).figure > value for e in carbon.CEN.divisors)


@given(CETS, PLATES, HYDROGENS, HEATS)
def test_method_b_is_the_sum_of_its_parts(cet: D, d: D, hd: D, q: D) -> None:
    result = preheat_cet.preheat(d, hd, q, cet=cet)
    parts = sum((result.number(name) for name in ("Tp_CET", "Tp_d", "Tp_HD", "Tp_Q")), D(0))
    c, dd, h, qq = map(float, (cet, d, hd, q))
    whole = 697 * c + 160 * math.tanh(dd / 35) + 62 * h**0.35 + (53 * c - 32) * qq - 328
    assert abs(parts - result.figure) < D("1e-24")
    assert math.isclose(float(result.figure), whole, abs_tol=1e-9)


@given(
    st.decimals("0.2", "0.49", places=3),
    st.decimals("10", "89", places=1),
    st.decimals("1", "19", places=1),
    st.decimals("0.5", "3.9", places=2),
)
def test_method_b_rises_and_falls_as_it_must(cet: D, d: D, hd: D, q: D) -> None:
    value = preheat_cet.preheat(d, hd, q, cet=cet).figure
    assert preheat_cet.preheat(d, hd, q, cet=cet + STEP).figure > value
    assert preheat_cet.preheat(d + 1, hd, q, cet=cet).figure > value
    assert preheat_cet.preheat(d, hd + 1, q, cet=cet).figure > value
    assert preheat_cet.preheat(d, hd, q + D("0.1"), cet=cet).figure < value


@given(HEATS, STARTS, PLATES, FACTORS, FACTORS)
def test_cooling_time_and_heat_input_are_inverses(q: D, t0: D, d: D, f2: D, f3: D) -> None:
    time = cooling.cooling_time(q, t0, d, f2=f2, f3=f3)
    back = cooling_inverse.heat_input_for_time(time.figure, t0, d, f2=f2, f3=f3)
    assert close(back.figure, q)
    assert back.step("flow") == time.step("flow")


@given(HEATS, STARTS, PLATES)
def test_cooling_takes_longer_hotter_and_in_thinner_plate(q: D, t0: D, d: D) -> None:
    time = cooling.cooling_time(q, t0, d, form="butt_fill").figure
    assert cooling.cooling_time(q + STEP, t0, d, form="butt_fill").figure > time
    assert cooling.cooling_time(q, t0 + 1, d, form="butt_fill").figure > time
    assert cooling.cooling_time(q, t0, d + 1, form="butt_fill").figure <= time


@given(HEATS, STARTS, FACTORS, FACTORS)
def test_both_flows_take_as_long_at_the_transition(q: D, t0: D, f2: D, f3: D) -> None:
    d = cooling.transition_thickness(q, t0, f2, f3).figure
    assert close(cooling.cooling_time_2d(q, t0, d, f2).figure, cooling.cooling_time_3d(q, t0, f3).figure)
    assert cooling.cooling_time(q, t0, d + 1, f2=f2, f3=f3).step("flow") == "three-dimensional"
    assert cooling.cooling_time(q, t0, d - 1, f2=f2, f3=f3).step("flow") == "two-dimensional"


@pytest.mark.parametrize(("q", "t0", "d"), [("1.5", "180", "40"), ("0.8", "60", "12"), ("2.5", "20", "25")])
def test_the_interpass_of_a_time_is_the_one_it_came_from(q: str, t0: str, d: str) -> None:
    time = cooling.cooling_time(D(q), D(t0), D(d), form="butt_fill").figure
    found = cooling_inverse.interpass_for_time(D(q), time, D(d), form="butt_fill").figure
    assert abs(found - D(t0)) < D("1e-20")


def test_a_tee_fillet_uses_the_unsafe_factor_at_each_end() -> None:
    window = cooling_inverse.heat_input_for_window(Interval(D(5), D(25)), D(100), D(15), form="tee_fillet")
    assert (window.number("F2_least"), window.number("F2_greatest")) == (D("0.45"), D("0.67"))
    time = cooling.cooling_time(D("1.2"), D(100), D(15), form="tee_fillet")
    assert time.number("shortest") < time.figure


def test_a_window_that_no_heat_input_keeps_is_refused() -> None:
    with pytest.raises(Refused, match="no heat input keeps the window"):
        cooling_inverse.heat_input_for_window(Interval(D(10), D("10.5")), D(100), D(12), form="tee_fillet")


@given(st.decimals("1", "40", places=1), st.decimals("60", "120", places=0))
def test_throat_and_leg_are_inverses(throat: D, angle: D) -> None:
    leg = fillet.fillet_leg(throat, angle).figure
    assert close(fillet.fillet_throat(leg, angle=angle).figure, throat)
    assert close(fillet.fillet_area(throat=throat, angle=angle).figure, fillet.fillet_area(leg=leg, angle=angle).figure)


@given(
    st.decimals("0.8", "2.4", places=1), st.decimals("2", "25", places=1), SPEEDS, st.decimals("60", "100", places=0)
)
def test_travel_speed_and_area_of_a_run_are_inverses(d: D, feed: D, v: D, de: D) -> None:
    area = deposition.run_area(d, feed, de, v).figure
    assert close(deposition.travel_speed_for_area(d, feed, de, area).figure, v)


@pytest.mark.parametrize(
    ("heat_input", "time", "said"), [("3", "5", "even at -20"), ("0.001", "900000", "not reached")]
)
def test_an_interpass_that_does_not_exist_is_refused(heat_input: str, time: str, said: str) -> None:
    with pytest.raises(Refused, match=said):
        cooling_inverse.interpass_for_time(D(heat_input), D(time), D(40), form="butt_fill")
