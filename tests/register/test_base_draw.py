"""The drawings: where things stand, what they say, and that no text can break out of them."""

import re
from datetime import date
from decimal import Decimal as D
from xml.etree import ElementTree

import pytest

from register.base.draw import POSITIONS, Span, answer_shape, position_icon, ruler, time_strip
from register.base.draw.ruler import AXIS

START, END = date(2026, 1, 1), date(2026, 12, 31)
SVG = "{http://www.w3.org/2000/svg}"


def title(drawn: str) -> str:
    root = ElementTree.fromstring(drawn)
    assert root.get("role") == "img"
    said = root.findtext(f"{SVG}title")
    assert said and said == root.get("aria-label")
    return said


def span_ends(drawn: str) -> tuple[float, float]:
    """The pixels between which the bar of a ruler lies."""
    bar = next(e for e in ElementTree.fromstring(drawn).iter(f"{SVG}line") if e.get("class") == "span")
    return float(bar.get("x1", "")), float(bar.get("x2", ""))


def texts(drawn: str) -> list[str]:
    return [e.text or "" for e in ElementTree.fromstring(drawn).iter(f"{SVG}text")]


def test_a_value_inside_stands_on_the_bar() -> None:
    drawn = ruler(D(3), D(30), D(12), "mm")
    circle = next(e for e in ElementTree.fromstring(drawn).iter(f"{SVG}circle") if e.get("class") == "mark")
    lo, hi = span_ends(drawn)
    assert lo < float(circle.get("cx", "")) < hi
    assert circle.get("cy") == str(AXIS)
    assert title(drawn) == "12 mm on 3 to 30 mm: covered"
    assert texts(drawn) == ["3", "30", "12 mm"]


def test_figures_below_zero_bear_the_minus_of_print() -> None:
    drawn = ruler(D(-20), None, D("-7.50"), "°C")
    assert texts(drawn) == ["−20", "−7.5 °C"]
    assert title(drawn) == "−7.5 °C on from −20 °C: covered"


def test_a_value_outside_stands_beside_the_bar_as_a_barred_square() -> None:
    drawn = ruler(D(3), D(30), D(32), "mm", outcome="outside")
    square = next(e for e in ElementTree.fromstring(drawn).iter(f"{SVG}rect") if e.get("class") == "mark")
    assert float(square.get("x", "")) + 4.5 > span_ends(drawn)[1]
    assert title(drawn) == "32 mm on 3 to 30 mm: outside"


def test_a_value_far_outside_does_not_push_the_figures_of_the_ends_together() -> None:
    assert texts(ruler(D(3), D(8), D(500), "mm", outcome="outside"))[0] == "3 to 8"


@pytest.mark.parametrize(
    ("lo", "hi", "lo_open", "hi_open", "said"),
    [
        (D(3), None, False, False, "5 mm on from 3 mm: covered"),
        (D(3), None, True, False, "5 mm on above 3 mm: covered"),
        (None, D("8.50"), False, False, "5 mm on up to 8.5 mm: covered"),
        (None, D(8), False, True, "5 mm on below 8 mm: covered"),
        (D(3), D(8), True, True, "5 mm on above 3 to below 8 mm: covered"),
        (None, None, False, False, "5 mm on any value mm: covered"),
        (D(5), D(5), False, False, "5 mm on 5 to 5 mm: covered"),
    ],
)
def test_ends_are_said_as_they_are(lo, hi, lo_open, hi_open, said) -> None:
    assert title(ruler(lo, hi, D(5), "mm", lo_open, hi_open)) == said


def test_an_open_end_is_a_ring_and_a_missing_end_an_arrow() -> None:
    drawn = ruler(D(3), None, None, "mm", lo_open=True)
    assert 'class="end open"' in drawn
    assert re.search(r'<path[^>]*class="end"', drawn)
    assert title(drawn) == "Allowed: above 3 mm"


def test_a_window_is_drawn_from_end_to_end() -> None:
    drawn = ruler(D(3), D(8), D(5), "mm", value_to=D(7))
    assert title(drawn) == "5 to 7 mm on 3 to 8 mm: covered"
    assert drawn.count('class="mark"') == 2


def test_text_cannot_break_out_of_a_drawing() -> None:
    for drawn in (
        ruler(D(1), D(2), D(1), '<script>"&'),
        position_icon("PA", '<b>"'),
        time_strip(
            [Span(date(2026, 1, 1), date(2026, 2, 1), "<i>")], date(2026, 1, 2), date(2026, 1, 1), date(2027, 1, 1)
        ),
    ):
        assert "<script" not in drawn and "<b>" not in drawn and "<i>" not in drawn
        ElementTree.fromstring(drawn)


@pytest.mark.parametrize("token", POSITIONS)
def test_every_position_has_a_picture_of_its_own(token: str) -> None:
    drawn = position_icon(token)
    assert title(drawn).startswith(f"Position {token}, ")
    assert [t for t in POSITIONS if position_icon(t) == drawn] == [token]


def test_a_flat_fillet_is_drawn_as_a_trough() -> None:
    assert position_icon("PA", fillet=True) != position_icon("PA")
    assert position_icon("PB", fillet=True) == position_icon("PB")


def test_an_unknown_position_has_no_picture() -> None:
    with pytest.raises(ValueError, match="no picture of position 'PX'"):
        position_icon("PX")


def test_three_answers_three_shapes() -> None:
    shapes = [answer_shape(word) for word in ("covered", "outside", "not stated")]
    tags = ["circle", "rect", "path"]
    for drawn, tag in zip(shapes, tags, strict=True):
        first = next(e for e in ElementTree.fromstring(drawn) if "mark" in e.get("class", ""))
        assert first.tag == SVG + tag
    assert 'aria-hidden="true"' in answer_shape("covered", beside_word=True)


def test_a_fourth_answer_is_refused() -> None:
    with pytest.raises(ValueError, match="covered, outside or not stated"):
        answer_shape("maybe")


@pytest.mark.parametrize(
    ("today", "inside"),
    [(date(2026, 2, 28), False), (date(2026, 3, 1), True), (date(2026, 8, 31), True), (date(2026, 9, 1), False)],
)
def test_a_period_counts_on_its_first_and_last_day(today: date, inside: bool) -> None:
    said = title(time_strip([Span(date(2026, 3, 1), date(2026, 8, 31))], today, START, END))
    assert said.endswith(f"On {today.isoformat()}: {'inside' if inside else 'not inside'} a period")


def test_a_strip_shows_only_what_lies_in_view() -> None:
    periods = [(date(2020, 1, 1), date(2021, 1, 1)), (date(2026, 6, 1), date(2030, 1, 1))]
    drawn = time_strip(periods, date(2026, 7, 1), START, END)
    bars = list(ElementTree.fromstring(drawn).iter(f"{SVG}rect"))
    assert len(bars) == 1
    assert float(bars[0].get("x", "")) + float(bars[0].get("width", "")) == pytest.approx(320, abs=0.2)


def test_a_strip_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot run"):
        time_strip([], START, START, START)


def test_an_end_below_zero_has_the_sign_of_print() -> None:
    drawn = ruler(D(-20), D(500), D(20), "°C", hi_open=True)
    assert "−20" in texts(drawn) and title(drawn) == "20 °C on −20 to below 500 °C: covered"
