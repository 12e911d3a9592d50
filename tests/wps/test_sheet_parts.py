"""The parts of a sheet: figures in both systems, the table of runs, tacks, cautions, the check code."""

from decimal import Decimal as D
from typing import Any

import pytest

from codes.parse import parse_values
from codes.units import System
from codes.values import Interval
from tests.wps.sheet_samples import THREE_RUNS, run
from wps.forms.groups import GROUPS
from wps.models import ProcedureRevision, ProcedureRun
from wps.sheet_cautions import cautions
from wps.sheet_content import canonical, check_code, code_as_read, code_as_shown
from wps.sheet_data import INTERPASS, _tacks, said_of_all
from wps.sheet_fields import ORDER, WINDOW
from wps.sheet_figures import said_in, span_in, together
from wps.sheet_positions import positions_drawn
from wps.sheet_prepared import stated
from wps.sheet_runs import aligned, run_table
from wps.sheet_tacks import tack_length

SI, US = System.SI, System.US


@pytest.mark.parametrize(
    ("name", "plain", "si", "us"),
    [
        ("parent_t", {"min": "3", "max": "16"}, "3 to 16 mm", "0.119 to 0.629 in"),
        ("parent_t", ["10", "20"], "10 mm, 20 mm", "0.394 in, 0.787 in"),
        ("preheat", "100", "min 100 °C", "min 212 °F"),
        ("preheat", "21", "min 21 °C", "min 70 °F"),  # 69.8: a minimum is never rounded down
        ("interpass", "251", "max 251 °C", "max 483 °F"),  # 483.8: nor a maximum up
        ("interpass_min", "21", "min 21 °C", "min 70 °F"),
        ("post_heat_temperature", "251", "min 251 °C", "min 484 °F"),  # never reduced: ISO 15614-1, 8.4.10
        ("post_heat_temperature", "250.1", "min 250.1 °C", "min 483 °F"),  # 482.18: the nearest would be less
        ("post_heat_temperature", "250", "min 250 °C", "min 482 °F"),
        ("position", ["PB", "PF"], "PB · 2F, PF · 3G / 3F up", "PB · 2F, PF · 3G / 3F up"),
        ("joint_type", "tee", "T-joint", "T-joint"),
        ("mechanisation", "manual", "manual", "manual"),
        ("gas", "M21", "M21 (CO2 15-25 %)", "M21 (CO2 15-25 %)"),
        ("backing_gas", "I1", "I1 (argon)", "I1 (argon)"),
        ("backing_gas", "none", "no gas", "no gas"),  # not "none (no gas)"
        ("filler_designation", "E 42 <4> B", "E 42 <4> B", "E 42 <4> B"),
        ("steels", [{"group": "1.2", "yield_mpa": "355"}], "group 1.2, 355 MPa", "group 1.2, 51.4 ksi"),
        ("steels", [{"grade": "S355J2"}], "S355J2", "S355J2"),
        ("steels", [{"group": "1.1"}, {"group": "1.2"}], "group 1.1 to group 1.2", "group 1.1 to group 1.2"),
        ("branch_angle", "60", "60°", "60°"),
    ],
)  # fmt: skip
def test_values_in_words(name: str, plain: Any, si: str, us: str) -> None:
    value = parse_values({name: plain})[name]
    assert said_in(name, value, SI) == si
    assert said_in(name, value, US) == us


def test_the_full_specification_leaves_out_nothing_that_a_procedure_can_state() -> None:
    """The set of figures is said in words at the foot."""
    asked = [name for _, names in GROUPS for name in names]
    printed = [name for one in ORDER if one.where == WINDOW for name in one.names]
    assert set(asked) - set(printed) == {"unit_system"}
    assert len(printed) == len(set(printed))


def test_several_pairs_of_steels_are_told_apart() -> None:
    one, other = {"group": "1.1", "yield_mpa": "275"}, {"group": "1.2", "yield_mpa": "355"}
    value = parse_values({"steels": [[one], [one, other]]})["steels"]
    assert said_in("steels", value, SI) == "group 1.1, 275 MPa; group 1.1, 275 MPa to group 1.2, 355 MPa"


