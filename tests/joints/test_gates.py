"""The gates of EN 1090-2 on a joint: age and route of the record, coordinator, length of tacks."""

from dataclasses import replace
from datetime import date
from decimal import Decimal as D

import pytest

from codes.verdict import Outcome
from joints.coverage import answer
from joints.demands import JointDemand, Requirements
from tests.joints.makers import CODE, ON, certificate, demand, joint_demand, procedure, record

USED = {"last_used_on": date(2026, 9, 1)}
FACTS = {"over_primer": "no", "deep_penetration": "no", "heat_controlled": "no", "coordinator_level": "C"}


def joint(facts=FACTS, tack_length: D | None = D(50), standard: str = "EN 1090-2:2018", **changes) -> JointDemand:
    made = demand(execution_class="EXC2", impact_required="no", hardness_required="no", pwht="no", **changes)
    return replace(joint_demand(made), requirements=Requirements(CODE, standard, facts), tack_length=tack_length)


def ask(asked: JointDemand, **facts):
    return answer(asked, (procedure("WPS 1 rev A", record("WPQR 1", **(USED | facts))),), (certificate(),), ON)


def test_all_gates_open() -> None:
    assert ask(joint()).outcome is Outcome.COVERED


def test_an_unknown_application_standard_covers_nothing() -> None:
    assert ask(joint(standard="EN 1090-2:1998")).outcome is Outcome.NOT_STATED


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({"level": 2}, Outcome.COVERED),
        ({"level": 1}, Outcome.OUTSIDE),
        ({"level": None}, Outcome.NOT_STATED),
        ({"route": "pre_production"}, Outcome.COVERED),
        ({"route": ""}, Outcome.NOT_STATED),
        ({"last_used_on": date(2023, 11, 25)}, Outcome.COVERED),
        ({"last_used_on": date(2023, 11, 24)}, Outcome.NOT_STATED),
        ({"last_used_on": None}, Outcome.NOT_STATED),
        ({"last_used_on": None, "welded_on": date(2024, 5, 1)}, Outcome.COVERED),
    ],
)
def test_what_the_standard_asks_of_a_record(facts, expected: Outcome) -> None:
    assert ask(joint(), **facts).outcome is expected


@pytest.mark.parametrize(
    ("length", "expected"),
    [(D(50), Outcome.COVERED), (D("49.9"), Outcome.OUTSIDE), (None, Outcome.NOT_STATED)],
)
def test_the_shortest_tack_on_parts_of_12_and_20_mm(length: D | None, expected: Outcome) -> None:
    found = ask(joint(tack_length=length))
    assert found.tack.outcome is expected
    assert found.final.outcome is Outcome.COVERED


@pytest.mark.parametrize(("length", "expected"), [(D(40), Outcome.COVERED), (D("39.9"), Outcome.OUTSIDE)])
def test_four_times_the_thicker_part_is_enough_on_thin_parts(length: D, expected: Outcome) -> None:
    assert ask(joint(tack_length=length, parent_t=(D(8), D(10)))).tack.outcome is expected


@pytest.mark.parametrize(
    ("level", "t", "expected"),
    [
        ("B", D(25), Outcome.COVERED),
        ("B", D("25.1"), Outcome.OUTSIDE),
        ("S", D("25.1"), Outcome.COVERED),
        (None, D(12), Outcome.NOT_STATED),
    ],
)
def test_the_coordinators_knowledge(level: str | None, t: D, expected: Outcome) -> None:
    facts = {k: v for k, v in (FACTS | {"coordinator_level": level}).items() if v is not None}
    found = ask(joint(facts, parent_t=t))
    assert found.final.outcome is expected
    if expected is not Outcome.COVERED:
        assert "place:coordinator_level" in found.final.reasons
