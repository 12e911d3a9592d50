"""ISO 15614-1:2017 as an edition: its fields and demand are complete, several pieces, bulk answers, bad values."""

from decimal import Decimal as D
from functools import cache

import pytest

from codes.bulk import Compiled
from codes.check import check
from codes.cover import uncovered
from codes.editions import edition
from codes.iso_15614_1_2017 import CLAUSE_GROUPS, EDITIONS, SWITCHES, limit_sets
from codes.iso_15614_1_2017.piece import SHARED
from codes.limits import Limit
from codes.parse import BadField
from codes.values import Interval
from codes.variables import VARIABLES
from codes.verdict import Outcome
from tests.codes.procedure_cases import BASES, TESTED, demand_of, record_of, rows, settings_of, values

THIS = EDITIONS[0]
ROWS = rows()


@cache
def every_limit() -> list[Limit]:
    return [limit for row in ROWS for ls in limit_sets(record_of(row), settings_of(row)) for limit in ls.limits]


def test_found_under_its_names() -> None:
    for name in ("ISO 15614-1:2017", "EN ISO 15614-1:2017", "iso 15614-1:2017+A1:2019"):
        assert edition(name) is THIS


def test_demand_names_every_variable_that_a_limit_or_condition_reads() -> None:
    read = {name for limit in every_limit() for name in (limit.variable, *(when.variable for when in limit.when))}
    assert read - {"hardness_hv10"} == set(THIS.demand)


def test_every_field_is_a_variable_and_named_once() -> None:
    names = [field.name for field in THIS.fields]
    assert set(names) <= set(VARIABLES)
    assert len(set(names)) == len(names)
    assert set(THIS.recorded_only) <= set(names)
    assert set(SHARED) <= set(names)


def test_every_demand_variable_but_requirements_is_a_field_of_the_record() -> None:
    asked_only = {"impact_required", "hardness_required"}
    assert set(THIS.demand) - asked_only <= {field.name for field in THIS.fields}


def test_every_switch_has_cases_in_both_readings() -> None:
    used = [settings_of(row) for row in ROWS if row["settings"]]
    for switch in SWITCHES:
        options = {settings[switch.key] for settings in used if switch.key in settings} | {switch.default}
        assert options == set(switch.options)
        assert any(switch.used({}) in limit.readings for limit in every_limit()), switch.key


@pytest.mark.parametrize("base", BASES)
def test_every_base_covers_itself(base: str) -> None:
    row = {"base": base, "record": "", "demand": "", "settings": ""}
    (limits,) = limit_sets(record_of(row), {})
    assert check(demand_of(row), limits).sentence == "Covered by process " + str(BASES[base]["process"]) + "."


@pytest.mark.parametrize("base", BASES)
def test_no_variable_left_out_of_a_record_lets_it_cover_more(base: str) -> None:
    """A field that is missing answers 'not stated' or leaves the answer as it was; it never opens the record."""
    row = {"base": base, "record": "", "demand": "", "settings": ""}
    outside = [
        "parent_t=90; throat_a=90", "steels=3.2 890", "position=PG", "mechanisation=automatic", "heat_input=9",
        "impact_required=yes; parent_t=14", "hardness_required=yes", "interpass=300", "preheat=5",
    ]  # fmt: skip
    full = record_of(row)[0]
    for change in outside:
        demand = demand_of(row | {"demand": change})
        before = check(demand, limit_sets([full], {})[0]).outcome
        for name in full:
            less = {key: value for key, value in full.items() if key != name}
            after = check(demand, limit_sets([less], {})[0]).outcome
            assert not (after is Outcome.COVERED and before is not Outcome.COVERED), (change, name)


def test_bulk_gives_the_same_answers() -> None:
    sets = [ls for row in ROWS[::4] for ls in limit_sets(record_of(row), settings_of(row))]
    compiled = Compiled(sets)
    for row in ROWS[::9]:
        demand = demand_of(row)
        covered, outside = compiled.masks(demand)
        for i, limits in enumerate(sets):
            outcome = check(demand, limits).outcome
            assert (covered >> i & 1, outside >> i & 1) == (outcome is Outcome.COVERED, outcome is Outcome.OUTSIDE)


def test_processes_of_one_piece_share_what_the_piece_has_in_common() -> None:
    root = values(BASES["butt 141"] | TESTED | {"piece": "A", "place": "root", "deposit_t": 4, "parent_t": 20})
    fill = {
        name: value
        for name, value in values(BASES["butt 135"] | TESTED | {"piece": "A", "place": "fill", "deposit_t": 16}).items()
        if name not in SHARED
    }
    first, second = limit_sets([root, fill], {})
    assert (first.label, second.label) == ("piece A, process 141 (root)", "piece A, process 135 (fill)")
    demand = demand_of({"base": "butt 135", "record": "", "demand": "parent_t=10..40; place=fill; deposit_t=32"})
    assert check(demand, second).outcome is Outcome.COVERED
    assert check(demand | {"deposit_t": D(33)}, second).outcome is Outcome.OUTSIDE


