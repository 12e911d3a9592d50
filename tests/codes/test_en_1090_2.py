"""EN 1090-2, both editions, against the case table; the tables that a coordinator looks up."""

from decimal import Decimal as D

import pytest

from codes.bulk import Compiled
from codes.check import best
from codes.clauses import Mark
from codes.editions import edition
from codes.en_1090_2_2018 import (
    coordinator_level_needed,
    execution_class_for,
    first_joints_share,
    hold_hours,
    iso_3834_part,
    ndt_share,
    quality_level,
    revalidation_options,
    tack_minimum_length,
)
from codes.en_1090_2_2018.figures import ALL, FIGURES_2008, FIGURES_2018
from codes.en_1090_2_2018.inspection import NDT_ROWS, fillet_kind
from codes.parse import parse_values
from codes.steels import steel_of
from codes.terms import tokens
from codes.values import Steel, SteelPair
from tests.codes.cases_of import over, rows

CODES = {"2018": edition("EN 1090-2:2018"), "2008": edition("EN 1090-2:2008+A1:2011")}
NAMES = ("a tack of", "age of the record: ", "coordinator: ", "extra tests: ", "qualification method: ")
"""What a gate says first: which it is."""
FACTS = {
    "qualification_route": "procedure_test",
    "level": "2",
    "last_used_on": "2026-06-01",
    "impact_tested_at": "-20",
    "micro_section": "yes",
    "primer_tested": "30",
    "cruciform_tested": "yes",
    "penetration_proven": "yes",
    "coordinator_level": "C",
    "tack_length": "50",
}
JOINT = {
    "execution_class": "EXC2",
    "parent_t": "10",
    "weld_type": "butt_cjp",
    "throat_a": "5",
    "mechanisation": "partly_mechanised",
    "phase": "final",
    "on": "2026-11-25",
    "transverse_load": "no",
    "over_primer": "no",
    "deep_penetration": "no",
    "impact_required": "no",
    "hardness_required": "no",
    "heat_controlled": "no",
    "pwht": "no",
}
ROWS = rows("en_1090_2")


def _asked(row: dict[str, str], settings: dict[str, str] | None = None):
    demand = over(JOINT, row["demand"])
    if row["grade"]:
        steel = steel_of(row["grade"])
        demand["steels"] = SteelPair(steel, steel)
    return demand, CODES[row["edition"]].limit_sets([over(FACTS, row["given"])], settings or {})


def _verdict(row: dict[str, str], settings: dict[str, str] | None = None):
    return best(*_asked(row, settings))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_case(row: dict[str, str]) -> None:
    verdict = _verdict(row)
    assert verdict.outcome.value == row["expect"], verdict.sentence
    # Where a fact is missing that several gates read, the table names the gate it is about.
    found = set(verdict.reasons)
    if row["id"] in ("G81", "G82"):
        assert row["reasons"] in found
    else:
        assert "+".join(sorted(found)) == row["reasons"]


@pytest.mark.parametrize("row", [r for r in ROWS if r["expect"] == "outside"], ids=lambda row: row["id"])
def test_a_gate_that_fails_is_named(row: dict[str, str]) -> None:
    assert _verdict(row).worst[0].because.startswith(NAMES)


def test_the_table_cites_a_clause_mark_and_source_in_each_row() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["clause"] and row["mark"] and row["source"] for row in ROWS)


def test_the_bulk_answer_is_the_explained_one() -> None:
    for row in ROWS:
        demand, sets = _asked(row)
        covered, outside = Compiled(sets).masks(demand)
        assert (bool(covered), bool(outside)) == (row["expect"] == "covered", row["expect"] == "outside"), row["id"]


def _row(given: str, grade: str, demand: str, edition_key: str = "2018") -> dict[str, str]:
    return {"given": given, "grade": grade, "demand": demand, "edition": edition_key}


