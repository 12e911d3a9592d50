"""Positions at both sides of every limit, from vectors as from angles, and turns that no other turn beats."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.calc.exact import cos, exact, sin
from codes.calc.position import position_by_angles, welding_position
from codes.calc.result import Refused
from codes.calc.turning import best_turn, turned_along, turned_position, wrapped
from codes.calc.vectors import Vector, added, cross, scaled, unit

WELDS = st.sampled_from(["fillet", "butt"])
ANGLES = st.decimals("-180", "180", places=1)


@exact
def vectors(slope: D, face: D, heading: D, side: int) -> tuple[Vector, Vector]:
    """A weld axis of that slope and heading, and a face normal at that angle from upwards, on either side."""
    axis = (cos(slope) * cos(heading), cos(slope) * sin(heading), sin(slope))
    up = unit("up", added((D(0), D(0), D(1)), scaled(axis, -axis[2])))
    normal = added(scaled(up, cos(face)), scaled(cross(axis, up), side * sin(face)))
    return axis, normal


@pytest.mark.parametrize(
    ("weld", "slope", "face", "iso", "aws"),
    [
        ("butt", "0", "30", "PA", "F"),
        ("butt", "0", "30.1", "PC", "H"),
        ("butt", "15", "100", "PC", "H"),
        ("butt", "15", "100.1", "PE", "O"),
        ("butt", "15.1", "0", "PF", "V"),
        ("butt", "15.1", "100", "PF", "V"),
        ("butt", "80", "100.1", "PE", "O"),
        ("butt", "80.1", "180", "PF", "V"),
        ("fillet", "0", "30", "PA", "F"),
        ("fillet", "0", "30.1", "PB", "H"),
        ("fillet", "15", "55", "PB", "H"),
        ("fillet", "15", "55.1", "PC", "O"),
        ("fillet", "0", "100", "PC", "O"),
        ("fillet", "0", "100.1", "PD", "O"),
        ("fillet", "0", "145", "PD", "O"),
        ("fillet", "0", "145.1", "PE", "O"),
        ("fillet", "15.1", "55", "PF", "V"),
        ("fillet", "15.1", "55.1", "PF", "O"),
        ("fillet", "80", "100", "PF", "O"),
        ("fillet", "80", "100.1", "PD", "O"),
        ("fillet", "80", "145.1", "PE", "O"),
        ("fillet", "80.1", "180", "PF", "V"),
    ],
)
def test_limits(weld: str, slope: str, face: str, iso: str, aws: str) -> None:
    found = position_by_angles(weld, D(slope), D(face), "up")
    assert (found.value, found.step("aws")) == (iso, aws)


def test_a_fillet_between_55_and_100_differs_by_system() -> None:
    said = "ISO and AWS differ here: the governing code decides"
    assert said in position_by_angles("fillet", D(0), D("55.1")).flags
    assert said in position_by_angles("fillet", D(0), D(100)).flags
    assert said not in position_by_angles("fillet", D(0), D(55)).flags
    assert said not in position_by_angles("fillet", D(0), D("100.1")).flags
    assert said not in position_by_angles("butt", D(0), D(60)).flags


@pytest.mark.parametrize(("face", "near"), [("28", True), ("32", True), ("27.9", False), ("32.1", False)])
def test_within_two_degrees_of_a_limit_both_are_named(face: str, near: bool) -> None:
    flags = position_by_angles("butt", D(0), D(face)).flags
    assert any("borderline" in flag and "PA / F" in flag and "PC / H" in flag for flag in flags) == near


def test_travel_decides_between_up_and_down() -> None:
    assert position_by_angles("butt", D(90), travel="up").value == "PF"
    assert position_by_angles("butt", D(90), travel="down").value == "PG"
    assert position_by_angles("butt", D(90)).value == "PF or PG"
    with pytest.raises(Refused, match="up to 80"):
        position_by_angles("butt", D(80))


@given(
    WELDS,
    st.decimals("-88", "88", places=1),
    st.decimals("0", "180", places=1),
    st.integers(0, 359),
    st.sampled_from([-1, 1]),
)
def test_geometry_gives_the_angles_it_was_made_from(weld: str, slope: D, face: D, heading: int, side: int) -> None:
    axis, normal = vectors(slope, face, D(heading), side)
    found = welding_position(weld, axis, normal)
    assert abs(found.number("slope") - abs(slope)) < D("1e-15")
    assert abs(found.number("face_angle") - face) < D("1e-15")
    travel = None if slope == 0 else "up" if slope > 0 else "down"
    assert found.value == position_by_angles(weld, abs(slope), face, travel).value


def test_22_uphill_turned_by_36() -> None:
    axis, normal = vectors(D(22), D(36), D(0), 1)
    found = welding_position("butt", axis, normal)
    assert (found.value, found.step("aws")) == ("PF", "V")


def test_a_normal_along_the_axis_is_refused() -> None:
    with pytest.raises(Refused, match="along the weld axis"):
        welding_position("butt", (D(1), D(0), D(0)), (D(1), D("0.1"), D(0)))
    assert welding_position("butt", (D(1), D(0), D(0)), (D(1), D("0.11"), D(0))).value == "PC"
    with pytest.raises(Refused, match="no direction"):
        welding_position("butt", (D(0), D(0), D(0)), (D(1), D(0), D(0)))


@given(WELDS, ANGLES, st.decimals("-360", "360", places=1))
def test_turning_along_the_beam_is_turning_in_space(weld: str, face: D, turn: D) -> None:
    along = turned_along(weld, face, turn)
    normal = exact(lambda: (D(0), -sin(face), cos(face)))()
    beam = (D(1), D(0), D(0))
    space = turned_position(weld, beam, beam, turn, normal)
    assert abs(space.number("face_angle") - along.number("face_angle")) < D("1e-15")


@given(WELDS, ANGLES, st.integers(-180, 180), st.integers(0, 360), st.integers(0, 100))
def test_no_other_turn_of_the_arc_is_nearer_to_flat(weld: str, face: D, start: int, size: int, share: int) -> None:
    found = best_turn(weld, face, D(start), D(start + size))
    assert start <= found.figure <= start + size
    other = start + D(size) * share / 100
    assert found.number("face_angle") <= abs(wrapped(face + other))
    if size == 360:
        assert found.step("flat_reached") == "yes"


@pytest.mark.parametrize("face", ["-45", "45", "-135", "135"])
def test_an_arc_of_270_about_web_vertical_brings_all_four_flat(face: str) -> None:
    assert best_turn("fillet", D(face), D(-135), D(135)).step("flat_reached") == "yes"
    assert best_turn("fillet", D(face), D(-105), D(105)).step("flat_band_reached") == "yes"
    if abs(D(face)) > 90:
        assert best_turn("fillet", D(face), D("-134.9"), D("134.9")).step("flat_reached") == "no"
        assert best_turn("fillet", D(face), D("-104.9"), D("104.9")).step("flat_band_reached") == "no"
