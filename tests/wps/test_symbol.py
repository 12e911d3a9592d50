"""Welding symbols: what stands where after ISO 2553:2019 (system A) and AWS A2.4:2020.

The rules are common practice in drawing offices, the clauses from memory. Pictures are held in `golden_symbols`;
after a wanted change: `REGENERATE_GOLDEN=1 .venv/bin/pytest tests/wps/test_symbol.py`, then look at what changed.
"""

import os
import re
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

import pytest

from codes.parse import parse_values
from codes.units import System
from codes.values import Interval, Value
from register.base.pdf_text import width
from tests.wps.sketches import CASES, preparation
from wps.sheet_figures import said_in
from wps.sketch import Size, parse_preparation
from wps.symbol import Form, Side, Symbol, aws_symbol, iso_symbol, symbol_of
from wps.symbol.draw import FOOT_X, LEFT, LINE_Y
from wps.symbol.figures import aws_length, aws_size, iso_length, iso_size, said
from wps.symbol.glyphs import STEPS

GOLDEN = Path(__file__).parent / "golden_symbols"
SPACE = "{http://www.w3.org/2000/svg}"


def mm(text: str) -> Size:
    return Size(Decimal(text), Decimal(text))


PIECES = Side(Form.FILLET, leg=mm("8"), length=mm("50"), count=6, gap_between=mm("100"))
SYMBOLS = {
    **{name: symbol_of(preparation(name), ("135",), "WPS 014") for name in CASES},
    "intermittent": Symbol(PIECES, processes=("135",)),
    "partial_both_known": Symbol(Side(Form.BEVEL, groove_depth=mm("10"), penetration=mm("7"), angle=None)),
    "back_run": Symbol(Side(Form.V), Side(Form.BACK_RUN), ("111",)),
    "backing_removed": Symbol(Side(Form.V), Side(Form.BACKING_REMOVED)),
    "broad_root_face": Symbol(Side(Form.BROAD_V, penetration=mm("9")), Side(Form.BROAD_BEVEL)),
}
DRAWN = {
    **{f"{name}.iso": lambda name=name: iso_symbol(SYMBOLS[name]) for name in SYMBOLS},
    **{f"{name}.aws": lambda name=name: aws_symbol(SYMBOLS[name]) for name in SYMBOLS},
    "fillet_lap.aws.us": lambda: aws_symbol(SYMBOLS["fillet_lap"], System.US),
}


@pytest.mark.parametrize("name", DRAWN)
def test_as_the_picture_on_file(name: str) -> None:
    file = GOLDEN / f"{name}.svg"
    drawn = DRAWN[name]().replace("><", ">\n<") + "\n"
    if os.environ.get("REGENERATE_GOLDEN"):
        GOLDEN.mkdir(exist_ok=True)
        file.write_text(drawn, encoding="utf-8")
    assert drawn == file.read_text(encoding="utf-8")


def test_no_picture_is_left_over() -> None:
    assert {file.stem for file in GOLDEN.glob("*.svg")} == set(DRAWN)


def glyph_ys(svg: str) -> list[list[float]]:
    """The heights of each elementary symbol's points."""
    root = ElementTree.fromstring(svg)
    paths = [path.get("d", "") for path in root.iter(f"{SPACE}path") if path.get("class") == "glyph"]
    return [[float(pair.split()[-1]) for pair in re.findall(r"-?[\d.]+ -?[\d.]+(?=[MLAZ]|$)", d)] for d in paths]


def dashed(svg: str) -> bool:
    return "stroke-dasharray" in svg


ASIDE = {f"{FOOT_X + way:g}" for way in (-14, 14)}
"""Where the figures left and right of a symbol stand."""
ONE_SIDED = [name for name, one in SYMBOLS.items() if one.other is None]
SYMMETRIC = [name for name, one in SYMBOLS.items() if one.symmetric]


