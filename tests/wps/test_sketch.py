"""The geometry of sketches against the formulas of the trade, and messages for what cannot be drawn."""

import re
from decimal import Decimal as D
from math import cos, isclose, radians, sin, sqrt, tan
from typing import Any
from xml.etree import ElementTree

import pytest

from codes.parse import parse_values
from codes.units import System
from register.base.pdf_text import width
from tests.wps.sketches import BUTT, CASES, FILLET, RANGE, TEE, V60, beads, preparation
from wps.sketch import SketchError, beads_of, parse_preparation, preparation_sketch, sequence_sketch
from wps.sketch.clip import clipped
from wps.sketch.drawings import _placed
from wps.sketch.frame import Margins, fit
from wps.sketch.groove import groove_of
from wps.sketch.layout import layers
from wps.sketch.plates import scene
from wps.sketch.region import groove_regions
from wps.symbol import iso_symbol, symbol_of


def parsed(plain: dict[str, Any], window: dict[str, Any]):
    return parse_preparation(plain, parse_values(window))


def area(outline) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, [*outline[1:], outline[0]], strict=True))) / 2


class TestGrooves:
    """Widths in mm at the face and at the root."""

    def test_single_v(self) -> None:
        groove = groove_of(parsed(V60, {**BUTT, "parent_t": "12"}))
        assert isclose(groove.opening, 2 + 2 * (12 - 1) * tan(radians(30)))
        assert groove.edges(0.5) == (-1, 1)  # in the root face the gap alone
        assert groove.edges(1.0) == (-1, 1)

    def test_single_bevel_opens_on_one_side(self) -> None:
        groove = groove_of(preparation("single_bevel_butt"))
        left, right = groove.edges(12)
        assert left == -1.5
        assert isclose(right, 1.5 + 11 * tan(radians(45)))

    def test_double_v_is_as_deep_on_both_sides(self) -> None:
        groove = groove_of(preparation("double_v"))
        assert (groove.low, groove.high) == (14, 16)
        assert isclose(groove.opening, 2 + 2 * 14 * tan(radians(30)))
        assert groove.edges(0) == groove.edges(30)

    def test_a_stated_depth_is_that_of_the_first_side(self) -> None:
        plain = {"kind": "double_v", "angle_deg": "60", "depth_mm": "20", "root_face_mm": "2"}
        groove = groove_of(parsed(plain, {**BUTT, "parent_t": "30"}))
        assert (groove.low, groove.high) == (8, 10)

    def test_partial_penetration_leaves_the_rest_closed(self) -> None:
        groove = groove_of(preparation("single_v_partial"))
        assert groove.edges(12) == (0, 0)
        assert isclose(groove.opening, 2 * 8 * tan(radians(30)))

    def test_a_u_is_round_at_its_root_and_straight_above(self) -> None:
        groove = groove_of(preparation("single_u"))
        beta = radians(10)
        deep = 6 * (1 - sin(beta))
        assert isclose(groove.edges(2 + deep)[1], 1 + 6 * cos(beta))
        assert isclose(groove.edges(30)[1], 1 + 6 * cos(beta) + (28 - deep) * tan(beta))
        # At half the radius' depth a circle is sqrt(3)/2 of the radius away from its lowest point.
        assert isclose(groove.edges(2 + 3)[1], 1 + 6 * sqrt(3) / 2)

    def test_square_edges_are_the_gap_apart(self) -> None:
        assert groove_of(preparation("square")).opening == 1


class TestScene:
    def test_the_thickness_of_both_parts(self) -> None:
        found = scene(preparation("single_bevel_tee"))
        assert found.first[1][0] - found.first[0][0] == 15
        assert found.second[1][1] - found.second[0][1] == 25

    def test_the_gap_lies_between_the_prepared_edge_and_the_plate(self) -> None:
        web, plate = scene(preparation("single_bevel_tee")).parts
        assert max(y for _, y in web) == -2
        assert min(y for _, y in plate) == 0

    def test_a_fillet_has_the_legs_of_its_throat(self) -> None:
        region = scene(preparation("fillet_end_plate")).fillets[0]
        toe = region.placement.at(region.edges(region.end)[1], region.end)
        assert isclose(abs(toe[0]), 7 * sqrt(2), abs_tol=1e-9) or isclose(abs(toe[1] + 7.5), 7 * sqrt(2))

    @pytest.mark.parametrize(("name", "count"), [("fillet_tee", 1), ("fillet_end_plate", 2), ("fillet_cruciform", 4)])
    def test_how_many_fillets(self, name: str, count: int) -> None:
        assert len(scene(preparation(name)).fillets) == count


