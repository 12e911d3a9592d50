"""AWS D1.1: wire feed in place of amperes, entries of one test piece, box tubes, and the days of what falls due."""

from datetime import date
from decimal import Decimal as D

import pytest

from codes.aws_d1_1_look_ups import leg_with_gap
from codes.check import best
from codes.clauses import Clause, Mark
from codes.editions import edition
from codes.limits import Limit
from codes.validity import Due
from tests.codes import aws_cases
from tests.codes.aws_people_asks import CODE as PEOPLE
from tests.codes.test_aws_d1_1_people_cases import BASES as PEOPLE_BASES
from tests.codes.us_people_cases import values

CODE = edition("AWS D1.1:2020")


@pytest.mark.parametrize(("base", "judged"), [("GMAW", True), ("FCAW", True), ("SAW", True), ("GTAW", False)])
def test_wire_feed_stands_in_for_amperes_where_the_table_has_its_line(base: str, judged: bool) -> None:
    """Table 6.5, line 17: wire feed within 10 % where it is the control; not a line of GTAW."""
    record = "current=; wire_feed=8000"
    sets = CODE.limit_sets(aws_cases.record_of(base, record), {})
    for feed, outcome in (("7200", "covered"), ("8800", "covered"), ("7199", "outside"), ("8801", "outside")):
        verdict = best(aws_cases.demand_of(base, record, f"current=; wire_feed={feed}"), sets)
        found = {f.variable: f.outcome.value for f in verdict.findings if f.variable in ("wire_feed", "current")}
        assert found == ({"wire_feed": outcome} if judged else {"current": "not stated"})


def test_entries_of_one_test_piece_share_what_they_leave_out() -> None:
    """6.8: one entry for each process or diameter; the piece's own facts are stated once."""
    second = (
        "piece=A; filler_diameter=1/16in; current=300; steels=; parent_t=; preheat=; pwht=; groove_type=; aws_position="
    )
    for other, stated in (("A", True), ("B", False)):
        record = f"piece={other}; parent_t=1in; aws_position=2G || {second}"
        (_, limits) = CODE.limit_sets(aws_cases.record_of("GMAW", record), {})
        allowed = {limit.variable: str(limit.allowed) for limit in limits.limits}
        assert ("unknown" not in allowed["aws_position"]) is stated
        assert ("unknown" not in allowed["steels"]) is stated


def limits_of(tested: str) -> dict[str, list[Limit]]:
    (limits,) = PEOPLE["welder"].limit_sets([values(PEOPLE_BASES["welder"][0], tested)], {})
    found: dict[str, list[Limit]] = {}
    for limit in limits.limits:
        found.setdefault(limit.variable, []).append(limit)
    return found


@pytest.mark.parametrize(
    ("position", "wall", "walls", "boxes_only"),
    [
        ("6GR", "1/2in", "from 4.7625 mm", True),
        ("6GR", "0.49in", "unknown", False),
        ("6G", "1/2in", "from 4.7625 mm", False),
        ("6G", "3/8in", "3.175 to 19.05 mm", False),
        ("6G", "0.376in", "from 4.7625 mm", False),
    ],
)
def test_walls_that_a_test_on_box_tube_covers(position: str, wall: str, walls: str, boxes_only: bool) -> None:
    """Table 10.13: T-Y-K tests of 1/2 in [12 mm] and more cover box sections only; others by their wall."""
    tested = f"product=pipe; box_section=yes; aws_position={position}; parent_t={wall}; progression=uphill"
    found = limits_of(tested)
    assert any(walls in str(limit.allowed) for limit in found["parent_t"]), [str(x.allowed) for x in found["parent_t"]]
    only = [
        limit for limit in found.get("box_section", ()) if limit.because == "T-Y-K test on box tube: box sections only"
    ]
    assert bool(only) is boxes_only


def test_what_falls_due_stands_from_its_first_day_to_its_last() -> None:
    """Convention of this register: both days included, and done from the day it was done on."""
    where = Clause("AWS D1.1:2020", "6.2.3", Mark.OWN, "convention of this register")
    due = Due("confirmation", date(2026, 7, 10), where, date(2026, 1, 10))
    found = [due.stands(date(2026, month, day)) for month, day in ((1, 9), (1, 10), (7, 10), (7, 11))]
    assert found == [False, True, True, False]
    done = Due("confirmation", date(2026, 7, 10), where, date(2026, 1, 10), date(2026, 3, 1))
    assert [done.stands(date(2026, *on)) for on in ((2, 28), (3, 1))] == [True, False]


@pytest.mark.parametrize(
    ("detail", "material", "asked", "asked_material", "outcome"),
    [
        ("ss_mb", "", "ss_mb", "steel", "covered"),
        ("ss_mb", "steel", "ss_mb", "steel", "covered"),
        ("ss_mb", "steel", "ss_mb", "copper", "outside"),
        ("ss_mb", "", "ss_mb", "copper", "outside"),
        ("ss_fb", "ceramic", "ss_fb", "ceramic", "covered"),
        ("ss_fb", "ceramic", "ss_fb", "copper", "outside"),
        ("ss_fb", "", "ss_fb", "ceramic", "not stated"),
        ("ss_nb", "", "ss_mb", "steel", "covered"),
        ("ss_nb", "", "ss_mb", "copper", "outside"),
    ],
)
def test_backing_other_than_steel_is_as_tested_only(
    detail: str, material: str, asked: str, asked_material: str, outcome: str
) -> None:
    """Table 6.5, line 34: steel backing may be added to any test; ceramic and copper need their own."""
    record = f"weld_detail={detail}; backing_material={material}; gouging=none"
    sets = CODE.limit_sets(aws_cases.record_of("GMAW", record), {})
    demand = f"weld_detail={asked}; backing_material={asked_material}; gouging=none"
    verdict = best(aws_cases.demand_of("GMAW", record, demand), sets)
    found = {f.outcome.value for f in verdict.findings if f.variable == "backing_material"}
    worst = next(one for one in ("outside", "not stated", "covered") if one in found)
    assert worst == outcome, [f.sentence for f in verdict.findings if f.variable == "backing_material"]


def test_a_root_without_a_gap_is_no_mistake_and_a_negative_one_is() -> None:
    """7.21.1: up to 1/16 in [2 mm] is free, and so is none."""
    assert leg_with_gap(D(6), D(0), "si").value == 6
    with pytest.raises(ValueError, match="0 or more"):
        leg_with_gap(D(6), D("-0.1"), "si")