def test_one_figure_is_both_ends_of_a_range() -> None:
    assert said_in("parent_t", Interval(D(12), D(12), "mm"), SI) == "12 mm"


@pytest.mark.parametrize(
    ("lo", "hi", "text"),
    [
        (D(220), D("260.0"), "220–260"),
        (D(5), D(5), "5"),
        (None, D(5), "max 5"),
        (D(5), None, "min 5"),
        (None, None, ""),
    ],
)
def test_ranges_of_runs(lo: D | None, hi: D | None, text: str) -> None:
    assert span_in(lo, hi, "A", SI) == text


def test_what_processes_say_is_named_only_where_it_differs() -> None:
    assert together([("141", "20"), ("135", "20")]) == "20"
    assert together([("141", "20"), ("135", "30")]) == "141: 20; 135: 30"
    assert together([("141", ""), ("135", "30")]) == "135: 30"
    assert together([]) == ""


@pytest.mark.parametrize(
    ("window", "names"),
    [
        ({"position": ["PA", "PF"], "weld_type": ["butt_cjp"]}, ["PA · 1G", "PF · 3G up"]),
        ({"position": ["PA", "PE"], "weld_type": ["fillet"]}, ["PA · 1F", "PE · 4F"]),
        ({"position": "PC", "weld_type": "fillet"}, ["PC"]),  # AWS may call it overhead
        ({"position": "PA", "weld_type": ["fillet", "butt_cjp"]}, ["PA · 1G / 1F"]),
        ({"position": "PA"}, ["PA · 1G / 1F"]),
        ({"position": "H-L045", "weld_type": "butt_cjp"}, ["H-L045 · 6G up"]),
        ({"aws_position": ["1F", "2F"], "weld_type": "fillet"}, ["1F", "2F"]),
        ({"aws_position": ["H", "6GR"], "weld_type": "butt_cjp"}, ["H", "6GR"]),
        ({}, []),
    ],
)
def test_positions_by_the_names_of_the_weld_meant(window: dict[str, Any], names: list[str]) -> None:
    """AWS A3.0 tells groove and fillet positions apart, ISO 6947 does not."""
    drawn = positions_drawn(parse_values(window))
    assert [name for _, name in drawn] == names
    assert all(picture.startswith("<svg") for picture, name in drawn if name != "6GR")


@pytest.mark.parametrize(
    ("label", "said", "si", "us"),
    [
        ("Root gap, mm", "2", ("Root gap", "2 mm"), ("Root gap", "0.079 in")),
        ("Root gap, mm", "2 to 4", ("Root gap", "2 to 4 mm"), ("Root gap", "0.079 to 0.157 in")),  # 4 mm is 0.1575
        ("Stick-out, mm", "15-20", ("Stick-out", "15 to 20 mm"), ("Stick-out", "0.591 to 0.787 in")),
        ("Root gap, mm", "4 to 2", ("Root gap", "4 to 2 mm"), ("Root gap", "4 to 2 mm")),
        ("Root gap, mm", "about 2", ("Root gap", "about 2 mm"), ("Root gap", "about 2 mm")),
        ("Root gap, mm", "2 mm, +1", ("Root gap", "2 mm, +1"), ("Root gap", "2 mm, +1")),
        ("Included angle, °", "60", ("Included angle", "60°"), ("Included angle", "60°")),
        ("Edges", "ground, 20 mm", ("Edges", "ground, 20 mm"), ("Edges", "ground, 20 mm")),
    ],
)
def test_the_unit_stands_with_the_figure(label: str, said: str, si: tuple[str, str], us: tuple[str, str]) -> None:
    assert (stated(label, said, SI), stated(label, said, US)) == (si, us)