class TestBeads:
    @pytest.mark.parametrize("name", CASES)
    def test_beads_fill_the_weld(self, name: str) -> None:
        """Together they are as large as the room they fill, but for sag and rise."""
        one = preparation(name)
        view = scene(one)
        placed = _placed(one, view, beads(name))
        regions = view.fillets[:1] if one.is_fillet else groove_regions(one)
        room = sum(
            area([r.at(s, r.start + r.height * i / 50) for s in (0, 1) for i in _there_and_back(s)]) for r in regions
        )
        assert 0.98 * room < sum(area(shape.outline) for _, shape in placed) < 1.35 * room

    @pytest.mark.parametrize("name", CASES)
    def test_every_run_has_one_number_and_the_first_lies_at_the_root(self, name: str) -> None:
        one = preparation(name)
        placed = _placed(one, scene(one), beads(name))
        assert [bead.number for bead, _ in placed] == list(range(1, len(placed) + 1))
        drawn = sequence_sketch(one, beads(name))
        numbers = re.findall(r'class="label number"[^>]*>(\d+)<', drawn)
        assert sorted(map(int, numbers)) == list(range(1, len(placed) + 1))

    def test_three_beads_in_a_fillet_are_one_and_two(self) -> None:
        region = scene(preparation("fillet_end_plate")).fillets[0]
        assert [layer.beads for layer in layers(region, 3)] == [1, 2]

    @pytest.mark.parametrize("count", [1, 2, 5, 11, 24])
    def test_layers_rise_from_the_root_and_hold_all_beads(self, count: int) -> None:
        region = groove_regions(preparation("single_v"))[0]
        found = layers(region, count)
        assert sum(layer.beads for layer in found) == count
        assert found[0].low == 0
        assert isclose(found[-1].high, 12)
        assert [layer.beads for layer in found] == sorted(layer.beads for layer in found)

    def test_names_of_runs_say_how_many_beads_there_are(self) -> None:
        found = beads_of([(1, "root", "141"), (2, "fill 2-4", "135"), (3, "cap 5 to 6", "135")])
        assert [(bead.number, bead.order) for bead in found] == [(1, 1), (2, 2), (3, 2), (4, 2), (5, 3), (6, 3)]

    def test_names_that_contradict_each_other_are_counted_instead(self) -> None:
        found = beads_of([(1, "fill 3", ""), (2, "cap 1", ""), (3, "", "")])
        assert [bead.number for bead in found] == [1, 2, 3]

    def test_a_sealing_run_lies_on_the_other_side(self) -> None:
        assert [bead.back for bead in beads_of([(1, "root", ""), (2, "sealing run", ""), (3, "background", "")])] == [
            False, True, False,
        ]  # fmt: skip

    def test_not_more_beads_than_can_be_read(self) -> None:
        assert len(beads_of([(1, "fill 1-900", "")])) == 40


def _there_and_back(side: int) -> range:
    return range(51) if side == 0 else range(50, -1, -1)


