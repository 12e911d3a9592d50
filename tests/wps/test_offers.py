"""What approved procedures offer on a day."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from codes.check import check
from codes.values import Interval, Steel, SteelPair
from codes.verdict import Outcome
from tests.wps.factory import approved, complete_draft
from wps import workflow
from wps.evidence import gate_facts
from wps.models import ProcedureRevision, TestRecord
from wps.offers import procedure_offers
from wps.window import AnyOf, SteelsWithin, allowed_of

DAY = date(2026, 3, 2)


@pytest.mark.parametrize(("on", "found"), [(date(2026, 3, 1), 0), (DAY, 1), (date(2036, 1, 1), 1)])
def test_in_force_from_the_day_of_approval(in_force: ProcedureRevision, on: date, found: int) -> None:
    assert len(procedure_offers(on)) == found


def test_the_day_of_the_end_belongs_to_the_next(
    in_force: ProcedureRevision, coordinator: Any, second_coordinator: Any
) -> None:
    approved(workflow.start_revision(in_force.procedure, coordinator), second_coordinator, date(2026, 4, 1))
    labels = [[offer.label for offer in procedure_offers(on)] for on in (date(2026, 3, 31), date(2026, 4, 1))]
    assert labels == [["WPS 001 rev A"], ["WPS 001 rev B"]]


def test_withdrawn_from_the_day_of_the_end(in_force: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.withdraw(in_force, second_coordinator, date(2026, 4, 1), "not needed")
    assert len(procedure_offers(date(2026, 3, 31))) == 1
    assert procedure_offers(date(2026, 4, 1)) == ()


def test_a_withdrawn_draft_offers_nothing(draft: ProcedureRevision, coordinator: Any) -> None:
    workflow.withdraw(draft, coordinator, DAY, "entered twice")
    assert procedure_offers(DAY) == ()


def test_an_offer(in_force: ProcedureRevision, record: TestRecord) -> None:
    (offer,) = procedure_offers(DAY)
    assert (offer.revision_id, offer.serves, offer.processes) == (in_force.pk, frozenset({"final"}), ("135",))
    assert offer.values["parent_t"] == Interval(Decimal(6), Decimal(24), "mm")
    assert offer.process_values["135"]["current"] == Interval(Decimal(220), Decimal(260), "A")
    (support,) = offer.records
    assert (support.record_id, support.label, len(support.sets)) == (record.pk, "WPQR 001", 1)
    assert offer.sets == support.sets
    assert support.sets[0].label == "WPQR 001"


def test_the_window_as_limits(in_force: ProcedureRevision) -> None:
    (offer,) = procedure_offers(DAY)
    joint = {"parent_t": (Decimal(10), Decimal(24)), "position": "PB"}
    limits = {limit.variable: limit for limit in offer.window.limits}
    assert str(limits["parent_t"].clause) == "WPS 001 rev A, range stated"
    found = {f.variable: f.outcome for f in check(joint, offer.window).findings}
    assert (found["parent_t"], found["position"]) == (Outcome.COVERED, Outcome.COVERED)
    found = {f.variable: f.outcome for f in check({"parent_t": Decimal("24.1")}, offer.window).findings}
    assert (found["parent_t"], found["position"]) == (Outcome.OUTSIDE, Outcome.NOT_STATED)


def test_queries_do_not_grow_with_procedures(
    in_force: ProcedureRevision, record: TestRecord, coordinator: Any, second_coordinator: Any
) -> None:
    for at in range(2, 6):
        approved(complete_draft(coordinator, [record], number=f"WPS 00{at}"), second_coordinator, DAY)
    with CaptureQueriesContext(connection) as queries:
        assert len(procedure_offers(DAY)) == 5
    assert len(queries) == 5  # the versions, then what is new


def test_a_requirement_met_serves_joints_without_it() -> None:
    assert str(allowed_of("impact_required", "yes")) == "yes, no"
    assert str(allowed_of("impact_required", "no")) == "no"
    assert str(allowed_of("impact_temperature", Decimal(-40))) == "from -40 °C"


def test_several_ranges() -> None:
    ranges = (Interval(Decimal(3), Decimal(6)), Interval(Decimal(8), Decimal(10)))
    allowed = allowed_of("parent_t", ranges)
    assert isinstance(allowed, AnyOf)
    assert allowed.admits(Decimal(6))
    assert not allowed.admits(Decimal(7))
    assert not allowed.admits(Interval(Decimal(5), Decimal(9)))
    assert allowed.margin(Decimal(7)) == Decimal(-1)


S355 = Steel("1.2", Decimal(355))


@pytest.mark.parametrize(
    ("asked", "fits"),
    [
        (Steel("1.2", Decimal(355), "S355J2"), True),
        (Steel("1.2", Decimal(356)), False),
        (Steel("1.3", Decimal(355)), False),
        (Steel("1.2"), False),
        (Steel("", Decimal(355)), False),
    ],
)
def test_steels_of_the_window(asked: Steel, fits: bool) -> None:
    allowed = SteelsWithin((SteelPair(S355, Steel("1.1", Decimal(275))),))
    other = Steel("1.1", Decimal(235))
    assert allowed.admits(SteelPair(asked, other)) is fits
    assert allowed.admits(SteelPair(other, asked)) is fits
    assert not allowed.admits(SteelPair(asked, asked))


def test_a_main_group_holds_its_sub_groups_and_a_grade_only_itself() -> None:
    main = SteelsWithin((SteelPair(Steel("1"), Steel("1")),))
    assert main.admits(SteelPair(Steel("1.2", Decimal(355)), Steel("1.1")))
    assert not main.admits(SteelPair(Steel("11.1"), Steel("1.1")))
    named = SteelsWithin((SteelPair(Steel(grade="S355J2+N"), Steel(grade="S355J2+N")),))
    assert named.admits(SteelPair(Steel("1.2", None, "s355j2+n"), Steel(grade="S355J2+N")))
    assert not named.admits(SteelPair(S355, S355))


P1, P8 = Steel("P-1 Gr 1", Decimal(250)), Steel("P-8 Gr 1", Decimal(205))
G11, G21, A36 = Steel("1.1", Decimal(275)), Steel("2.1", Decimal(460)), Steel(grade="A36")


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        (
            [(G11, G11), (S355, S355), (G11, S355)],
            "group 1.1 up to 275 MPa and group 1.2 up to 355 MPa, in any pairing",
        ),
        (
            [(S355, G11), (S355, S355), (G11, G11)],
            "group 1.2 up to 355 MPa and group 1.1 up to 275 MPa, in any pairing",
        ),
        ([(G11, G11), (G11, S355)], "group 1.1 up to 275 MPa on both sides; group 1.1 with group 1.2 up to 355 MPa"),
        (
            [(G11, G11), (S355, S355), (G11, S355), (G21, G21), (G21, S355)],
            "group 1.1 up to 275 MPa, group 1.2 up to 355 MPa and group 2.1 up to 460 MPa, each with itself; "
            "group 1.1 with group 1.2; group 2.1 with group 1.2",
        ),
        ([(S355, Steel("1.2", Decimal(275)))], "group 1.2 up to 355 MPa with group 1.2 up to 275 MPa"),
        ([(A36, A36)], "A36 on both sides"),
        ([(A36, A36), (A36, Steel(grade="A992")), (Steel(grade="A992"),) * 2], "A36 and A992, in any pairing"),
        ([(Steel("1.2", Decimal(355), "S355J2"),) * 2], "group 1.2 up to 355 MPa (S355J2) on both sides"),
        ([(Steel("P-1 Gr 1"),) * 2], "P-1 Gr 1 on both sides"),
        # A P-number stands for its steels whatever their yield, and a pair has no order.
        ([(Steel("P-1 Gr 1", Decimal(250), "A36"),) * 2], "P-1 Gr 1 (A36) on both sides"),
        ([(P1, P8), (P8, P1)], "P-1 Gr 1 with P-8 Gr 1"),
        ([(P1, replace(P1, yield_mpa=Decimal(290)))], "P-1 Gr 1 on both sides"),
        ([(P1, P1), (P8, P8), (P8, P1), (P1, P8)], "P-1 Gr 1 and P-8 Gr 1, in any pairing"),
        ([(S355, G11), (G11, S355)], "group 1.2 up to 355 MPa with group 1.1 up to 275 MPa"),
    ],
)
def test_pairs_of_steels_in_words(pairs: list[tuple[Steel, Steel]], words: str) -> None:
    assert str(SteelsWithin(tuple(SteelPair(*pair) for pair in pairs))) == words


@pytest.mark.parametrize(
    ("stated", "asked", "fits"),
    [
        ("P-1", "A36", True),
        ("P-1 Gr 1", "A36", True),
        ("P-1 Gr 1", "SA-516 Gr. 70", False),
        ("P-1 Gr 2", "SA-516 Gr. 70", True),
        ("P-1", "S355J2", False),
        ("P-3", "A36", False),
    ],
)
def test_a_window_by_p_number_holds_grades_of_that_number(stated: str, asked: str, fits: bool) -> None:
    """QW/QB-422, rows seen and from memory: A36 is P-1 Gr 1, SA-516 Gr. 70 is P-1 Gr 2; no EN grade is in a row."""
    grade = Steel("1.2", Decimal(250), asked)
    assert SteelsWithin((SteelPair(Steel(stated), Steel(stated)),)).admits(SteelPair(grade, grade)) is fits


@pytest.mark.parametrize(
    ("temperatures", "expected"), [(["-20"], Decimal(-20)), (["-40", "-20"], Decimal(-20)), ([], None)]
)
def test_impact_counts_at_the_warmest_test(temperatures: list[str], expected: Decimal | None) -> None:
    pieces = [{"impact_tested": "yes", "impact_temperature": t, "process": "135"} for t in temperatures]
    assert gate_facts(TestRecord(number="WPQR 9", pieces=pieces)).get("impact_tested_at") == expected


def test_a_temperature_without_a_test_is_no_fact() -> None:
    pieces = [{"impact_tested": "no", "impact_temperature": "-20"}]
    assert gate_facts(TestRecord(number="WPQR 9", pieces=pieces)) == {}


@pytest.mark.parametrize(("said", "fact"), [("accepted", "yes"), ("", None), ("not accepted", None), ("see 4", None)])
def test_an_extra_test_counts_where_it_was_accepted(said: str, fact: str | None) -> None:
    record = TestRecord(number="WPQR 9", results={"micro": said})
    assert gate_facts(record).get("micro_section") == fact


def test_a_single_figure_keeps_its_unit() -> None:
    assert str(allowed_of("leg_z", Decimal("6.35"))) == "6.35 mm"
