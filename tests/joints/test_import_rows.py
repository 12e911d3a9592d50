"""Headings and cells: each bad one gets a message that names row, column and remedy."""

import pytest

from joints.imports.columns import HEADINGS, columns, plain
from joints.imports.files import read_file
from joints.imports.rows import Reading, Setting, read_rows
from joints.imports.table import Refusal
from tests.joints.files import csv_of, good_xlsx, row, xlsx_of

pytestmark = pytest.mark.usefixtures("no_own_grades")

SETTING = Setting({"Bay 1": 1, "Cell A": 2})


def read(data: bytes, setting: Setting = SETTING) -> Reading:
    return read_rows(read_file(data), setting)


def messages(data: bytes, setting: Setting = SETTING) -> list[tuple[int, str, str]]:
    return [(p.row, p.column, p.message) for p in read(data, setting).problems]


def test_a_good_list_has_no_problems() -> None:
    found = read(csv_of())
    assert not found.problems
    assert found.rows[0]["values"] == {
        "assembly": "B1",
        "number": "1",
        "weld_type": "fillet",
        "grade_1": "S355J2+N",
        "grade_2": "S355J2+N",
        "t1_mm": "12",
        "t2_mm": "20",
        "throat_mm": "5",
        "position": "PB",
        "final_process": "135",
    }


def test_a_workbook_reads_like_the_text() -> None:
    found = read(good_xlsx())
    assert not found.problems
    assert found.rows[0]["values"]["t2_mm"] == "20.5"
    assert found.rows[0]["values"]["final_process"] == "135"


@pytest.mark.parametrize(
    ("changes", "column", "says"),
    [
        ({"thickness_1": "-12"}, "Thickness 1", "-12 is no size; leave the cell empty where it is not stated"),
        ({"thickness_1": "0"}, "Thickness 1", "0 is no size; leave the cell empty where it is not stated"),
        ({"thickness_1": "twelve"}, "Thickness 1", "is not a number"),
        ({"thickness_1": "1.200"}, "Thickness 1", "read two ways; write 1200 or 1.2000"),
        ({"thickness_1": "1,200"}, "Thickness 1", "read two ways"),
        ({"thickness_1": "12.0001"}, "Thickness 1", "more than three decimals"),
        ({"thickness_1": "9999999"}, "Thickness 1", "is too large"),
        ({"thickness_1": ""}, "Thickness 1", "is empty; every weld needs it"),
        ({"grade_1": "S335J2"}, "Grade 1", "not a steel grade held here; nearest: S355J2"),
        ({"grade_1": "St 52-3"}, "Grade 1", "is the former name of S355J2"),
        ({"weld_type": "filet"}, "Weld type", "not a known weld type; use one of: full-penetration butt weld;"),
        ({"weld_type": "filet"}, "Weld type", "nearest: fillet"),
        ({"position": "PX"}, "Position", "not a known position"),
        ({"process": "999"}, "Process", "not a known process"),
        ({"throat_a": "=2+3"}, "Throat a", "is a formula"),
        ({"assembly": "=HYPERLINK(1)"}, "Assembly", "is a formula"),
        ({"assembly": "@SUM(A1)"}, "Assembly", "is a formula"),
        ({"assembly": ""}, "Assembly", "is empty"),
        ({"joint_number": "x" * 41}, "Joint number", "41 characters long; at most 40"),
    ],
)
def test_a_bad_cell_names_row_column_and_remedy(changes: dict[str, str], column: str, says: str) -> None:
    found = [m for m in messages(csv_of(row(1), row(2, **changes))) if m[0] == 3]
    assert [m[1] for m in found] == [column]
    assert says in found[0][2]


@pytest.mark.parametrize(("text", "value"), [("12,5", "12.5"), ("12.5", "12.5"), ("12 mm", "12"), ("12,50", "12.5")])
def test_decimal_comma_and_unit(text: str, value: str) -> None:
    assert read(csv_of(row(1, thickness_1=text))).rows[0]["values"]["t1_mm"] == value


