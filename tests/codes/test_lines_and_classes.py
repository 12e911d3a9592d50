"""Designation lines of standards that are not held, letters of filler classes, rounding of Fahrenheit limits."""

from decimal import Decimal as D

import pytest

from codes.aws_d1_1.fillers import classify
from codes.aws_d1_1.unit_sets import ceiling_thousandth, fahrenheit, floor_thousandth
from codes.aws_d1_1_people_2020.person import welder_limits
from codes.aws_d1_1_people_2020.switches import WELDER_AS_OPERATOR
from codes.iso_9606_1_2012.editions_named import named_standard


@pytest.mark.parametrize(
    ("line", "title", "held", "why"),
    [
        ("EN ISO 9606-1:2017 135 P FW FM1 S t10 PB ml", "ISO 9606-1:2017", True, ""),
        ("ISO 9606-1 135 P FW FM1 S t10 PB ml", "ISO 9606-1", True, ""),
        ("DIN EN ISO 9606-1:1994 135 P BW W01 wm t10 PF", "ISO 9606-1:1994", False, "another edition"),
        ("ISO 9606-2:2004 141 P BW 23 S t5 PA ss nb", "ISO 9606-2:2004", False, "the standard for another material"),
        ("EN 287-1:2011 135 P BW 1.2 S t10 PF ss nb", "EN 287-1:2011", False, "a withdrawn standard"),
        ("EN 287-1 135 P BW W01 wm t10 PF ss nb", "EN 287-1", False, "as its edition of 1992 did"),
    ],
)
def test_the_standard_at_the_head_of_a_line(line: str, title: str, held: bool, why: str) -> None:
    """ISO 9606-1:2012, clause 11 (designation); part 2 is for aluminium, EN 287-1 was withdrawn in 2013."""
    found = named_standard(line)
    assert found is not None
    assert (found.title, found.held) == (title, held)
    assert why in found.refusal


@pytest.mark.parametrize(
    ("name", "specification", "gas"),
    [
        ("E71T-1C", "A5.20", "C"), ("E71T-1M", "A5.20", "M"), ("E71T-11", "A5.20", ""),
        ("E81T1-Ni1C", "A5.29", "C"), ("E81T1-Ni1M", "A5.29", "M"), ("E81T1-Ni1", "A5.29", ""),
        ("E71T-1-X", "A5.20", ""),
    ],
)  # fmt: skip
def test_the_gas_of_flux_cored_classes(name: str, specification: str, gas: str) -> None:
    """A5.20 writes the gas behind the usability (T-1C), A5.29 at the end of the suffix (Ni1C): C or M, or none."""
    found = classify(name)
    assert found is not None
    assert (found.specification, found.gas) == (specification, gas)


def test_fahrenheit_limits_are_met_by_their_own_figure() -> None:
    """225 °F is 107.222... °C: a lower limit is cut to 107.222, an upper one raised to 107.223."""
    celsius = fahrenheit(D(225))
    assert (floor_thousandth(celsius), ceiling_thousandth(celsius)) == (D("107.222"), D("107.223"))
    assert floor_thousandth(celsius) <= celsius <= ceiling_thousandth(celsius)


@pytest.mark.parametrize("option", ["trained", "never"])
def test_a_hand_welder_is_told_of_training_only_where_it_counts(option: str) -> None:
    """Table 6.12, note: training on the machine counts where the firm reads it so."""
    (limit,) = welder_limits({"process": "135"}, {WELDER_AS_OPERATOR.key: option})
    assert ("recorded training" in limit.because) is (option == "trained")
