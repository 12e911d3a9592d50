"""Edges of limits that stand alone, and marks of findings that rest on several rows: the least sure row is named."""

from decimal import Decimal as D

import pytest

from codes.aws_positions import letters
from codes.check import best
from codes.clauses import Mark
from codes.editions import edition
from codes.iso_9606_1_2012.weld_type import LEAST_BRANCH_ANGLE, MOST_BRANCH_ANGLE
from codes.iso_15614_1_2017.steels import BackingSteels, GroupPairs
from codes.iso_15614_1_2017.temperatures import NO_INTERPASS_TOLERANCE
from codes.limits import Free, Nothing, Unrecorded
from codes.values import Interval, Steel, SteelPair, Value
from codes.wps_lists import fields_of
from tests.codes import aws_cases, aws_people_asks, test_asme_ix_people_tables
from tests.codes.procedure_cases import verdict_of
from tests.codes.test_iso_9606_1_2012_ranges import BUTT, ask


@pytest.mark.parametrize(("angle", "reasons"), [("59.9", ("branch_angle",)), ("60", ()), ("90", ()),
                                                ("90.1", ("branch_angle",))])  # fmt: skip
def test_branches_from_a_butt_test_on_pipe(angle: str, reasons: tuple[str, ...]) -> None:
    """ISO 9606-1, 5.4 c: 60 degrees and more; the acute angle of a branch is 90 degrees at most."""
    pipe: dict[str, Value] = BUTT | {"product": "pipe", "diameter": D(100), "position": "PH"}
    assert ask(pipe, weld_type="branch", branch_angle=D(angle)).reasons == reasons
    assert (LEAST_BRANCH_ANGLE, MOST_BRANCH_ANGLE) == (60, 90)


def test_each_road_of_aws_cites_the_table_that_lists_its_variables() -> None:
    """By test Table 6.5 of 2020, prequalified Table 5.2."""
    for prequalified, table in ((False, "Table 6.5"), (True, "Table 5.2")):
        process = next(one for one in fields_of("AWS D1.1:2020", prequalified=prequalified) if one.name == "process")
        assert table in process.ref


@pytest.mark.parametrize(("tested", "mark"), [("aws_position=2G", Mark.CONFIRMED), ("aws_position=2G; product=pipe; "
                                               "diameter=323.9; parent_t=12.7", Mark.MEMORY)])  # fmt: skip
def test_a_position_of_people_carries_the_mark_of_its_row(tested: str, mark: Mark) -> None:
    """AWS D1.1, Table 6.10 was seen in full; of Table 10.12 only the rows of 4F and 5F."""
    found = aws_people_asks.ask(tested, "aws_position=1G")
    assert {f.mark for f in found.findings if f.variable == "aws_position"} == {mark}


@pytest.mark.parametrize(("position", "mark"), [("5G", Mark.CONFIRMED), ("6G", Mark.MEMORY)])
def test_a_position_of_asme_people_carries_the_mark_of_its_row(position: str, mark: Mark) -> None:
    """QW-461.9: pipe 5G was seen, 6G is from memory."""
    tested = f"product=pipe; diameter=100; aws_position={position}"
    found = test_asme_ix_people_tables.ask(tested, "product=pipe; diameter=100; aws_position=1G")
    assert {f.mark for f in found.findings if f.variable == "aws_position"} == {mark}


@pytest.mark.parametrize(
    ("position", "kind", "answers"),
    [
        ("6GR", "branch", {"covered", "not stated"}),
        ("6GR", "butt_cjp", {"covered"}),
        ("6G", "branch", {"outside"}),
        ("6G", "butt_cjp", {"covered"}),
    ],
)
def test_tubular_connections_are_never_covered_without_a_look_at_their_conditions(
    position: str, kind: str, answers: set[str]
) -> None:
    """AWS D1.1, Table 6.1: CJP in T-, Y- and K-connections by 6GR only, under the conditions of the tubular clause."""
    pipe = f"product=pipe; diameter=12in; parent_t=1/2in; progression=uphill; aws_position={position}"
    sets = edition("AWS D1.1:2020").limit_sets(aws_cases.record_of("SMAW", pipe), {})
    verdict = best(aws_cases.demand_of("SMAW", pipe, f"weld_type={kind}"), sets)
    assert {f.outcome.value for f in verdict.findings if f.variable == "weld_type"} == answers