@pytest.mark.parametrize(
    ("cells", "shown"),
    [
        (["4.5–6", "7–9"], ["4.5–6.0", "7.0–9.0"]),
        (["1.914–2.658", "2.175–3.12"], ["1.914–2.658", "2.175–3.120"]),
        (["1.2", "", "4"], ["1.2", "", "4.0"]),
        (["max 5", "4.5"], ["max 5.0", "4.5"]),
        (["10–12"], ["10–12"]),
        (["DC+", "1.5"], ["DC+", "1.5"]),
    ],
)
def test_figures_of_a_column_have_the_same_decimals(cells: list[str], shown: list[str]) -> None:
    assert aligned(cells) == shown


@pytest.mark.parametrize(
    ("stated_ones", "said"),
    [
        ({"interpass": "250"}, "max 250 °C"),
        ({"interpass_min": "20"}, "min 20 °C"),
        ({"interpass_min": "20", "interpass": "250"}, "min 20 °C, max 250 °C"),
        ({}, ""),
    ],
)
def test_both_ends_of_the_interpass_temperature(stated_ones: dict[str, str], said: str) -> None:
    each = {"135": parse_values(stated_ones)}
    assert ", ".join(filter(None, (said_of_all(each, name, SI) for name in INTERPASS))) == said


def rows(*runs: dict[str, Any]) -> list[ProcedureRun]:
    return [ProcedureRun(**one) for one in runs]


class TestRuns:
    def test_three_rows_with_their_heat(self) -> None:
        table = run_table(rows(*THREE_RUNS), SI)
        named = [dict(zip([name for name, _ in table.heads], row, strict=True)) for row in table.rows]
        assert [row["Run"] for row in named] == ["1", "2–3", "4–5"]
        # 0.8 x 120 A x 18 V x 60 / 220 mm/min and 0.8 x 140 A x 20 V x 60 / 180 mm/min, rounded away from the middle.
        assert named[0]["Heat input"] == "0.471–0.747"
        assert named[1]["Current"] == "220–250"
        assert dict(table.heads)["Speed"] == "mm/min"

    def test_us_units(self) -> None:
        table = run_table(rows(*THREE_RUNS), US)
        heads = dict(table.heads)
        named = dict(zip(heads, table.rows[0], strict=True))
        assert (heads["Speed"], heads["Wire feed"], heads["Gas"]) == ("in/min", "in/min", "ft³/h")
        assert named["Speed"] == "7.1–8.6"  # 180 and 220 mm/min are 7.09 and 8.66
        assert named["Wire feed"] == "237–354"
        assert named["Ø"] == "0.047"

    def test_columns_without_anything_are_left_out(self) -> None:
        table = run_table(
            rows(run(1, "root", (100, 120), (20, 22), wire_feed_min_m_min=None, wire_feed_max_m_min=None)), SI
        )
        names = [name for name, _ in table.heads]
        assert "Wire feed" not in names
        assert "Polarity" not in names

    def test_polarity_stands_in_the_table_where_it_differs(self) -> None:
        table = run_table(rows(THREE_RUNS[0], THREE_RUNS[1] | {"current_type": "DC-"}), SI)
        assert "Polarity" in [name for name, _ in table.heads]

    def test_a_run_without_speed_has_no_heat(self) -> None:
        table = run_table(rows(THREE_RUNS[0], THREE_RUNS[1] | {"speed_min_mm_min": None, "speed_max_mm_min": None}), SI)
        assert table.rows[1][-1] == "–"


@pytest.mark.parametrize(
    ("t", "text"),
    [
        ("10", "40 mm"),
        ("12.4", "49.6 mm"),
        ("12.5", "50 mm"),
        ("20", "50 mm"),
        (["8", "20"], "50 mm"),  # the thicker part decides
        ({"min": "6", "max": "24"}, "24 mm at 6 mm, growing to 50 mm from 12.5 mm on"),
        ({"min": "6", "max": "12.5"}, "24 mm at 6 mm, growing to 50 mm from 12.5 mm on"),
        ({"min": "6", "max": "12"}, "24 mm at 6 mm, growing to 48 mm at 12 mm"),
        ({"min": "12.5", "max": "40"}, "50 mm"),
        ({"min": "6"}, "24 mm at 6 mm, growing to 50 mm from 12.5 mm on"),
    ],
)
def test_shortest_tack(t: Any, text: str) -> None:
    assert tack_length(parse_values({"parent_t": t}), SI) == text


