"""The grade table: every band at both edges, spellings, strict readings, unknown grades, additions."""

from decimal import Decimal as D

import pytest

from codes.clauses import Mark
from codes.steel_grades import ROWS
from codes.steels import UnknownGrade, addition, grade_of, grades, steel_of, with_grades
from codes.values import Steel, SteelPair

STEP = D("0.1")


def test_every_grade_of_every_row_is_held_once_per_standard() -> None:
    named = [(row.standard, name) for row in ROWS for name in row.grades]
    assert len(named) == len(set(named)) == len(grades())
    assert len(named) >= 120


@pytest.mark.parametrize("grade", grades(), ids=lambda g: f"{g.standard} {g.name}")
def test_bands_join_and_hold_their_edges(grade) -> None:
    bands = grade.bands
    assert grade.yield_at(D(0)) is None
    assert grade.yield_at(STEP) == bands[0].yield_mpa
    for band, following in zip(bands, [*bands[1:], None], strict=True):
        edge = band.thickness.hi
        if edge is None:
            assert following is None
            assert grade.yield_at(D(1000)) == band.yield_mpa
            continue
        inside = edge - STEP if band.thickness.hi_open else edge
        assert grade.yield_at(inside) == band.yield_mpa
        beyond = edge if band.thickness.hi_open else edge + STEP
        assert grade.yield_at(beyond) == (following.yield_mpa if following else None)


@pytest.mark.parametrize("grade", grades(), ids=lambda g: f"{g.standard} {g.name}")
def test_figures_are_plausible_and_doubt_is_explained(grade) -> None:
    strengths = [band.yield_mpa for band in grade.bands]
    assert strengths == sorted(strengths, reverse=True)
    assert grade.source
    if grade.group_mark is Mark.DOUBT and "A500 Gr C" not in grade.name:
        assert grade.note
    if not grade.group:
        assert grade.group_mark is Mark.DOUBT
    limits = {"1.1": (0, 275), "1.2": (275, 360), "1.3": (360, 460), "2.1": (360, 460), "2.2": (460, 2000)}
    limits |= {"3.1": (360, 690), "3.2": (690, 2000)}
    # Two strict readings stand outside the definition by yield, each with its note.
    if grade.group in limits and not grade.tested_group:
        low, high = limits[grade.group]
        assert low < grade.yield_mpa <= high


@pytest.mark.parametrize("grade", grades(), ids=lambda g: f"{g.standard} {g.name}")
def test_every_grade_is_found_by_its_own_name_and_standard(grade) -> None:
    assert steel_of(grade.name).yield_mpa == grade.yield_mpa
    assert grade_of(f" {grade.name.lower()} ").name == grade.name
    if grade.standard.startswith("EN"):
        assert grade_of(f"{grade.standard} {grade.name}").standard == grade.standard


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("S355J2+N", "S355J2+N"),
        ("S355 J2", "S355J2"),
        ("s355j2 + n", "S355J2+N"),
        ("EN 10025-2 S355J2", "S355J2"),
        ("DIN EN 10025-2:2019-10 S355J2+N Z25", "S355J2+N+Z25"),
        ("EN 10025 S355J2", "S355J2"),
        ("S355J2Z35", "S355J2+Z35"),
        ("ASTM A572 Grade 50", "A572 Gr 50"),
        ("A572-50", "A572 Gr 50"),
        ("A500 Gr.B", "A500 Gr B"),
        ("JIS G3106 SM490YB", "SM490YB"),
        ("AS/NZS 3678 Grade 350", "AS 3678-350"),
        ("AS 3679.1-300", "AS 3679.1-300"),
        ("AS/NZS 1163 C350", "C350"),
    ],
)
def test_spellings(written: str, name: str) -> None:
    assert steel_of(written).grade == name


@pytest.mark.parametrize(
    ("grade", "group", "strength", "tested_group", "tested_strength"),
    [
        ("S355J2", "1.2", 355, "1.2", 355),
        ("S450J0", "1.3", 450, "1.3", 450),
        ("S355MC", "2.1", 355, "1.2", 355),
        ("A36", "11.1", 250, "11.1", 250),
        ("SM570", "3.1", 460, "2.1", 460),
        ("SM490YA", "", 365, "", 365),
        ("SS400", "", 245, "", 245),
        ("A500 Gr B", "11.1", 315, "11.1", 290),
        ("A913 Gr 70", "3.1", 485, "2.2", 485),
        ("AS 3678-250", "1.2", 280, "1.1", 250),
        ("AS 3678-400", "2.1", 400, "1.3", 400),
    ],
)
def test_strict_readings(grade: str, group: str, strength: int, tested_group: str, tested_strength: int) -> None:
    joint, test = steel_of(grade), steel_of(grade, tested=True)
    assert (joint.group, joint.yield_mpa) == (group, strength)
    assert (test.group, test.yield_mpa) == (tested_group, tested_strength)


