"""The D1.1 tables at every row's ends, Table C.1 cell by cell, and the firm's own points of method A."""

from decimal import Decimal as D
from itertools import pairwise

import pytest

from codes.calc import preheat_d11 as d11
from codes.calc import preheat_method_a as method_a
from codes.calc.d11_tables import BANDS, BY_INDEX, GROUPS, MINIMUM, PCM_BOUNDS, PREQUALIFIED
from codes.calc.result import Refused

RESTRAINTS = ("low", "medium", "high")
THICKNESSES_MM = ("9.9", "10", "20", "20.1", "38", "38.1", "75", "75.1")
THICKNESSES_IN = ("0.37", "0.375", "0.75", "0.76", "1.5", "1.51", "3", "3.01")
ROWS_OF = (0, 1, 1, 2, 2, 3, 3, 4)


@pytest.mark.parametrize("restraint", RESTRAINTS)
@pytest.mark.parametrize(("mm", "inch", "row"), list(zip(THICKNESSES_MM, THICKNESSES_IN, ROWS_OF, strict=True)))
def test_each_row_serves_its_thicknesses_in_both_units(restraint: str, mm: str, inch: str, row: int) -> None:
    for column, group in enumerate(GROUPS):
        fahrenheit, celsius, _ = MINIMUM[restraint][row][column]
        assert d11.minimum_preheat(restraint, group, thickness_mm=D(mm)).figure == celsius
        assert d11.minimum_preheat(restraint, group, thickness_in=D(inch)).figure == fahrenheit


def test_more_restraint_thickness_or_susceptibility_never_asks_for_less() -> None:
    for restraint in RESTRAINTS:
        assert [len(row) for row in MINIMUM[restraint]] == [7] * 5
        for row in MINIMUM[restraint]:
            assert all(a[1] <= b[1] and a[0] <= b[0] for a, b in pairwise(row))
        for thin, thick in pairwise(MINIMUM[restraint]):
            assert all(a[1] <= b[1] for a, b in zip(thin, thick, strict=True))
    for less, more in pairwise(RESTRAINTS):
        for a_row, b_row in zip(MINIMUM[less], MINIMUM[more], strict=True):
            assert all(a[1] <= b[1] for a, b in zip(a_row, b_row, strict=True))


def test_both_temperatures_of_a_cell_are_one_figure_within_rounding() -> None:
    cells = [cell for rows in MINIMUM.values() for row in rows for cell in row]
    assert all(abs((fahrenheit - 32) / 1.8 - celsius) < 4 for fahrenheit, celsius, _ in cells)


@pytest.mark.parametrize("level", BANDS)
def test_bands_at_their_bounds(level: str) -> None:
    lower = "0.10"
    for column, bound in enumerate(PCM_BOUNDS):
        inside = D(bound) - D("0.001")
        assert d11.susceptibility_group(D(lower), level).step("group_by_table") == BANDS[level][column]
        assert d11.susceptibility_group(inside, level).step("group_by_table") == BANDS[level][column]
        lower = bound


@pytest.mark.parametrize(("group", "highest"), BY_INDEX)
def test_groups_by_index_at_their_ends(group: str, highest: str) -> None:
    pcm = (D(highest) - 1) / 12  # H 10: the logarithm is 1
    assert d11.susceptibility_index(pcm, D(10)).step("group") == group
    if highest == "7.0":
        with pytest.raises(Refused, match=r"above 7\.0"):
            d11.susceptibility_index(pcm + D("0.0085"), D(10))
    else:
        assert d11.susceptibility_index(pcm + D("0.0085"), D(10)).step("group") > group


@pytest.mark.parametrize(("hydrogen", "level"), [("4.9", "H1"), ("5", "H2"), ("9.9", "H2"), ("10", "H3")])
def test_level_of_measured_hydrogen(hydrogen: str, level: str) -> None:
    assert d11.level_of(D(hydrogen)) == level


def test_a_milder_index_counts_only_when_chosen_with_measured_hydrogen() -> None:
    assert d11.susceptibility_group(D("0.159"), hydrogen=D(9)).value == "B"
    assert d11.susceptibility_group(D("0.159"), hydrogen=D(9), finer_index=True).value == "A"
    with pytest.raises(Refused, match="measured hydrogen"):
        d11.susceptibility_group(D("0.159"), "H2", finer_index=True)