@pytest.mark.parametrize(
    ("settings", "row", "outcome"),
    [
        ({"en_1090_swps_cap": "S460"}, _row("qualification_route=standard_procedure", "S460N", ""), "covered"),
        ({"en_1090_swps_cap": "S460"}, _row("qualification_route=standard_procedure", "S500Q", ""), "outside"),
        (
            {"en_1090_machine_routes": "wide"},
            _row("qualification_route=experience", "S355J2", "mechanisation=automatic"),
            "covered",
        ),
        # The edition of 2008 states the rule, so the switch does not reach it.
        (
            {"en_1090_machine_routes": "wide"},
            _row("qualification_route=experience", "S275J2", "mechanisation=automatic", "2008"),
            "outside",
        ),
    ],
)
def test_readings(settings: dict[str, str], row: dict[str, str], outcome: str) -> None:
    assert _verdict(row, settings).outcome.value == outcome


def test_the_strict_reading_stands_in_the_verdict() -> None:
    verdict = _verdict(_row("qualification_route=experience", "S355J2", "mechanisation=automatic"))
    assert any("en_1090_machine_routes" in line and "strict" in line for line in verdict.readings)


def test_a_condition_names_the_test_that_would_do() -> None:
    verdict = _verdict(_row("last_used_on=2024-11-25", "S460N", ""))
    assert verdict.worst[0].needs.startswith("a production weld test")
    verdict = _verdict(_row("last_used_on=2023-05-25", "S355J2", ""))
    assert "macro" in verdict.worst[0].needs


def test_an_unknown_yield_is_not_stated_never_covered() -> None:
    demand = over(JOINT, "") | {"steels": SteelPair(Steel("1.2"), Steel("1.2"))}
    verdict = best(demand, CODES["2018"].limit_sets([over(FACTS, "")], {}))
    assert verdict.outcome.value == "not stated"
    assert "specified yield strength" in verdict.worst[0].needs


def test_dissimilar_joints_are_judged_by_the_stronger_side() -> None:
    mixed = SteelPair(steel_of("S355J2"), steel_of("S460N"))
    demand = over(JOINT, "weld_type=fillet; transverse_load=yes") | {"steels": mixed}
    verdict = best(demand, CODES["2018"].limit_sets([over(FACTS, "cruciform_tested=no")], {}))
    assert verdict.reasons == ("cruciform_test",)


def test_every_route_has_a_row_in_both_editions() -> None:
    for figures in (FIGURES_2018, FIGURES_2008):
        assert {row.route for row in figures.methods} == set(tokens("qualification_route"))


def test_every_field_and_demand_is_a_known_variable() -> None:
    code = CODES["2018"]
    assert parse_values(dict.fromkeys([*(f.name for f in code.fields), *code.demand], "")) == {}


@pytest.mark.parametrize(
    ("t", "shortest"), [("0.1", "0.4"), ("10", "40"), ("12.4", "49.6"), ("12.5", "50"), ("12.6", "50"), ("20", "50")]
)
def test_tack_minimum_length(t: str, shortest: str) -> None:
    assert tack_minimum_length(D(t)) == D(shortest)


@pytest.mark.parametrize(
    ("execution_class", "grade", "t", "level"),
    [
        ("EXC1", "S690QL", "100", ""),
        ("EXC2", "S355J2", "25", "B"),
        ("EXC2", "S355J2", "25.1", "S"),
        ("EXC2", "S355J2", "50", "S"),
        ("EXC2", "S355J2", "50.1", "C"),
        ("EXC2", "S355J0W", "25", "B"),
        ("EXC2", "S420N", "25", "S"),
        ("EXC2", "S420N", "25.1", "C"),
        ("EXC3", "S355J2", "25", "S"),
        ("EXC3", "S355J2", "25.1", "C"),
        ("EXC3", "S420N", "1", "C"),
        ("EXC4", "S235JR", "1", "C"),
    ],
)
def test_coordinator_level_needed(execution_class: str, grade: str, t: str, level: str) -> None:
    assert coordinator_level_needed(execution_class, steel_of(grade), D(t)) == level


