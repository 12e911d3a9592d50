"""Intervals: both ends, one step outside, open ends, and what one interval leaves of another."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.values import Interval, Steel, SteelPair, number, text

EDGE = D("0.1")


def test_closed_ends_are_inside_and_one_step_outside_is_not():
    span = Interval(D(3), D(16), "mm")
    assert span.holds(D(3)) and span.holds(D(16))
    assert not span.holds(D(3) - EDGE) and not span.holds(D(16) + EDGE)


def test_open_ends_are_outside():
    span = Interval(D(3), D(16), "mm", lo_open=True, hi_open=True)
    assert not span.holds(D(3)) and not span.holds(D(16)) and span.holds(D("3.01"))


def test_no_end_holds_everything_on_that_side():
    assert Interval(D(3), None).holds(D(900)) and Interval(None, D(3)).holds(D(0))


@pytest.mark.parametrize(("lo", "hi", "lo_open"), [(D(4), D(3), False), (D(3), D(3), True)])
def test_an_empty_interval_is_refused(lo, hi, lo_open):
    with pytest.raises(ValueError, match="cannot run"):
        Interval(lo, hi, lo_open=lo_open)


def test_decimal_keeps_the_edge_that_a_float_loses():
    # 0.7 x 3 as floats is 2.0999999999999996: the edge would flip.
    assert Interval(D("0.7") * 3, None).holds(D("2.1"))
    assert 0.7 * 3 < 2.1


numbers = st.decimals(min_value=0, max_value=50, places=1)


@st.composite
def intervals(draw):
    lo, hi = sorted((draw(numbers), draw(numbers)))
    return Interval(lo, hi + 1, "mm", draw(st.booleans()), draw(st.booleans()))


@given(intervals(), intervals(), numbers)
def test_inside_and_outside_pieces_make_up_the_whole(mine, other, point):
    common = mine.overlap(other)
    pieces = [piece for piece in (common, *mine.outside(other)) if piece is not None]
    assert sum(piece.holds(point) for piece in pieces) == other.holds(point)
    if common:
        assert common.holds(point) == (mine.holds(point) and other.holds(point))


def test_words():
    assert str(Interval(D(3), D("16.50"), "mm")) == "3 to 16.5 mm"
    assert str(Interval(D(3), None, "mm")) == "from 3 mm"
    assert str(Interval(None, D(3), "mm", hi_open=True)) == "below 3 mm"
    assert number(D("100")) == "100" and number(D("7.50")) == "7.5"
    assert text((D(10), D(12)), "mm") == "10 mm + 12 mm"


@pytest.mark.parametrize(
    ("steel", "words"),
    [
        (Steel("1.2", D(355), "S355J2+N"), "S355J2+N (group 1.2, 355 MPa)"),
        (Steel("P-1 Gr 1"), "P-1 Gr 1"),
        (Steel("", D(355)), "355 MPa"),
        (Steel(grade="A36"), "A36"),
        (Steel(), "steel not stated"),
    ],
)
def test_nothing_in_brackets_stands_alone(steel, words):
    assert str(SteelPair(steel, steel)) == f"{words} to {words}"