class TestDrawing:
    def test_what_is_stated_is_labelled_in_both_systems(self) -> None:
        one = preparation("single_v")
        si, us = preparation_sketch(one), preparation_sketch(one, System.US)
        assert all(text in si for text in (">60°<", ">gap 2 mm<", ">root face 1 mm<", ">t 6–24 mm<"))
        assert all(text in us for text in (">60°<", ">gap 0.079 in<", ">root face 0.039 in<", ">t 0.237–0.944 in<"))
        assert "drawn for t 12 mm" in si

    def test_the_scale_bar_is_as_long_as_it_says(self) -> None:
        one = preparation("single_bevel_butt")
        drawn = preparation_sketch(one)
        box = re.search(r'<line x1="([\d.]+)" y1="([\d.]+)" x2="[\d.]+" y2="([\d.]+)" class="gone"', drawn)
        bar = re.search(r'<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="4" class="bar"', drawn)
        label = re.search(r'class="label scale"[^>]*>(\d+) mm<', drawn)
        assert box and bar and label
        thickness = abs(float(box[3]) - float(box[2]))
        assert isclose(thickness / 12, 2 * float(bar[1]) / float(label[1]), rel_tol=0.01)

    def test_text_is_escaped(self) -> None:
        one = parsed({**V60, "backing": "<b>&strip"}, {**BUTT, "parent_t": "12"})
        assert "<b>" not in preparation_sketch(one)
        assert "&lt;b&gt;&amp;strip" in preparation_sketch(one)

    def test_fit_keeps_the_margins(self) -> None:
        canvas = fit([(0, 0), (100, 10)], 330, 200, Margins(10, 20, 30, 40))
        left, right = canvas.at((0, 0))[0], canvas.at((100, 0))[0]
        assert 10 <= left < right <= 300

    def test_clipping(self) -> None:
        square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
        assert area(clipped(square, (5, 5, 20, 20))) == 25
        assert clipped(square, (11, 11, 20, 20)) == []
        assert clipped(square, (-1, -1, 20, 20)) == square


class TestParsing:
    def test_a_range_is_drawn_at_its_geometric_middle(self) -> None:
        one = parsed(V60, {**BUTT, "parent_t": RANGE})
        assert (one.t1.drawn, one.t1.text()) == (D(12), "6 to 24 mm")
        assert [name for name, _ in one.drawn_for] == ["t"]

    def test_a_half_open_range_is_drawn_at_its_end(self) -> None:
        assert parsed(V60, {**BUTT, "parent_t": {"min": "3"}}).t1.drawn == 3

    def test_a_figure_of_the_preparation_wins(self) -> None:
        assert parsed({**V60, "t1_mm": "8"}, {**BUTT, "parent_t": RANGE}).t1.drawn == 8

    def test_square_edges_of_a_fillet_are_no_groove(self) -> None:
        assert parsed({"kind": "square"}, {**FILLET, "parent_t": "10"}).is_fillet

    def test_of_several_joints_the_first_that_fits_is_drawn(self) -> None:
        window = {"weld_type": "butt_cjp", "joint_type": ["tee", "butt"], "parent_t": "10"}
        assert parsed(V60, window).arrangement.value == "butt"

    @pytest.mark.parametrize(
        ("plain", "window", "field", "words"),
        [
            ({}, {**BUTT, "parent_t": "10"}, "kind", "is not stated; use one of: none, square"),
            ({"kind": "butterfly"}, {**BUTT, "parent_t": "10"}, "kind", '"butterfly" is not a preparation'),
            (V60, BUTT, "parent_t", "state the thickness"),
            ({"kind": "single_v"}, {**BUTT, "parent_t": "10"}, "angle_deg", "for example 60"),
            ({**V60, "angle_deg": "180"}, {**BUTT, "parent_t": "10"}, "angle_deg", "between 0 and 180°, not 180°"),
            ({**V60, "kind": "single_bevel", "angle_deg": "90"}, {**BUTT, "parent_t": "10"}, "angle_deg", "0 and 90°"),
            ({**V60, "root_face_mm": "11"}, {**BUTT, "parent_t": "10"}, "root_face_mm", "11 mm is more than"),
            ({**V60, "depth_mm": "11"}, {**BUTT, "parent_t": "10"}, "depth_mm", "11 mm is more than"),
            ({**V60, "kind": "single_u"}, {**BUTT, "parent_t": "10"}, "radius_mm", "root radius"),
            ({**V60, "gap_mm": "two"}, {**BUTT, "parent_t": "10"}, "gap_mm", "not a number"),
            ({**V60, "gap_mm": "-1"}, {**BUTT, "parent_t": "10"}, "gap_mm", "negative"),
            ({**V60, "gap_mm": {"min": "3", "max": "1"}}, {**BUTT, "parent_t": "10"}, "gap_mm", "cannot run from"),
            (V60, {**TEE, "parent_t": "10"}, "kind", "two prepared edges"),
            ({**V60, "arrangement": "lap"}, {"parent_t": "10"}, "kind", "takes a fillet weld"),
            ({"kind": "none"}, {**BUTT, "parent_t": "10"}, "kind", "needs a corner"),
            ({"kind": "none"}, {"weld_type": "fillet", "joint_type": "edge", "parent_t": "10"}, "kind", "not drawn"),
            ({"kind": "none", "arrangement": "star"}, {"parent_t": "10"}, "arrangement", "use one of: butt"),
            ({"kind": "none", "sides": "3"}, {**FILLET, "parent_t": "10"}, "sides", "neither 1 nor 2"),
            ({"kind": "none"}, {**FILLET, "parent_t": "0"}, "parent_t", "more than 0"),
            ({"kind": "none"}, {**FILLET, "parent_t": "10", "throat_a": "0"}, "throat_a", "more than 0"),
        ],
    )
    def test_what_cannot_be_drawn_is_said(
        self, plain: dict[str, Any], window: dict[str, Any], field: str, words: str
    ) -> None:
        with pytest.raises(SketchError) as raised:
            parsed(plain, window)
        assert raised.value.field == field
        assert words in raised.value.problem

    @pytest.mark.parametrize("edge", ["10", "0"])
    def test_a_root_face_as_thick_as_the_part_and_none_at_all_are_drawn(self, edge: str) -> None:
        preparation_sketch(parsed({**V60, "root_face_mm": edge}, {**BUTT, "parent_t": "10"}))