@pytest.mark.parametrize(
    ("execution_class", "steel", "t", "says"),
    [
        ("EXC2", Steel("8.1", D(220)), "10", "structural carbon"),
        ("EXC2", Steel(), "10", "structural carbon"),
        ("EXC5", Steel("1.2", D(355)), "10", "not an execution class"),
        ("EXC2", Steel("1.2", D(355)), "0", "more than 0"),
    ],
)
def test_coordinator_level_refuses(execution_class: str, steel: Steel, t: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        coordinator_level_needed(execution_class, steel, D(t))


def test_quality_parts_and_classes() -> None:
    assert [quality_level(one).level for one in ALL] == ["D", "C", "B", "B"]
    assert len(quality_level("EXC2").milder) == 5
    assert quality_level("EXC4").stricter and not quality_level("EXC3").stricter
    assert [iso_3834_part(one).value[-1] for one in ALL] == ["4", "3", "2", "2"]
    assert execution_class_for("CC2", fatigue=False).value == "EXC2"
    assert execution_class_for("CC2", fatigue=True).value == "EXC3"
    assert execution_class_for("CC1", fatigue=False).value == "EXC1"
    assert execution_class_for("CC3", fatigue=True).value == "EXC3"
    assert revalidation_options("EXC1", "ISO 3834-4") == ("a", "b")
    assert revalidation_options("EXC1", "3") == revalidation_options("EXC2", "4") == ("a", "b", "c")


@pytest.mark.parametrize("ask", [quality_level, iso_3834_part, lambda one: revalidation_options(one, "2")])
def test_an_unknown_class_is_refused(ask) -> None:
    with pytest.raises(ValueError, match="use EXC1"):
        ask("EXC9")
    with pytest.raises(ValueError, match="consequence class"):
        execution_class_for("CC4", fatigue=False)


def test_shares_of_inspection() -> None:
    assert [ndt_share("butt_tee", one).percent for one in ALL] == [0, 5, 10, 50]
    assert ndt_share("butt_transverse", "EXC4").clause.mark is Mark.DOUBT
    assert ndt_share("butt_low_use", "EXC3", FIGURES_2008).percent == 10
    with pytest.raises(ValueError, match="not a kind of weld of EN 1090-2:2018"):
        ndt_share("butt_low_use", "EXC3")
    with pytest.raises(ValueError, match="not an execution class"):
        ndt_share("butt_tee", "EXC0")
    for row in NDT_ROWS:
        assert list(row.shares) == sorted(row.shares)
    assert [first_joints_share(p) for p in (0, 2, 5, 20, 50, 51, 100)] == [5, 5, 10, 40, 100, 100, 100]


@pytest.mark.parametrize(
    ("throat", "t", "figures", "kind"),
    [
        ("12", "30", FIGURES_2018, "fillet_small"),
        ("12.1", "30", FIGURES_2018, "fillet_large"),
        ("12", "30.1", FIGURES_2018, "fillet_large"),
        ("12", "20", FIGURES_2008, "fillet_small"),
        ("12", "20.1", FIGURES_2008, "fillet_large"),
    ],
)
def test_large_fillets(throat: str, t: str, figures, kind: str) -> None:
    assert fillet_kind(D(throat), D(t), figures) == kind


@pytest.mark.parametrize(
    ("size", "heat", "yield_mpa", "hours"),
    [
        ("6", "9", 355, 0),
        ("6", "9", 460, 24),
        ("6.1", "3", 420, 8),
        ("6.1", "3.1", 420, 16),
        ("12", "3", 460, 24),
        ("12", "3.1", 460, 40),
        ("12.1", "3", 355, 16),
        ("12.1", "3", 460, 40),
        ("12.1", "3.1", 355, 40),
        ("12.1", "3.1", 421, 48),
    ],
)
def test_hold_hours(size: str, heat: str, yield_mpa: int, hours: int) -> None:
    assert hold_hours(D(size), D(heat), D(yield_mpa)).hours == hours


def test_hold_hours_refuses_nought() -> None:
    with pytest.raises(ValueError, match="more than 0"):
        hold_hours(D(0), D(1), D(355))
    with pytest.raises(ValueError, match="more than 0"):
        tack_minimum_length(D(0))
