"""A firm's own steel grades: how they are written, what is refused, and that they travel with the settings."""

from decimal import Decimal as D

import pytest

from codes.own_grades import (
    MOST_OF_GROUP,
    bands_of,
    checked,
    entries_of,
    held_already,
    in_words,
    of_plain,
    own_grades,
    setting_of,
)
from codes.steels import UnknownGrade, grades, steel_of

BANDS = "50:700 100:650"
SOURCE = "data sheet 12 of the mill, 3 March 2026"


def test_a_grade_travels_with_the_settings_and_goes_before_the_table():
    grade = checked("Plate X700", "3.1", BANDS, SOURCE, "mill standard 7", "thermomechanical")
    settings = {"yield_by_band": "by band"} | dict([setting_of(grade, BANDS)])
    assert own_grades(settings) == (grade,)
    assert entries_of(settings) == (setting_of(grade, BANDS),)
    assert own_grades({"yield_by_band": "by band"}) == ()
    found = own_grades(settings)
    for thickness, expected in (("50", D(700)), ("50.1", D(650)), ("100", D(650)), ("100.1", None)):
        assert steel_of("plate-x700+N", D(thickness), True, additions=found).yield_mpa == expected
    with pytest.raises(UnknownGrade):
        steel_of("Plate X700")


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"name": " "}, "needs a name"),
        ({"name": "--"}, "letters or figures"),
        ({"source": ""}, "needs a name and a source"),
        ({"group": ""}, "needs a group"),
        ({"group": "12.1"}, "is not a group"),
        ({"bands": ""}, "at least one thickness band"),
        ({"bands": "50"}, "is not a thickness band"),
        ({"bands": "100:650 50:700"}, "in order"),
        ({"bands": "50:700 50:650"}, "in order"),
        ({"bands": "50:650 100:700"}, "not higher in thicker"),
        ({"bands": "50:0"}, "yield strength lies above 0"),
        ({"bands": "0:355"}, "above 0 mm"),
        ({"bands": "0:355 16:345"}, "above 0 mm"),
        ({"bands": "-:700 50:650"}, "is not a thickness band"),
        ({"name": "X700+QT"}, "delivery condition"),
        ({"name": "X700:2019"}, "delivery condition and year"),
    ],
)
def test_what_would_not_be_found_or_makes_no_sense_is_refused(changes, problem):
    with pytest.raises(ValueError, match=problem):
        checked(**({"name": "X700", "group": "3.1", "bands": BANDS, "source": SOURCE} | changes))


def test_thickness_and_yield_may_be_small_and_bands_may_be_equally_strong():
    assert [band.yield_mpa for band in checked("X700", "3.1", "0.1:0.1 50:0.1", SOURCE).bands] == [D("0.1"), D("0.1")]


@pytest.mark.parametrize(
    ("group", "most"), [("1.1", 275), ("1.2", 360), ("1", 460), ("1.3", 460), ("1.4", 460), ("2.1", 460)]
)
def test_a_yield_that_the_group_cannot_have_is_refused(group, most):
    """ISO/TR 15608:2017, Table 1 (from memory): a group too low would let joints pass that ask for more."""
    assert checked("X", group, f"16:{most} 40:200", SOURCE).yield_mpa == most
    with pytest.raises(ValueError, match=f"ends at {most} MPa"):
        checked("X", group, f"16:{most}.1 40:200", SOURCE)


@pytest.mark.parametrize("group", ["1.1", "1.2", "1.3", "1.4", "2.1"])
def test_the_grades_held_keep_to_the_yield_of_their_group(group):
    """ISO/TR 15608:2017, Table 1, against EN 10025, EN 10149, EN 10210 and ASTM as they stand in the table."""
    assert all(grade.yield_mpa <= MOST_OF_GROUP[group] for grade in grades() if grade.group == group)


@pytest.mark.parametrize(
    ("text", "bands"),
    [
        ("up to 16 mm: 355 MPa\nup to 40: 345", "16:355 40:345"),
        ("any: 700", "-:700"),
        ("  16 = 355 N/mm2  \n\n", "16:355"),
        # 3/4 in is 19.05 mm; 50 ksi is 344.7 MPa, never rounded up.
        ("3/4 in: 50 ksi", "19.05:344"),
        ("up to 1-1/2 in: 100 ksi\n2 1/2 in.: 90 ksi", "38.1:689 63.5:620"),
        ("0.5 in: 50 ksi", "12.7:344"),
    ],
)
def test_bands_as_people_write_them(text, bands):
    assert bands_of(text) == bands


@pytest.mark.parametrize("text", ["16 355", "up to: 355", "16: many", "16 kg: 355", "16: 355 bar"])
def test_a_line_that_cannot_be_read_is_named(text):
    with pytest.raises(ValueError, match="line 2"):
        bands_of(f"10: 400\n{text}")


def test_bands_in_words_and_back():
    grade = checked("X700", "3.1", "50:700 -:650", SOURCE)
    assert in_words(grade) == ("up to 50 mm: 700 MPa", "any: 650 MPa")
    assert bands_of("\n".join(in_words(grade))) == "50:700 -:650"


def test_letters_of_another_script_tell_names_apart():
    """GOST 19281 names two steels 10ХСНД and 10ХНДП (from memory): without their letters both would be 10."""
    own = (checked("10ХСНД", "1.4", "40:390", SOURCE),)
    assert steel_of("10хснд", additions=own).yield_mpa == 390
    for other in ("10ХНДП", "10", "10ХСНДА"):
        with pytest.raises(UnknownGrade):
            steel_of(other, additions=own)


def test_a_name_that_the_table_holds_is_known_as_such():
    held = held_already("astm a36")
    assert held is not None and held.group == "11.1"
    assert held_already("Plate X700") is None


def test_grades_of_a_question():
    plain = {"name": "X700", "group": "3.1", "bands": BANDS, "source": SOURCE}
    assert [grade.name for grade in own_grades(of_plain([plain]))] == ["X700"]
    assert len(of_plain([plain, plain | {"name": "X701"}])) == 2
    for bad in (
        "X700",
        [{"name": "X700"}],
        [plain | {"colour": "red"}],
        [plain, plain],
        [plain, plain | {"name": "x-700"}],
    ):
        with pytest.raises(ValueError, match=r"list of grades|each states|one grade twice"):
            of_plain(bad)
