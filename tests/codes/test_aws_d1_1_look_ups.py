"""AWS D1.1: look-up tables against their cases, and every row at both edges and one step outside."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from itertools import pairwise

import pytest

from codes.aws_d1_1 import size_rows
from codes.aws_d1_1.book import BOOK_2015
from codes.aws_d1_1.unit_sets import Size, Units, fahrenheit, inch
from codes.aws_d1_1_look_ups import (
    end_loaded_length,
    exposure_hours,
    fillet_throat,
    leg_with_gap,
    maximum_edge_fillet,
    minimum_fillet,
    minimum_length,
    minimum_pjp_size,
    skewed_throat,
    tack_rules,
    z_loss,
)
from codes.aws_d1_1_look_ups.figure import Figure
from codes.aws_d1_1_look_ups.matching import match
from codes.aws_d1_1_prequalified import minimum_preheat
from codes.aws_d1_1_prequalified.preheat_rows import BANDS, MINIMA
from codes.clauses import Mark
from codes.values import Steel, SteelPair
from tests.codes import cases_of
from tests.codes.aws_cases import changes, si

D = Decimal
STEP = Decimal("0.001")
ROWS = cases_of.rows("aws_d1_1_look_ups")


def figure(text: str) -> Decimal:
    return Decimal(str(si(text)))


def answer(row: Mapping[str, str]) -> Decimal | None:
    """The figure of the look-up."""
    given = changes(row["given"])
    units, low = given.get("units", "us"), given.get("low_hydrogen") == "yes"
    sizes = [figure(part) for part in given.get("parts", "1|1").split("|")]
    pair = (sizes[0], sizes[1])
    function = row["function"]
    if function == "preheat":
        return _preheat(given, max(pair), units)
    if function == "fillet":
        return minimum_fillet(pair, units, low, cyclic=given.get("cyclic") == "yes").value
    if function == "edge":
        return maximum_edge_fillet(pair[0], units).value
    if function == "pjp":
        return minimum_pjp_size(pair, units, low).value
    leg = figure(given["leg"])
    if function == "length":
        return minimum_length(leg, units).value
    return leg_with_gap(leg, figure(given["gap"]), units).value


def _preheat(given: Mapping[str, str], thickest: Decimal, units: str) -> Decimal | None:
    sides = [Steel(grade=side.strip()) for side in given["steels"].split("/")]
    return minimum_preheat(
        SteelPair(sides[0], sides[1]),
        thickest,
        given.get("process", "111"),
        given.get("low_hydrogen") == "yes",
        units,
        hydrogen_ml=figure(given["hydrogen"]) if "hydrogen" in given else None,
        parent_temperature=figure(given["metal"]) if "metal" in given else None,
    ).least


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_the_figure_and_the_answer(row: dict[str, str]) -> None:
    value, asked = answer(row), figure(row["asked"])
    assert value is not None
    fits = asked <= value if row["function"] == "edge" else asked >= value
    assert ("OK" if fits else "NOT OK") == row["expect"]
    assert abs(value - figure(row["figure"])) <= STEP


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize(("table", "function"), [("FILLET", minimum_fillet), ("PJP", minimum_pjp_size)])
def test_every_row_of_the_size_tables_at_its_edge_and_one_step_past_it(
    table: str, function: object, units: str
) -> None:
    rows: tuple[tuple[Size | None, Size], ...] = getattr(size_rows, table)
    set_ = Units(units)
    for (end, size), (_, following) in pairwise(rows):
        assert end is not None
        at = end.mm(set_)
        assert function((at, at), units, True).value == size.mm(set_)  # type: ignore[operator]
        past = at + STEP
        assert function((past, past), units, True).value == following.mm(set_)  # type: ignore[operator]


def test_the_two_sets_are_not_conversions() -> None:
    assert minimum_fillet((D(20), D(20)), "si", True).value == 6
    assert minimum_fillet((D(20), D(20)), "us", True).value == inch("5/16")


def test_thicker_part_decides_without_low_hydrogen_and_in_one_pass() -> None:
    found = minimum_fillet((inch("1/4"), inch("1")), "us", False)
    assert found.value == inch("1/4")  # 5/16 in of the thicker part, capped by the thinner
    assert "one pass" in found.because
    assert minimum_fillet((inch("1/4"), inch("1")), "us", False, preheat_worked_out=True).value == inch("1/8")


def test_pjp_size_by_the_thinner_part_only_where_so_read() -> None:
    parts = (inch("1/2"), inch("1"))
    assert minimum_pjp_size(parts, "us", True).value == inch("5/16")
    wide = {"aws_d1_1_prequalified_pjp_thickness": "lenient"}
    found = minimum_pjp_size(parts, "us", True, settings=wide)
    assert found.value == inch("3/16")
    assert "thinner" in found.readings[0]
    assert minimum_pjp_size(parts, "us", False, settings=wide).value == inch("5/16")
    assert minimum_pjp_size((inch("1/16"), inch("1")), "us", True).value is None


@pytest.mark.parametrize(
    ("found", "size", "unsaid"),
    [
        (lambda t: minimum_fillet((t, t), "us", True), "1/8", "not more than"),
        (lambda t: minimum_pjp_size((t, D(200)), "us", False), "5/8", "not more than"),
        (lambda t: minimum_fillet((inch("3/8"), inch("3/8")), "us", True, cyclic=True), "3/16", "cyclic"),
        (lambda t: minimum_length(t / 4, "us", intermittent=True), "1-1/2", "intermittent"),
    ],
    ids=["fillet", "PJP", "cyclic", "segment"],
)
def test_what_is_equal_to_a_floor_or_a_part_is_not_said_to_be_changed_by_it(
    found: Callable[[D], Figure], size: str, unsaid: str
) -> None:
    """Table 7.7, least PJP size of clause 5, 4.4.2: the row's figure stands as it is where both are equal."""
    answer = found(inch(size))
    assert answer.value == inch(size) and unsaid not in answer.because