def test_shortest_tack_without_a_thickness_and_in_inches() -> None:
    assert tack_length({}, SI) == "4 x the thicker part, at most 50 mm needed"
    assert tack_length(parse_values({"parent_t": "25.4"}), US) == "1.969 in"
    # The ends of the range as the sheet states them: 6 mm is 0.237 in at least, 6.5 mm 0.255 in at most.
    rising = "0.945 in at 0.237 in, growing to 1.969 in from 0.492 in on"
    assert tack_length(parse_values({"parent_t": {"min": "6", "max": "24"}}), US) == rising
    both = "0.473 in at 0.119 in, growing to 1.024 in at 0.255 in"
    assert tack_length(parse_values({"parent_t": {"min": "3", "max": "6.5"}}), US) == both


@pytest.mark.parametrize(
    ("code", "said"),
    [("ISO 15614-1:2017", True), ("", True), ("AWS D1.1:2020", False), ("ASME IX:2021", False)],
)
def test_the_european_rule_of_tacks_is_on_no_american_sheet(code: str, said: bool) -> None:
    lines = _tacks(ProcedureRevision(code=code, preparation={}), parse_values({"parent_t": "10"}), SI)
    assert [line.said for line in lines if line.label == "Shortest tack"] == ["40 mm (EN 1090-2:2018, 7.5.7)"] * said


class TestCautions:
    def heads(self, *args: Any) -> list[str]:
        return [head for head, _ in cautions(*args)]

    def test_the_arc_always(self) -> None:
        assert self.heads(["manual"], False) == ["Arc", "Fume", "Fire", "Shock", "Hot metal"]

    @pytest.mark.parametrize(("degree", "robot"), [("automatic", False), ("fully_mechanised", True)])
    def test_a_robot_cell_is_guarded_and_locked_out(self, degree: str, robot: bool) -> None:
        words = dict(cautions([degree], robot))["Robot cell"]
        assert all(word in words for word in ("Guarded area", "Lock out", "rotator"))

    def test_a_machine_without_a_robot(self) -> None:
        assert self.heads(["fully_mechanised"], False)[-1] == "Machine"

    def test_what_the_procedure_adds_comes_last(self) -> None:
        assert cautions(["manual"], False, " Zinc coating. ")[-1] == ("This procedure", "Zinc coating.")


class TestCheckCode:
    def test_equal_content_in_any_order_has_one_code(self) -> None:
        assert check_code({"a": 1, "b": [2, "ö"]}) == check_code({"b": [2, "ö"], "a": 1})
        assert check_code({"a": 1}) != check_code({"a": "1"})

    def test_canonical_form(self) -> None:
        assert canonical({"b": "°C", "a": [1, None]}) == '{"a":[1,null],"b":"°C"}'.encode()

    def test_known_value(self) -> None:
        """SHA-256 of "{}" begins 44136fa355b3678a1146, which is IQJW7I2VWN in base 32."""
        assert check_code({}) == "IQJW7I2VWN"

    @pytest.mark.parametrize(
        ("typed", "code"),
        [
            ("ABCDEFGHIJ", "ABCDEFGHIJ"),
            ("abcde-fghij", "ABCDEFGHIJ"),
            (" abcde fghi2 ", "ABCDEFGHI2"),
            ("ABCDEFGHI", ""),
            ("ABCDEFGHIJK", ""),
            ("ABCDEFGHI1", ""),
            ("", ""),
        ],
    )
    def test_reading_what_is_typed(self, typed: str, code: str) -> None:
        assert code_as_read(typed) == code

    def test_shown_in_halves(self) -> None:
        assert code_as_shown("ABCDEFGHIJ") == "ABCDE-FGHIJ"