@pytest.mark.parametrize("name", ONE_SIDED)
def test_iso_2553_arrow_side_stands_on_the_full_line_and_the_dashed_line_is_there(name: str) -> None:
    svg = iso_symbol(SYMBOLS[name])
    assert all(y <= LINE_Y for y in glyph_ys(svg)[0])
    assert dashed(svg)


@pytest.mark.parametrize("name", ONE_SIDED)
def test_aws_a2_4_arrow_side_hangs_below_the_line_and_no_line_is_dashed(name: str) -> None:
    svg = aws_symbol(SYMBOLS[name])
    assert all(y >= LINE_Y for y in glyph_ys(svg)[0])
    assert not dashed(svg)


@pytest.mark.parametrize("name", [name for name in DRAWN if ".aws" in name])
def test_figures_keep_clear_of_the_reference_line(name: str) -> None:
    """Own rule: white of 4 px between the line and what stands beside a symbol; a figure is 0.7 of its type high."""
    texts = ElementTree.fromstring(DRAWN[name]()).iter(f"{SPACE}text")
    beside = [(float(one.get("y", "0")), float(one.get("font-size", "0"))) for one in texts if one.get("x") in ASIDE]
    assert beside or not any((SYMBOLS[name.partition(".")[0]].arrow.leg, SYMBOLS[name.partition(".")[0]].arrow.throat))
    assert all(y <= LINE_Y - 4 or y - 0.7 * size >= LINE_Y + 4 for y, size in beside)


@pytest.mark.parametrize("name", SYMMETRIC)
def test_iso_2553_leaves_the_dashed_line_out_of_a_symmetric_weld(name: str) -> None:
    svg = iso_symbol(SYMBOLS[name])
    assert not dashed(svg)
    above, below = glyph_ys(svg)
    assert max(above) <= LINE_Y <= min(below)


def test_iso_2553_other_side_hangs_from_the_dashed_line() -> None:
    above, below = glyph_ys(iso_symbol(SYMBOLS["back_run"]))
    assert max(above) <= LINE_Y < min(below)


def test_aws_a2_4_other_side_stands_above() -> None:
    below, above = glyph_ys(aws_symbol(SYMBOLS["back_run"]))
    assert min(below) >= LINE_Y >= max(above)


@pytest.mark.parametrize("form", [Form.FILLET, Form.BEVEL, Form.BROAD_BEVEL, Form.J])
def test_the_upright_leg_is_on_the_left_in_both(form: Form) -> None:
    upright = {x for letter, (*_, x, _) in STEPS[form] if letter in "ML"}
    assert sum(step[1][-2] == min(upright) for step in STEPS[form]) >= 2


@pytest.mark.parametrize(
    ("name", "kinked"),
    [
        ("single_bevel_tee", True),
        ("single_j_tee", True),
        ("double_bevel_tee", True),
        ("single_v", False),
        ("fillet_tee", False),
        ("single_u", False),
    ],
)
def test_the_arrow_has_a_kink_where_one_part_is_prepared(name: str, kinked: bool) -> None:
    assert SYMBOLS[name].kinked is kinked


@pytest.mark.parametrize(
    ("side", "iso", "aws"),
    [
        (Side(Form.FILLET, throat=mm("5")), "a5", "7.1"),  # z = a × √2 = 7.07, rounded up
        (Side(Form.FILLET, leg=mm("8")), "z8", "8"),
        (Side(Form.FILLET), "", ""),
        (Side(Form.V), "", ""),  # nothing beside a butt weld: full penetration
        (Side(Form.V, penetration=mm("9")), "s9", "(9)"),
        (Side(Form.BEVEL, groove_depth=mm("10"), penetration=mm("7")), "s7", "10(7)"),
        (Side(Form.BEVEL, groove_depth=mm("10")), "", "10"),
    ],
)
def test_sizes_stand_to_the_left(side: Side, iso: str, aws: str) -> None:
    assert (iso_size(side, System.SI), aws_size(side, System.SI)) == (iso, aws)


