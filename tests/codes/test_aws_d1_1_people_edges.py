"""AWS D1.1 people: rows of test pipes that meet, fillet tests on pipe, and what a switch lets the verdict say."""

from decimal import Decimal as D

import pytest

from codes.aws_d1_1_people_2020.tubes import PIPE_ROWS, TYK_ROWS
from codes.unit_sets import System
from codes.verdict import Outcome
from tests.codes.aws_people_asks import ask

STEP = D("0.001")


@pytest.mark.parametrize("system", ["us", "si"])
def test_every_test_pipe_has_one_row_at_the_edges_too(system: System) -> None:
    """Table 10.13: the rows of pipe meet at 4 in [100 mm] and at a wall of 3/8 in [10 mm]."""
    od, wall = (D("101.6"), D("9.525")) if system == "us" else (D(100), D(10))
    for diameter in (od - STEP, od, od + STEP):
        for thick in (wall - STEP, wall, wall + STEP):
            assert sum(row.serves(diameter, thick, system) for row in PIPE_ROWS) == 1, (diameter, thick)


@pytest.mark.parametrize("system", ["us", "si"])
def test_rows_of_branch_tests_meet_without_overlap(system: System) -> None:
    """Table 10.13, T, Y and K: from 6 in [150 mm] the large row, below 4 in [100 mm] the small one."""
    large, small = (D("152.4"), D("101.6")) if system == "us" else (D(150), D(100))
    for diameter, wall, rows in (
        (large, D(13), 1),
        (large - STEP, D(13), 0),
        (small - STEP, D(6), 1),
        (small, D(6), 0),
    ):
        assert sum(row.serves(diameter, wall, system) for row in TYK_ROWS) == rows, (diameter, wall)


def test_a_fillet_test_on_pipe_covers_its_own_diameter_and_more() -> None:
    """Table 10.13, read strictly; a fillet test on plate is bound to no diameter."""
    tested = "weld_type=fillet; product=pipe; diameter=100; aws_position=5F"
    asked = "weld_type=fillet; product=pipe; aws_position=2F; diameter="
    assert "diameter" not in ask(tested, f"{asked}100").reasons
    assert "diameter" in ask(tested, f"{asked}99.9").reasons
    plate = "weld_type=fillet; product=plate; aws_position=4F"
    assert "diameter" not in ask(plate, f"{asked}30").reasons
    assert ask(tested.replace("100", ""), f"{asked}100").outcome is Outcome.NOT_STATED
