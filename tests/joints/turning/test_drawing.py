"""The picture of a stop: directions in the section, the side things turn to, and text that is escaped."""

import re
from decimal import Decimal as D

import pytest

from joints.models import AssemblyGeometry
from joints.turning.drawing import MIDDLE, Spot, in_section, section_at

X, Y = (D(1), D(0), D(0)), (D(0), D(1), D(0))
UP = (D(0), D(0), D(1))
I_BEAM = AssemblyGeometry(section="i", depth_mm=D(340), width_mm=D(200), web_mm=D(10), flange_mm=D(20))


def drawn(turn: int, *spots: Spot, geometry: AssemblyGeometry | None = I_BEAM) -> str:
    return section_at(D(turn), spots, geometry, D(0), D(270), X)


def spot(svg: str) -> tuple[float, float]:
    """Where the weld that is made now stands, from the middle, up counted up."""
    found = re.search(r'cx="([\d.]+)" cy="([\d.]+)" r="5"', svg)
    assert found
    return float(found[1]) - MIDDLE, MIDDLE - float(found[2])


@pytest.mark.parametrize(
    ("way", "beam", "across", "up"),
    [(UP, X, 0, 1), (Y, X, 1, 0), (X, X, 0, 0), (X, Y, -1, 0), (UP, (D(0), D(3), D(0)), 0, 1)],
)
def test_directions_in_the_section(way: tuple[D, ...], beam: tuple[D, ...], across: float, up: float) -> None:
    assert in_section(way, beam) == pytest.approx((across, up))  # type: ignore[arg-type]


def test_turns_run_anticlockwise() -> None:
    """A weld above the middle goes to the left by 90 degrees, and below by 180."""
    on_top = Spot("1", (D(0), D(170)), UP, True)
    assert spot(drawn(0, on_top))[0] == pytest.approx(0) and spot(drawn(0, on_top))[1] > 30
    assert spot(drawn(90, on_top))[0] < -30 and abs(spot(drawn(90, on_top))[1]) < 0.2
    assert spot(drawn(180, on_top))[1] < -30


def test_welds_of_one_place_share_their_label() -> None:
    place = (D(0), D(170))
    svg = drawn(0, Spot("1", place, UP, True), Spot("5", place, UP, True), Spot("6", place, UP, False))
    assert svg.count('r="5"') == 1 and ">1, 5</text>" in svg
    assert "made there: 1, 5" in svg


def test_what_is_not_made_now_is_hollow_and_what_has_no_place_is_left_out() -> None:
    svg = drawn(0, Spot("1", (D(0), D(170)), UP, False), Spot("2", None, UP, True))
    assert 'r="3"' in svg and 'r="5"' not in svg


@pytest.mark.parametrize("section", ["i", "box", "round", ""])
def test_every_section_is_drawn_inside_the_picture(section: str) -> None:
    geometry = AssemblyGeometry(section=section, depth_mm=D(340), width_mm=D(200), web_mm=D(10), flange_mm=D(20))
    for turn in (0, 37, 90, 200):
        for x, y in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", drawn(turn, geometry=geometry)):
            assert 0 <= float(x) <= 2 * MIDDLE and 0 <= float(y) <= 2 * MIDDLE


def test_names_are_escaped_and_a_missing_section_still_draws() -> None:
    svg = drawn(0, Spot("<b>", (D(0), D(10)), UP, True), geometry=None)
    assert "<b>" not in svg and "&lt;b&gt;" in svg