@pytest.mark.parametrize("category", PREQUALIFIED)
@pytest.mark.parametrize(
    ("mm", "inch", "row"),
    [
        ("3", "0.125", 0),
        ("20", "0.75", 0),
        ("20.1", "0.76", 1),
        ("38", "1.5", 1),
        ("38.1", "1.51", 2),
        ("65", "2.5", 2),
        ("65.1", "2.51", 3),
    ],
)
def test_prequalified_rows(category: str, mm: str, inch: str, row: int) -> None:
    fahrenheit, celsius = PREQUALIFIED[category][row]
    assert d11.prequalified_preheat((category,), thickness_mm=D(mm)).figure == celsius
    assert d11.prequalified_preheat((category,), thickness_in=D(inch)).figure == fahrenheit


def test_the_higher_of_two_categories_and_the_system_stated() -> None:
    assert d11.prequalified_preheat(("B", "C"), thickness_mm=D(25)).figure == 65
    with pytest.raises(Refused, match="not both"):
        d11.prequalified_preheat(("B",), D(25), D(1))
    with pytest.raises(Refused, match="is not a category"):
        d11.prequalified_preheat(("X",), D(25))


@pytest.mark.parametrize(
    ("hydrogen", "scale"),
    [("15.1", "A"), ("15", "B"), ("10.1", "B"), ("10", "C"), ("5.1", "C"), ("5", "D"), ("3.1", "D"), ("3", "E")],
)
def test_hydrogen_scales(hydrogen: str, scale: str) -> None:
    assert method_a.hydrogen_scale(D(hydrogen)) == scale


@pytest.mark.parametrize(
    ("ce", "heat", "limits"),
    [
        ("0.49", "1.0", (25, 30, 35, 50, 60)),
        ("0.49", "2.0", (50, 55, 65, 100, 100)),
        ("0.43", "1.0", (40, 50, 60, 100, 100)),
        ("0.43", "2.0", (80, 90, 100, 100, 100)),
        ("0.431", "1.99", (25, 30, 35, 50, 60)),
        ("0.30", "3.0", (80, 90, 100, 100, 100)),
    ],
)
def test_table_c1(ce: str, heat: str, limits: tuple[int, ...]) -> None:
    for hydrogen, limit in zip(("18", "12", "8", "4", "2"), limits, strict=True):
        assert method_a.thickness_without_preheat(D(ce), D(hydrogen), D(heat)).figure == limit


LINES = (
    (D(20), ((D(20), D("1.0")), (D(60), D("3.0")))),
    (D(100), ((D(20), D("0.6")), (D(100), D("2.6")))),
)


def own(thickness: str, heat: str, ce: str = "0.43", hydrogen: str = "4") -> D:
    return method_a.preheat(D("0.45"), "D", LINES, D(ce), D(hydrogen), D(thickness), D(heat)).figure


def test_own_points_are_interpolated_to_the_line_of_least_preheat() -> None:
    assert own("40", "2.0") == 20
    assert own("40", "1.99") == 100
    assert own("40", "1.1") == 100
    assert own("60.1", "3.0") == 100  # the 20 °C line is not entered there


@pytest.mark.parametrize(
    ("thickness", "heat", "field"),
    [
        ("40", "1.09", "heat_input"),
        ("100.1", "2.6", "combined_thickness"),
        ("19.9", "2.6", "combined_thickness"),
        ("40", "3.01", "heat_input"),
        ("20", "0.59", "heat_input"),
    ],
)
def test_outside_the_points_entered_it_refuses(thickness: str, heat: str, field: str) -> None:
    with pytest.raises(Refused) as refused:
        own(thickness, heat)
    assert refused.value.field == field


def test_the_graph_must_serve_the_steel_and_the_hydrogen() -> None:
    assert own("40", "2.0", ce="0.45", hydrogen="5") == 20
    with pytest.raises(Refused, match="up to which the graph serves"):
        own("40", "2.0", ce="0.451")
    with pytest.raises(Refused, match="more hydrogen"):
        own("40", "2.0", hydrogen="5.1")
    with pytest.raises(Refused, match="no points"):
        method_a.preheat(D("0.45"), "D", (), D("0.43"), D(4), D(40), D(2))