@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize("t", [{"min": "3", "max": "24"}, {"min": "12.345", "max": "123.456"}])
def test_the_words_of_a_thickness_stay_clear_of_the_edge(t: dict[str, str], system: System) -> None:
    window = parse_values({"parent_t": t, "weld_type": "fillet", "joint_type": "tee", "throat_a": "5"})
    drawn = preparation_sketch(parse_preparation({"kind": "none"}, window), system)
    root = ElementTree.fromstring(drawn)
    said = [one for one in root.iter() if one.tag.endswith("text") and (one.text or "").startswith("t ")]
    assert said
    for one in said:
        x, size, wide = float(one.get("x", 0)), float(one.get("font-size", 0)), width(one.text or "")
        left = {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor", "")]
        assert x - left * wide * size > 3, one.text
        assert x + (1 - left) * wide * size < 330 - 3, one.text


@pytest.mark.parametrize(
    ("details", "both"), [(["bs"], True), (["ss_nb", "bs"], False), (["ss_mb", "bs"], False), (["ss_nb"], False)]
)
def test_a_second_side_is_drawn_where_every_weld_has_one(details: list[str], both: bool) -> None:
    """A single V that may be welded open or with a back run: sketch and symbol show it open, without the back run."""
    one = parsed(V60, {**BUTT, "parent_t": "12", "weld_detail": details})
    assert one.both_sides is both
    assert ("back run" in iso_symbol(symbol_of(one, ("111",)))) is both


class TestWhatATackFills:
    """A tack lies in the root of a groove; a sketch that shows the groove full would have it welded out (own rule)."""

    TACK = {"min": "2", "max": "5"}

    def test_a_deposit_below_the_groove_is_drawn_so_deep(self) -> None:
        one = preparation("single_v_tack")
        assert (one.t1.drawn, one.deposit.drawn) == (D(11), D(3))  # the geometric middles of 4 to 33 and 2 to 5
        (region,) = groove_regions(one)
        assert (region.start, region.end) == (0.0, 3.0)
        assert "drawn for t 11 mm, s 3 mm" in sequence_sketch(one, beads("single_v_tack"))
        assert "drawn for t 11 mm<" in preparation_sketch(one)

    @pytest.mark.parametrize(
        ("window", "end"),
        [
            ({"parent_t": "12", "deposit_t": {"min": "2", "max": "12"}}, 12.0),  # it may fill the groove
            ({"parent_t": "12", "deposit_t": {"min": "2"}}, 12.0),
            ({"parent_t": "12"}, 12.0),
            ({"parent_t": "12", "deposit_t": {"min": "2", "max": "11.9"}}, 5.0),
        ],
    )
    def test_a_groove_that_may_be_filled_is_drawn_full(self, window: dict[str, Any], end: float) -> None:
        (region,) = groove_regions(parsed(V60, {**BUTT, **window}))
        assert region.end == end

    def test_half_a_double_groove_is_what_one_side_can_fill(self) -> None:
        plain = {"kind": "double_v", "angle_deg": "60", "gap_mm": "2", "root_face_mm": "2"}
        full = parsed(plain, {**BUTT, "parent_t": "20", "deposit_t": {"min": "2", "max": "10"}})
        assert groove_regions(full)[0].end == 20
        tack = parsed(plain, {**BUTT, "parent_t": "20", "deposit_t": {"min": "2", "max": "5"}})
        assert groove_regions(tack)[0].end == 13  # from the middle of the root face


@pytest.mark.parametrize("parts", [["12", "20"], ["11", "11"]])
def test_the_leg_of_a_fillet_stands_beside_the_joint_not_in_the_plate(parts: list[str]) -> None:
    one = parsed({"kind": "none"}, {**FILLET, "parent_t": parts, "leg_z": "6.35"})
    root = ElementTree.fromstring(preparation_sketch(one))
    space = "{http://www.w3.org/2000/svg}"
    (leg,) = [text for text in root.iter(f"{space}text") if (text.text or "").startswith("z ")]
    through = [path.get("d", "") for path in root.iter(f"{space}path") if path.get("class") == "plate"]
    tops = [min(float(point.split()[1]) for point in d.strip("MZ").split("L")) for d in through]
    assert float(leg.get("y", 0)) < max(tops)  # above the plate that goes through


@pytest.mark.parametrize("parts", [["6.35", "19.05"], ["12", "20"], ["30", "60"]])
def test_no_cut_edge_goes_through_the_words_of_the_leg(parts: list[str]) -> None:
    one = parsed({"kind": "none"}, {**FILLET, "parent_t": {"min": parts[0], "max": parts[1]}, "leg_z": "6.35"})
    root = ElementTree.fromstring(preparation_sketch(one))
    space = "{http://www.w3.org/2000/svg}"
    (leg,) = [text for text in root.iter(f"{space}text") if (text.text or "").startswith("z ")]
    begin = float(leg.get("x", 0))
    end = begin + width(leg.text or "") * float(leg.get("font-size", 0))
    plates = [path.get("d", "") for path in root.iter(f"{space}path") if path.get("class") == "plate"]
    edge = max(float(point.split()[0]) for d in plates for point in d.strip("MZ").split("L"))
    assert begin >= edge + 4 or end <= edge


def test_the_throat_of_a_stiffener_is_named_beside_the_web_behind_it() -> None:
    root = ElementTree.fromstring(preparation_sketch(preparation("fillet_stiffener")))
    space = "{http://www.w3.org/2000/svg}"
    (behind,) = [one.get("d", "") for one in root.iter(f"{space}path") if one.get("class") == "behind"]
    (throat,) = [one for one in root.iter(f"{space}text") if (one.text or "").startswith("a ")]
    assert float(throat.get("x", 0)) > max(float(point.split()[0]) for point in behind.strip("MZ").split("L"))


def test_no_leader_crosses_the_words_of_another_note() -> None:
    """Root face below, radius above and further out: its leader would have gone through "root face"."""
    for name in ("single_u", "double_u"):
        root = ElementTree.fromstring(preparation_sketch(preparation(name)))
        notes = {
            (text.text or "–").split()[0]: (float(text.get("x", 0)), float(text.get("y", 0)))
            for text in root.iter("{http://www.w3.org/2000/svg}text")
        }
        assert notes["root"][1] > notes["radius"][1]
        assert notes["root"][0] < notes["radius"][0]