def test_plus_and_minus_are_taken_as_text_with_a_note() -> None:
    found = read(csv_of(row(1, assembly="-B1"), row(2, assembly="+B1")))
    assert not found.errors
    assert [p.message for p in found.problems] == ["“-B1” is taken as text.", "“+B1” is taken as text."]


def test_a_formula_in_a_workbook_cell() -> None:
    head = ["Assembly", "Joint", "Weld type", "Thickness"]
    found = messages(xlsx_of([head, ["B1", 1, "fillet", "=6*2"]]))
    assert (2, "Thickness", "the cell holds a formula; put its result in its place (copy, paste values).") in found
    assert len(found) == 1


@pytest.mark.parametrize(
    ("head", "says"),
    [
        ("Assembly;Joint;Weld type;Length", "“Thickness 1” is missing. The list has: Assembly, Joint"),
        ("Assembly;Joint;Length", "The columns “Weld type”, “Thickness 1” are missing"),
        ("Assembly;Joint;Weld;Weld type;Thickness", "Two columns say the same: “Joint” and “Weld”"),
        ("Assembly;Joint;Weld type;Thickness [ft]", "is in feet"),
        ("Assembly;Joint;Weld type;Thickness;t2", "Two columns speak of the same in two ways"),
    ],
)
def test_headings_that_do_not_do(head: str, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        read(csv_of("B1;1;fillet;12;3", head=head))


def test_a_column_that_is_not_read_is_named_with_the_nearest() -> None:
    head = "Assembly;Joint;Weld type;Thickness;Positon;Colour"
    notes = read(csv_of("B1;1;fillet;12;PB;red", head=head)).notes
    assert "Not read: “Positon” (did you mean “position”?), “Colour”." in notes


def test_one_thickness_column_stands_for_both_parts() -> None:
    found = read(csv_of("B1;1;fillet;12;S355J2", head="Assembly;Joint;Weld type;Thickness;Grade"))
    values = found.rows[0]["values"]
    assert values["t1_mm"] == values["t2_mm"] == "12"
    assert values["grade_1"] == values["grade_2"] == "S355J2"
    assert "The column “Thickness” is read as the thickness of both parts." in found.notes


@pytest.mark.parametrize(("leg", "bad"), [("7", False), ("7,8", True), ("5", True), ("6,4", False)])
def test_throat_and_leg_that_contradict(leg: str, bad: bool) -> None:
    head = "Assembly;Joint;Weld type;Thickness;a;z"
    found = messages(csv_of(f"B1;1;fillet;12;5;{leg}", head=head))
    assert bool(found) is bad
    if bad:
        assert "contradict" in found[0][2]


def test_the_same_joint_twice_in_one_list() -> None:
    found = messages(csv_of(row(1), row(2), row(1)))
    assert found == [(4, "Joint number", "joint 1 of assembly B1 stands in row 2 already; delete one of the two.")]


@pytest.mark.parametrize(
    ("text", "value"),
    [("1/2", "12.7"), ('3/16"', "4.763"), ("1 1/2", "38.1"), ("1-1/2 in", "38.1"), ("0.5", "12.7"), ("2", "50.8")],
)
def test_sizes_in_inches_are_kept_in_mm(text: str, value: str) -> None:
    """25.4 mm to the inch is exact (international yard and pound agreement, 1959)."""
    found = read(csv_of(f"B1;1;fillet;{text}", head="Assembly;Joint;Weld type;Thickness 1 [in]"))
    assert not found.problems
    assert found.rows[0]["values"]["t1_mm"] == value
    assert "In inches, kept in mm to 0.001: “Thickness 1 [in]”." in found.notes


@pytest.mark.parametrize(
    ("text", "value"), [("3/8 in", "9.525"), ('3/8"', "9.525"), ("0.5 inch", "12.7"), ("9.5 mm", "9.5")]
)
def test_a_cell_that_says_inches_is_read_so_under_a_heading_in_mm(text: str, value: str) -> None:
    """As in the form of a joint; before, it was told to leave the unit out, which would have made 0.5 in half a mm."""
    found = read(csv_of(f"B1;1;fillet;{text}", head="Assembly;Joint;Weld type;Thickness 1 [mm]"))
    assert not found.problems and found.rows[0]["values"]["t1_mm"] == value


@pytest.mark.parametrize("text", ["-3 in", "0 in", "1/0 in", "3/8", "x in"])
def test_what_is_no_size_under_a_heading_in_mm(text: str) -> None:
    found = messages(csv_of(f"B1;1;fillet;{text}", head="Assembly;Joint;Weld type;Thickness 1 [mm]"))
    assert [m[:2] for m in found] == [(2, "Thickness 1 [mm]")] and "leave it out" not in found[0][2]


@pytest.mark.parametrize("text", ["0", "-1/2", "1/0", "half", "12 mm"])
def test_what_is_no_size_in_inches(text: str) -> None:
    found = messages(csv_of(f"B1;1;fillet;{text}", head="Assembly;Joint;Weld type;Thickness 1 [in]"))
    assert [m[:2] for m in found] == [(2, "Thickness 1 [in]")]


@pytest.mark.parametrize(
    ("element", "pitch", "gap", "says"),
    [
        ("50", "150", "100", ""),
        ("50", "50", None, "not longer than the element"),
        ("", "150", None, "has no element length"),
    ],
)
def test_a_pitch_is_kept_as_the_clear_gap(element: str, pitch: str, gap: str | None, says: str) -> None:
    head = "Assembly;Joint;Weld type;Thickness;Intermittent;Element length;Pitch"
    found = read(csv_of(f"B1;1;fillet;12;yes;{element};{pitch}", head=head))
    assert found.rows[0]["values"].get("element_gap_mm") == gap
    assert "element_pitch" not in found.rows[0]["values"]
    assert (says in found.problems[0].message) if says else not found.problems


def test_an_apostrophe_before_a_formula_keeps_it_text() -> None:
    """Lists that we write put one there, so that no spreadsheet runs the text."""
    found = read(csv_of(row(1, assembly="'=B1"), row(2, assembly="'+B1")))
    assert not found.errors
    assert [r["values"]["assembly"] for r in found.rows] == ["=B1", "+B1"]


def test_workstations_are_those_on_file() -> None:
    head = "Assembly;Joint;Weld type;Thickness;Workstation"
    assert read(csv_of("B1;1;fillet;12;bay 1", head=head)).rows[0]["values"]["final_workstation"] == "Bay 1"
    found = messages(csv_of("B1;1;fillet;12;Bay 7", head=head))
    assert "no workstation on file; on file: Bay 1" in found[0][2]


def test_empty_cells_take_the_defaults_of_the_sender() -> None:
    setting = Setting({}, {"tack_process": "135", "position": "PA"})
    values = read(csv_of(row(1), row(2, position="")), setting).rows
    assert [v["values"]["position"] for v in values] == ["PB", "PA"]
    assert values[0]["values"]["tack_process"] == "135"


@pytest.mark.parametrize(
    ("text", "says"),
    [("2026-12-01", ""), ("01.12.2026", ""), ("2026-02-30", "is no date"), ("1901-01-01", "is no date")],
)
def test_dates(text: str, says: str) -> None:
    found = messages(csv_of(f"B1;1;fillet;12;{text}", head="Assembly;Joint;Weld type;Thickness;Date"))
    assert (says in found[0][2]) if says else not found


def test_every_heading_is_a_heading_of_one_field_only() -> None:
    spelled = [(plain(name), field) for field, names in HEADINGS.items() for name in names]
    assert len({name for name, _ in spelled}) == len(spelled)


@pytest.mark.parametrize("heading", ["Thickness_1 [mm]", "THICKNESS 1 (mm)", "t1", "T 1", "Plate thickness 1, mm"])
def test_headings_as_people_write_them(heading: str) -> None:
    assert columns(["Assembly", "Joint", "Weld type", heading]).fields[3] == "t1_mm"