def test_two_records_cover_a_window_together() -> None:
    thin, thick = ({"base": "butt 135", "record": f"parent_t={t}", "demand": ""} for t in (8, 20))
    sets = [*limit_sets(record_of(thin), {}), *limit_sets(record_of(thick), {})]
    window = demand_of(thin) | {"parent_t": Interval(D(3), D(40), "mm")}
    assert uncovered(window, sets) == ()
    (left,) = uncovered(window | {"parent_t": Interval(D(3), D(41), "mm")}, sets)
    assert str(left.demand["parent_t"]) == "above 40 to 41 mm"


@pytest.mark.parametrize(
    ("record", "field"),
    [("level=3", "level"), ("parent_t=0", "parent_t"), ("steels=1.2 355|2.1 420", "steels")],
)
def test_a_value_no_test_piece_can_have_is_refused(record: str, field: str) -> None:
    row = {"base": "butt 135", "record": record, "demand": ""}
    with pytest.raises(BadField) as bad:
        limit_sets(record_of(row), {})
    assert bad.value.field == field


def test_every_limit_of_a_record_is_cited_and_explained() -> None:
    for limit in every_limit():
        assert limit.clause.standard == "ISO 15614-1:2017" and limit.clause.ref
        assert limit.because or str(limit.allowed).startswith("unknown"), limit


def test_clause_groups_are_all_asked() -> None:
    assert len({group.__name__ for group in CLAUSE_GROUPS}) == 15


@pytest.mark.parametrize("record", ["", "weld_type=fillet; joint_type=tee; throat_a=6"])
def test_a_fillet_weld_need_not_state_what_only_butt_welds_have(record: str) -> None:
    row = {"base": "butt 135", "record": record, "demand": "weld_type=fillet; throat_a=6; joint_type="}
    demand = demand_of(row)
    for name in ("weld_detail", "gouging", "backing_gas", "backing_stays", "impact_temperature", "diameter", "place"):
        demand.pop(name, None)
    (limits,) = limit_sets(record_of(row), {})
    assert check(demand, limits).outcome is Outcome.COVERED, check(demand, limits).sentence


def test_a_tolerance_of_temperature_is_said_with_its_unit() -> None:
    """8.4.8 and 8.4.9: 50 °C off the tested one; 8.4.11: 20 °C either way."""
    said = {limit.variable: set[str]() for limit in every_limit()}
    for limit in every_limit():
        said[limit.variable].add(limit.because)
    for variable, words in (
        ("preheat", "50 °C below it at the lowest"),
        ("interpass", "50 °C more at most"),
        ("pwht_temperature", "20 °C either way"),
    ):
        assert any(words in because for because in said[variable]), variable
        assert not any(" degrees" in because for because in said[variable])


def test_a_butt_test_lends_its_deposited_thickness_as_the_throat_of_the_table() -> None:
    """8.3.2, Table 8 is in a: what is tested as s says that it counts as a."""
    said = [limit.because for limit in every_limit() if "0.75 a to 1.5 a" in limit.because]
    assert any(because.startswith("tested a = ") for because in said)
    lent = [because for because in said if because.startswith("tested s = ")]
    assert lent
    assert all(", counted as the throat a, single run: 0.75 a to 1.5 a" in because for because in lent)


@pytest.mark.parametrize(
    ("pipe", "allowed"),
    [
        ("diameter=; position=PB; rotated=no", "above 500 mm"),
        ("diameter=; position=PF; rotated=yes", "above 500 mm"),
        ("diameter=100; position=PB; rotated=no", "above 500 mm"),
        ("diameter=; position=PA; rotated=yes", "above 150 mm"),
        ("diameter=150; position=PC; rotated=yes", "above 150 mm"),
    ],
)
def test_the_first_finding_on_a_pipe_from_a_plate_test_names_the_diameter_that_counts(pipe: str, allowed: str) -> None:
    """8.3.3, Table 9: the smaller limit alone is named only where the pipe is rotated in PA or PC."""
    row = {"base": "butt 135", "record": "", "demand": f"product=pipe; {pipe}", "settings": ""}
    (limits,) = limit_sets(record_of(row), {})
    first = check(demand_of(row), limits).findings[0]
    assert (first.variable, first.allowed) == ("diameter", allowed)