def test_a_range_of_throats() -> None:
    throat = Size(Interval(Decimal(3), Decimal(6), "mm"), Decimal(4))
    side = Side(Form.FILLET, throat=throat)
    assert (iso_size(side, System.SI), aws_size(side, System.SI)) == ("a3–6", "4.3–8.4")  # 6 × √2 = 8.485
    assert said(Size(Interval(Decimal(3), None, "mm"), Decimal(3)), System.SI) == "≥3"
    assert said(Size(Interval(None, Decimal(6), "mm"), Decimal(6)), System.SI) == "≤6"


def test_the_tail_begins_behind_what_stands_on_the_line() -> None:
    svg = iso_symbol(SYMBOLS["intermittent"])
    root = ElementTree.fromstring(svg)
    (text,) = [one for one in root.iter(f"{SPACE}text") if one.text == "6 × 50 (100)"]
    (tail,) = [one.get("d", "") for one in root.iter(f"{SPACE}path") if one.get("class") == "tail"]
    fork = float(tail.split("L")[1].split()[0])
    assert fork >= float(text.get("x", 0)) + 12 * width(text.text or "")


@pytest.mark.parametrize("draw", [iso_symbol, aws_symbol])
@pytest.mark.parametrize("tightest", ["4", "10.5"])
def test_a_long_size_keeps_clear_of_the_arrow(draw: Callable[..., str], tightest: str) -> None:
    sized = Size(Interval(Decimal(tightest), Decimal("17.25"), "mm"), Decimal(5))
    symbol = Symbol(Side(Form.FILLET, throat=sized, length=mm("50")), processes=("135",))
    root = ElementTree.fromstring(draw(symbol, System.US))
    (text,) = [one for one in root.iter(f"{SPACE}text") if "–" in (one.text or "")]
    assert float(text.get("x", 0)) - 12 * width(text.text or "") >= LEFT + 2
    (tail,) = [one.get("d", "") for one in root.iter(f"{SPACE}path") if one.get("class") == "tail"]
    (length,) = [one for one in root.iter(f"{SPACE}text") if one.text == "1.969"]
    assert float(tail.split("L")[1].split()[0]) >= float(length.get("x", 0)) + 12 * width("1.969")


def test_a_long_name_of_a_process_is_not_cut_off() -> None:
    symbol = Symbol(Side(Form.FILLET, throat=mm("5")), processes=("138",))
    root = ElementTree.fromstring(aws_symbol(symbol))
    (text,) = [one for one in root.iter(f"{SPACE}text") if one.text == "GMAW metal-cored"]
    assert float(text.get("x", 0)) + 11 * width(text.text or "") <= float(root.get("width", 0))
    assert float(ElementTree.fromstring(iso_symbol(symbol)).get("width", 0)) == 300


def test_intermittent_iso_states_the_clear_gap_and_aws_the_pitch() -> None:
    # ISO 2553: n × l (e), e between the ends of adjacent welds; AWS A2.4: length-pitch, from centre to centre.
    assert iso_length(PIECES, System.SI) == "6 × 50 (100)"
    assert aws_length(PIECES, System.SI) == "50-150"
    uncounted = Side(Form.FILLET, length=mm("50"), gap_between=mm("100"))
    assert iso_length(uncounted, System.SI) == "n × 50 (100)"
    assert iso_length(Side(Form.FILLET, length=mm("250")), System.SI) == "250"
    assert aws_length(Side(Form.FILLET), System.SI) == iso_length(Side(Form.FILLET), System.SI) == ""


@pytest.mark.parametrize(
    ("millimetres", "inches"),
    [("6.35", "1/4"), ("25.4", "1"), ("38.1", "1 1/2"), ("7.9375", "5/16"), ("5", "0.197"), ("3", "0.118"), ("0", "0")],
)
def test_inches_are_sixteenths_where_they_are_exact(millimetres: str, inches: str) -> None:
    assert said(mm(millimetres), System.US) == inches