@pytest.mark.parametrize(("run", "throat", "reasons"), [("multi_run", "20", set()), ("single_run", "20", {"throat"}),
                                                        ("single_run", "9", set())])  # fmt: skip
def test_a_fillet_of_several_runs_read_as_free_binds_the_throat_of_single_runs_only(
    run: str, throat: str, reasons: set[str]
) -> None:
    """ISO 15614-1, Table 8: throats of several runs are free; of one run 0.75 a to 1.5 a, here 4.5 to 9 mm."""
    row = {"base": "fillet 135", "record": "throat_a=6", "demand": f"run_type={run}; throat_a={throat}"}
    verdict = verdict_of(row | {"settings": "run type=lenient"})
    assert {f.reason for f in verdict.findings if f.outcome.value == "outside" and f.variable == "throat_a"} == reasons


@pytest.mark.parametrize(
    ("mechanisation", "angle", "value", "fails"),
    [
        ("partly_mechanised", "between", "40", False),
        ("partly_mechanised", "between", "40.1", True),
        ("fully_mechanised", "between", "40.1", True),
        ("partly_mechanised", "along", "3.1", False),
        ("fully_mechanised", "along", "3", False),
        ("fully_mechanised", "along", "3.1", True),
        ("automatic", "across", "5.1", True),
        ("partly_mechanised", "across", "5.1", False),
    ],
)
def test_angles_of_submerged_arc_electrodes(mechanisation: str, angle: str, value: str, fails: bool) -> None:
    """AWS D1.1, Table 6.5, line 24: ±10° between electrodes; lines 25 and 26: ±3° and ±5°, by machine only."""
    record = (
        f"electrodes=2; wire_system=twin; electrode_angle_between=30; arc_spacing_along=20; arc_spacing_across=10; "
        f"mechanisation={mechanisation}"
    )
    sets = edition("AWS D1.1:2020").limit_sets(aws_cases.record_of("SAW", record), {})
    verdict = best(aws_cases.demand_of("SAW", record, f"electrode_angle_{angle}={value}"), sets)
    outside = {f.variable for f in verdict.findings if f.outcome.value == "outside"}
    assert (f"electrode_angle_{angle}" in outside) is fails


def test_letters_of_positions_in_their_customary_order() -> None:
    """AWS A3.0: flat, horizontal, vertical, overhead."""
    assert letters({"V", "F"}) == "F, V"
    assert letters({"OH", "H", "V", "F"}) == "F, H, V, OH"
    assert letters(()) == ""


def test_a_test_steel_without_a_group_covers_nothing() -> None:
    """ISO 15614-1, 8.3.1: a steel that is assigned to no group needs its own test."""
    for tested in (
        SteelPair(Steel(), Steel()),
        SteelPair(Steel("1.2", D(355)), Steel()),
        SteelPair(Steel("10"), Steel()),
    ):
        assert GroupPairs(tested).fits(SteelPair(Steel("1.2", D(355)), Steel("1.1", D(235)))) is False
        assert not BackingSteels(tested, True).admits(SteelPair(*[Steel("1.2", D(355))] * 2))


def test_what_is_free_admits_all_and_what_is_unknown_or_refused_nothing() -> None:
    """Conventions of this register: free needs no word of the demand, an unrecorded field covers nothing."""
    for atom in ("PA", D(3), Interval(D(1), D(2)), SteelPair(Steel(), Steel())):
        assert Free().admits(atom)
        assert not Nothing().admits(atom)
        assert not Unrecorded("the position").admits(atom)


def test_groups_without_a_tolerance_of_interpass_temperature() -> None:
    """ISO 15614-1, 8.4.9: no 50 degrees more for stainless and duplex steels (8, 10) and nickel alloys (41 to 48)."""
    assert sorted(NO_INTERPASS_TOLERANCE) == [8, 10, *range(41, 49)]


def test_positions_that_rest_on_a_seen_and_a_remembered_row_carry_the_weaker_mark() -> None:
    """AWS D1.1, Table 10.12: the row of 4F was seen, that of 2F is from memory."""
    tested = "weld_type=fillet; product=pipe; diameter=100; parent_t=8; aws_position={}; progression="
    for positions, mark in (("4F", Mark.CONFIRMED), ("4F+2F", Mark.MEMORY)):
        found = aws_people_asks.ask(
            tested.format(positions), "weld_type=fillet; product=pipe; diameter=100; aws_position=1F"
        )
        assert {f.mark for f in found.findings if f.variable == "aws_position"} == {mark}