def test_edge_of_a_lap_joint() -> None:
    assert maximum_edge_fillet(inch("1/4") - STEP, "us").value == inch("1/4") - STEP
    assert maximum_edge_fillet(D(6), "si").value == 4
    assert maximum_edge_fillet(D(6), "si", built_out=True).value == 6
    assert maximum_edge_fillet(D(6), "si").mark is Mark.DOUBT


def test_lengths() -> None:
    assert minimum_length(D(8), "si").value == 32
    assert minimum_length(D(8), "si", intermittent=True).value == 38
    assert end_loaded_length(D(800), D(8)).value == 800
    assert end_loaded_length(D(808), D(8)).value == D("0.998") * 808
    assert end_loaded_length(D(2400), D(8)).value == 1440
    assert end_loaded_length(D(2408), D(8)).value == 1440


@pytest.mark.parametrize(
    ("gap", "thickness", "leg"),
    [("2", None, "6"), ("2.001", None, "8.001"), ("5", None, "11"), ("5.001", None, None), ("5.001", "75", "11.001"),
     ("8", "75", "14"), ("8.001", "75", None), ("8", "74.9", None)],
)  # fmt: skip
def test_gap_at_the_root(gap: str, thickness: str | None, leg: str | None) -> None:
    found = leg_with_gap(D(6), D(gap), "si", thickness=None if thickness is None else D(thickness))
    assert found.value == (None if leg is None else D(leg))


def test_throats() -> None:
    assert fillet_throat(D(10), D(10)).value == D("7.07")
    assert fillet_throat(D(3), D(4)).value == D("2.4")
    at_60 = skewed_throat(inch("3/8"), D(60), "us").value
    assert at_60 is not None
    assert abs(at_60 - inch("3/8")) < D("1e-20")
    assert skewed_throat(D(10), D(135), "si").value is not None
    assert skewed_throat(D(10), D("59.9"), "si").value is None
    assert skewed_throat(D(10), D("135.1"), "si").value is None
    gaps = [skewed_throat(D(10), D(60), "si", gap=D(gap)).value for gap in ("2", "2.1")]
    assert gaps[0] is not None
    assert gaps[1] is not None
    assert abs(gaps[0] - 10) < D("1e-20")
    assert abs(gaps[1] - D("7.9")) < D("1e-20")


@pytest.mark.parametrize(
    ("angle", "process", "position", "loss"),
    [("60", "111", "F", "0"), ("59.9", "111", "F", "3"), ("45", "111", "OH", "3"), ("44.9", "111", "F", "6"),
     ("30", "136", "V", "10"), ("29.9", "136", "V", None), ("50", "114", "H", "0"), ("40", "114", "H", "3"),
     ("40", "135", "F", "6"), ("40", "135", "V", None), ("50", "141", "F", None)],
)  # fmt: skip
def test_loss_on_the_acute_side(angle: str, process: str, position: str, loss: str | None) -> None:
    found = z_loss(D(angle), process, position, "si")
    assert found.value == (None if loss is None else D(loss))


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("category", ["A", "B", "C", "D"])
def test_every_cell_of_the_preheat_table(category: str, units: str) -> None:
    steel = {"A": "A36", "B": "A992", "C": "A572-65", "D": "A913-65"}[category]
    pair, set_ = SteelPair(Steel(grade=steel), Steel(grade=steel)), Units(units)
    ends = [size.mm(set_) for size in BANDS]
    for band, row in enumerate(MINIMA[category]):
        for thickness in ([ends[band]] if band < len(ends) else []) + ([ends[band - 1] + STEP] if band else []):
            ml = D(8) if category == "D" else None
            found = minimum_preheat(pair, thickness, "111", category != "A", units, hydrogen_ml=ml)
            assert found.category == category
            assert found.least == row.at_least(set_)