@pytest.mark.parametrize(
    ("grade", "thickness", "strength"),
    [
        ("S355J2", "16", 355),
        ("S355J2", "16.1", 345),
        ("S355J2", "50", 335),
        ("S355J2", "250", 275),
        ("S355J2", "250.1", None),
        ("S235J2", "400", 165),
        ("S235JR", "250.1", None),
        ("S235JRH", "60", 215),
        ("EN 10219-1 S235JRH", "60", None),
        ("AS 3679.1-300", "10.9", 320),
        ("AS 3679.1-300", "11", 300),
        ("S700MC", "8", 700),
        ("S700MC", "8.1", 680),
    ],
)
def test_by_band(grade: str, thickness: str, strength: int | None) -> None:
    assert steel_of(grade, D(thickness), by_band=True).yield_mpa == strength


def test_by_grade_ignores_the_thickness_and_by_band_needs_it() -> None:
    assert steel_of("S355J2", D(50)).yield_mpa == 355
    assert steel_of("S355J2", None, by_band=True).yield_mpa is None


@pytest.mark.parametrize("thickness", ["0", "-1"])
def test_a_thickness_is_more_than_nought(thickness: str) -> None:
    with pytest.raises(ValueError, match="more than 0 mm"):
        steel_of("S355J2", D(thickness))


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("S355J3", "S355J2"),
        ("XYZ", "add the grade with a source"),
        ("S355J2+X", "not a delivery condition"),
        ("EN 10210-1 S355J2", "S355J2H"),
        ("", "not a steel grade"),
    ],
)
def test_unknown_grades_name_the_nearest(written: str, says: str) -> None:
    with pytest.raises(UnknownGrade, match=says.replace("+", r"\+")):
        steel_of(written)


@pytest.mark.parametrize(
    ("written", "remedy"),
    [
        ("S999", "state group and yield by hand"),  # A992 is of another family, though three signs of four agree
        ("S335J2", "nearest: S355J2"),
        ("355J2", "nearest: S355J2"),
    ],
)
def test_a_grade_of_another_family_is_not_the_nearest(written: str, remedy: str) -> None:
    with pytest.raises(UnknownGrade) as unknown:
        grade_of(written)
    assert remedy in str(unknown.value) and "A992" not in str(unknown.value)


def test_a_firm_adds_a_grade_with_its_source() -> None:
    own = addition("Plate X 700", "3.1", "50:700 100:650", "data sheet 12 of the mill")
    steel = steel_of("plate x700", D("50.1"), by_band=True, additions=[own])
    assert (steel.group, steel.yield_mpa) == ("3.1", 650)
    assert grade_of("PLATE X 700", [own]).mark is Mark.OWN
    assert own in grades([own])


def test_an_addition_wins_over_the_table() -> None:
    own = addition("A36", "1.1", "-:250", "certificate 4711, C 0.18 %")
    assert steel_of("A36", additions=[own]).group == "1.1"


@pytest.mark.parametrize(
    ("name", "group", "bands", "source", "says"),
    [
        ("", "1.1", "-:235", "mill", "name"),
        ("X", "1.1", "-:235", " ", "source"),
        ("X", "12", "-:235", "mill", "not a group"),
        ("X", "1.1", "16-235", "mill", "thickness band"),
        ("X", "1.1", "", "mill", "at least one"),
        ("X", "1.1", "-:235 16:225", "mill", "thickness band"),
        ("X", "1.1", "16:235 16:225", "mill", "cannot run"),
    ],
)
def test_a_bad_addition_says_what_is_wrong(name: str, group: str, bands: str, source: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        addition(name, group, bands, source)


def test_steels_that_name_only_a_grade_are_filled_in() -> None:
    written = {"steels": SteelPair(Steel(grade="S355MC"), Steel("1.1", D(235), "own")), "process": "135"}
    joint, test = with_grades(written), with_grades(written, tested=True)
    assert joint == written | {"steels": SteelPair(Steel("2.1", D(355), "S355MC"), Steel("1.1", D(235), "own"))}
    assert test["steels"] == SteelPair(Steel("1.2", D(355), "S355MC"), Steel("1.1", D(235), "own"))
    unknown = {"steels": (SteelPair(Steel(grade="X9"), Steel(grade="X9")),)}
    assert with_grades(unknown) == unknown
