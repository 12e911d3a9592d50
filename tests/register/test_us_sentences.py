"""Sentences in US units: one figure for a figure and a limit that are the same, and no limit past itself.

Inch 25.4 mm exactly, °F by 9/5 and of a difference without the 32, ksi from the pound-force (NIST SP 811, B.8).
"""

from decimal import Decimal as D
from time import process_time

import pytest
from django.utils.safestring import SafeString, mark_safe

from codes.units import System
from codes.values import Interval
from register.own_units.words import interval_in_us, ranges_in, sentence_in, typed_of

US = System.US


@pytest.mark.parametrize(("si", "us"), [
    # 355 MPa is 51.488 ksi, 13 mm 0.51181 in, 12 mm 0.47244 in, 8 mm 0.31496 in, 38 mm 1.49606 in.
    ("grades up to and including 355 MPa", "grades up to and including 51.4 ksi"),
    ("the thickest single run of the test, 13 mm at most", "the thickest single run of the test, 0.511 in at most"),
    ("= 3.4875 kJ/mm at most, 1.05 kJ/mm at least", "= 88.5 kJ/in at most, 26.7 kJ/in at least"),
    ("plate of 10 mm or more, of 25 mm or less", "plate of 0.394 in or more, of 0.984 in or less"),
    ("a run of more than 13 mm in the test", "a run of more than 0.512 in in the test"),
    ("tests of more than 3 and up to 12 mm", "tests of more than 0.119 and up to 0.472 in"),
    ("not above 8 mm, not below 8 mm", "not above 0.314 in, not below 0.315 in"),
    ("not more than 38 mm, never below 5 °C", "not more than 1.496 in, never below 41 °F"),
    ("up to 38 mm and below 38 mm", "up to 1.496 in and below 1.496 in"),
    ("from 12 mm and at least 12 mm", "from 0.473 in and at least 0.473 in"),
    ("fillet: 3 mm to 2 t", "fillet: 0.119 in to 2 t"),
    ("where parent thickness is above 12 mm", "where parent thickness is above 0.473 in"),
    # A figure that is refused names the end that may be typed.
    ("2.9 mm is below 3 mm", "0.114 in is below 0.119 in"),
    ("5.1 mm is above 5 mm", "0.201 in is above 0.196 in"),
    ("500 °C is not below 500 °C", "932 °F is not below 932 °F"),
    ("leaves 20 mm, less than 30 mm", "leaves 0.787 in, less than 1.182 in"),
    ("95 mm is outside 10 to 90 mm, the range", "3.74 in is outside 0.394 to 3.543 in, the range"),
    ("90.01 mm is outside 10 to 90 mm", "3.544 in is outside 0.394 to 3.543 in"),
    ("Outside diameter is 25 to below 150 mm", "Outside diameter is 0.985 to below 5.905 in"),
    ("above 3 to 30 mm", "above 0.119 to 1.181 in"),
])  # fmt: skip
def test_a_limit_goes_to_its_safe_side_whatever_words_tell_it(si: str, us: str) -> None:
    assert sentence_in(si, US) == us
    assert sentence_in(si, System.SI) == si


ARM = "six-axis arm on a 24 m track, 1/2 in wire"


def test_what_somebody_typed_is_no_figure_of_a_judge() -> None:
    said = f"tested on {ARM}: from 12 mm on"
    assert sentence_in(said, US, typed=[ARM]) == f"tested on {ARM}: from 0.473 in on"
    assert sentence_in(ARM, US, typed=[ARM]) == ARM
    assert sentence_in("a 24 m track", US, typed=["", "24 m"]) == "a 24 m track"
    assert sentence_in("a 24 m track", US, typed=[""]) == "a 78.74 ft track"
    # Of the variables of the codes a unit is typed, a thickness and a steel are not.
    assert typed_of("unit", ARM, "", ARM) == (ARM,)
    assert [typed_of(name, "24 m") for name in ("parent_t", "steels", "remarks")] == [()] * 3


@pytest.mark.parametrize(("si", "us"), [
    ("Parent thickness 63.75 mm is outside 6 to 50 mm, by 13.75 mm", "Parent thickness 2.51 in is outside 0.237 to "
     "1.968 in, by 0.542 in"),  # 0.54134: as the margin beside it, rounded up
    ("13.75 mm to spare", "0.541 in to spare"),
    ("the procedure states 20 °C, 33 °C less", "the procedure states 68 °F, 60 °F less"),  # 59.4
    ("tested 120 °C: 55 °C lower at most, 65 °C", "tested 248 °F: 99 °F lower at most, 149 °F"),
    ("tested 150 °C: 50 °C below it at the lowest", "tested 302 °F: 90 °F below it at the lowest"),
    ("tested 180 °C: 50 °C more at most", "tested 356 °F: 90 °F more at most"),
    ("tested 600 °C: 20 °C either way", "tested 1112 °F: 36 °F either way"),
    ("a span of 150 K, ± 20 °C", "a span of 270 °F, ± 36 °F"),
])  # fmt: skip
def test_a_difference_has_no_zero_and_a_miss_is_never_understated(si: str, us: str) -> None:
    assert sentence_in(si, US) == us