def test_the_least_preheat_is_met_by_its_own_fahrenheit_figure() -> None:
    pair = SteelPair(Steel(grade="A36"), Steel(grade="A36"))
    least = minimum_preheat(pair, inch("2-1/2"), "135", True, "us").least
    assert least is not None
    assert least <= fahrenheit(D(150))
    assert least > fahrenheit(D("149.99"))


def test_a_steel_without_category_is_for_the_engineer() -> None:
    pair = SteelPair(Steel(grade="A36"), Steel(grade="S355J2"))
    found = minimum_preheat(pair, D(20), "135", True, "si")
    assert found.least is None
    assert "Engineer" in found.because
    assert minimum_preheat(pair, D(20), "111", False, "si").least is None


def test_hydrogen_and_reading_decide_the_category_of_a913() -> None:
    pair = SteelPair(Steel(grade="A913-65"), Steel(grade="A913-65"))
    sure = {"hydrogen_ml": D("8.1")}
    assert minimum_preheat(pair, D(50), "111", True, "si").category == "C"
    assert minimum_preheat(pair, D(50), "111", True, "si", **sure).category == "C"  # type: ignore[arg-type]
    assert minimum_preheat(pair, D(50), "111", True, "si", hydrogen_ml=D(8)).category == "D"
    wide = {"aws_d1_1_prequalified_a913": "lenient"}
    found = minimum_preheat(pair, D(50), "111", True, "si", settings=wide)
    assert found.category == "B"
    assert found.readings


def test_a710_changes_category_at_two_inches() -> None:
    pair = SteelPair(Steel(grade="A710 Gr A Cl 2"), Steel(grade="A710 Gr A Cl 2"))
    assert minimum_preheat(pair, D(50), "111", True, "si").category == "C"
    assert minimum_preheat(pair, D("50.1"), "111", True, "si").category == "B"


def test_tacks_and_open_electrodes() -> None:
    assert all(rule.clause.ref == "5.17" for rule in tack_rules(BOOK_2015))
    assert any("Cracked" in rule.text for rule in tack_rules())
    hours = [exposure_hours(ksi).value for ksi in (70, 80, 90, 100, 60)]
    assert hours == [4, 2, 1, D("0.5"), None]
    assert exposure_hours(70, moisture_resistant=True).value == 9


@pytest.mark.parametrize(
    "call",
    [
        lambda: minimum_fillet((D(0), D(1)), "si", True),
        lambda: maximum_edge_fillet(D(-1), "si"),
        lambda: minimum_pjp_size((D(1), D(0)), "si", True),
        lambda: leg_with_gap(D(1), D(-1), "si"),
        lambda: minimum_preheat(SteelPair(Steel(), Steel()), D(0), "111", True, "si"),
        lambda: minimum_fillet((D(1), D(1)), "metric", True),
    ],
)
def test_impossible_figures_are_refused(call: object) -> None:
    with pytest.raises(ValueError):
        call()  # type: ignore[operator]


def test_a_gap_as_wide_as_the_leg_leaves_no_throat() -> None:
    """Skewed T-joints: the gap is taken from the leg, and with all of it gone there is no weld."""
    assert skewed_throat(D(5), D(90), "si", gap=D(5)).value is None
    assert skewed_throat(D(5), D(90), "si", gap=D("4.9")).value is not None


@pytest.mark.parametrize(("designation", "groups", "fits"), [
    ("E6010", ("I",), True), ("E7010-A1", ("I",), True), ("E7010-A1", ("II",), False), ("E7018", ("II",), True),
    ("E7010-A1", ("I", "II"), False),
])  # fmt: skip
def test_groups_that_ask_for_low_hydrogen(designation: str, groups: tuple[str, ...], fits: bool) -> None:
    """Table 5.4: Group II and higher ask for it, of two steels either one."""
    assert match(designation, groups).matches is fits