@pytest.mark.parametrize(
    ("side", "size"),
    [
        (Side(Form.FILLET, throat=mm("4")), "0.223"),  # a leg of 5.657 mm, 0.2227 in
        (Side(Form.FILLET, throat=Size(Interval(Decimal(4), Decimal(7), "mm"), Decimal(4))), "0.223–0.389"),  # 0.3897
        (Side(Form.FILLET, throat=mm("7.0710678")), "0.394"),  # 10 mm, 0.3937 in: 0.393 in would be a throat of 7.06
        (Side(Form.FILLET, leg=Size(Interval(Decimal(5), Decimal(8), "mm"), Decimal(5))), "0.197–0.314"),
    ],
)
def test_inches_never_draw_a_weld_under_the_one_stated(side: Side, size: str) -> None:
    assert aws_size(side, System.US) == size


RANGE = Interval(Decimal(5), Decimal(8), "mm")


@pytest.mark.parametrize(
    ("side", "variable", "stated", "size"),
    [
        (Side(Form.FILLET, leg=mm("6")), "leg_z", Decimal(6), "0.236"),
        (Side(Form.V, penetration=mm("9")), "deposit_t", Decimal(9), "(0.354)"),
        (Side(Form.FILLET, leg=Size(RANGE, Decimal(5))), "leg_z", RANGE, "0.197–0.314"),
    ],
)
def test_inches_read_as_the_sheet_around_the_symbol_has_them(
    side: Side, variable: str, stated: Value, size: str
) -> None:
    assert aws_size(side, System.US) == size
    assert said_in(variable, stated, System.US) == f"{size.strip('()').replace('–', ' to ')} in"


def test_a_pitch_in_inches_is_never_wider_than_the_one_stated() -> None:
    # 50 mm at a clear gap of 105 mm: a pitch of 155 mm, 6.1024 in; at 109 mm, 159 mm, 6.2598 in.
    assert aws_length(Side(Form.FILLET, length=mm("50"), gap_between=mm("105")), System.US) == "1.969-6.102"
    assert aws_length(Side(Form.FILLET, length=mm("50"), gap_between=mm("109")), System.US) == "1.969-6.259"


def test_the_tail_names_the_process_as_each_standard_does() -> None:
    one = SYMBOLS["single_v"]
    assert ">135<" in iso_symbol(one) and ">GMAW<" in aws_symbol(one)
    assert ">WPS 014<" in iso_symbol(one) and ">WPS 014<" in aws_symbol(one)
    bare = Symbol(Side(Form.V))
    assert 'class="tail"' not in iso_symbol(bare)


def test_a_depth_without_weld_size_is_in_the_tail_of_iso_2553() -> None:
    assert ">depth 8<" in iso_symbol(SYMBOLS["single_v_partial"])
    assert ">depth" not in iso_symbol(SYMBOLS["partial_both_known"])


def test_the_backing_is_lettered() -> None:
    assert ">M<" in iso_symbol(SYMBOLS["single_v_backing"]) and ">MR<" in iso_symbol(SYMBOLS["backing_removed"])
    assert ">R<" in aws_symbol(SYMBOLS["backing_removed"])


def test_it_says_in_words_what_it_draws() -> None:
    title = ElementTree.fromstring(iso_symbol(SYMBOLS["fillet_end_plate"])).get("aria-label")
    assert (
        title == "Welding symbol, ISO 2553, system A. Arrow side: fillet weld a7; other side: the same; 135, WPS 014."
    )


@pytest.mark.parametrize(
    ("face", "form"), [("3.9", Form.V), ("4", Form.BROAD_V), ("5", Form.BROAD_V)]
)  # fmt: skip
def test_a_broad_root_face_has_a_stem(face: str, form: Form) -> None:
    plain = {"kind": "single_v", "angle_deg": "60", "root_face_mm": face}
    window = parse_values({"weld_type": "butt_cjp", "joint_type": "butt", "parent_t": "12"})
    assert symbol_of(parse_preparation(plain, window)).arrow.form is form