@pytest.mark.parametrize(("si", "beside", "us"), [
    # 1.2 x 25.4 is 30.48, 50 mm 1.96850 in, 3 mm 0.11811 in.
    ("tested 1.2 kJ/mm, no higher", Interval(None, D("1.2"), "kJ/mm"), "tested 30.4 kJ/in, no higher"),
    ("1.25 x 2.79 kJ/mm = 3.4875 kJ/mm", Interval(None, D("3.4875"), "kJ/mm"), "1.25 x 70.9 kJ/in = 88.5 kJ/in"),
    # 8 mm is 0.31496 in: the limit of the deposit, and by chance the thickness of the piece as well.
    ("tested s = 4 mm at t = 8 mm: up to 2 s", Interval(None, D(8), "mm"), "tested s = 0.157 in at t = 0.315 in: "
     "up to 2 s"),
    ("tested s = 8 mm at t = 12 mm", Interval(None, D(8), "mm"), "tested s = 0.314 in at t = 0.472 in"),
    ("a tack of 30 mm, below 50 mm, serves parts up to a quarter of it, 7.5 mm", Interval(None, D("7.5"), "mm"),
     "a tack of 1.181 in, below 1.969 in, serves parts up to a quarter of it, 0.295 in"),
    ("tested s = 4 mm, or to 3 mm", Interval(D(3), D(8), "mm"), "tested s = 0.157 in, or to 0.119 in"),
    ("tested 1.2 kJ/mm", Interval(D(1), D(2), "mm"), "tested 30.5 kJ/in"),  # of another unit
    ("tested 1.2 kJ/mm", None, "tested 30.5 kJ/in"),
    ("12.701 mm", Interval(None, D("12.7"), "mm"), "0.501 in"),  # outside stays outside
    ("tested 204.444 °C", Interval(None, D("204.444"), "°C"), "tested 400 °F"),
])  # fmt: skip
def test_a_figure_beside_the_limit_that_it_is_reads_as_that_limit(si: str, beside: Interval | None, us: str) -> None:
    assert sentence_in(si, US, *([beside] if beside else [])) == us


def test_a_strength_beside_strengths_allowed() -> None:
    """275 MPa is 39.885 ksi, 355 MPa 51.488, 460 MPa 66.717."""
    allowed = "group 1.1 up to 275 MPa and group 1.2 up to 355 MPa"
    spans = ranges_in(allowed)
    assert sentence_in(allowed, US) == "group 1.1 up to 39.8 ksi and group 1.2 up to 51.4 ksi"
    assert sentence_in("S355 (355 MPa) to S275 (275 MPa)", US, *spans) == "S355 (51.4 ksi) to S275 (39.8 ksi)"
    assert sentence_in("S460 (460 MPa)", US, *spans) == "S460 (66.7 ksi)"


@pytest.mark.parametrize(("si", "us"), [
    ("tested T = 9.525 mm (0.375 in), US set: 3/8 in [10 mm] covers to 3/4 in [20 mm]",
     "tested T = 0.375 in, US set: 3/8 in [10 mm] covers to 3/4 in [20 mm]"),
    ("tested wall 12 mm: pipe of 24 in [600 mm] and more", "tested wall 0.472 in: pipe of 24 in [600 mm] and more"),
    ("12.7 mm (1/2 in)", "1/2 in"),
    ("50.8 mm is above 4.7625 mm (3/16 in), the most", "2 in is above 3/16 in, the most"),
    ("an opening up to 2 mm [1/16 in] adds nothing", "an opening up to 1/16 in adds nothing"),
    ("not below 3/16 in (5 mm)", "not below 3/16 in (5 mm)"),
    ("the code prints 3 in beside 75 mm", "the code prints 3 in beside 75 mm"),
    ("WPQR 201 in PF, 12 mm", "WPQR 201 in PF, 0.472 in"),  # "in" is no unit here
    ("run 3 in the root, 12 mm", "run 3 in the root, 0.472 in"),
])  # fmt: skip
def test_what_a_code_prints_in_both_units(si: str, us: str) -> None:
    assert sentence_in(si, US) == us
    assert sentence_in(us, US) == us


@pytest.mark.parametrize(("si", "us"), [
    ("25 mm², 2 kg and 10 l/min", "0.03875 in², 4.409 lb and 21 ft³/h"),
    ("12 mm/s, B12 mm2, 0.4 kJ/mm; EN 1011-2, C.3", "12 mm/s, B12 mm2, 10.2 kJ/in; EN 1011-2, C.3"),
    ("Lᵢ)/75 and 6 a, double bevel (K)", "Lᵢ)/75 and 6 a, double bevel (K)"),
])  # fmt: skip
def test_every_unit_that_has_a_us_one(si: str, us: str) -> None:
    assert sentence_in(si, US) == us


def test_a_range_without_a_us_unit_stays() -> None:
    hydrogen = Interval(D(1), D(20), "ml/100 g")
    assert interval_in_us(hydrogen) == hydrogen
    assert interval_in_us(Interval(D(10), D(90), "mm²")) == Interval(D("0.01551"), D("0.1395"), "in²")


def test_a_sentence_is_kept_by_its_text_and_never_as_safe_to_show() -> None:
    """One that was marked must not come back for the same one that somebody typed."""
    for text in (mark_safe("<b>9 in</b>"), "<b>9 in</b>", mark_safe("<b>9 mm</b>"), "<b>9 mm</b>"):
        assert not isinstance(sentence_in(text, US), SafeString)


def test_a_long_row_of_figures_takes_no_longer_than_other_text() -> None:
    began = process_time()
    for typed in ("1" * 20_000, "above 1 mm " * 1_800):
        sentence_in(typed, System.US)
    assert process_time() - began < 3
