"""Which execution classes accept a record on a day: route, level and age, each at its edges."""

from datetime import date
from typing import Any

import pytest

from codes.verdict import Outcome
from tests.wps.factory import make_record
from tests.wps.iso import iso_record
from tests.wps.us import AWS, us_record
from wps.acceptance import acceptance, route_scope, unused_for
from wps.models import TestRecord

TESTED = date(2024, 5, 6)
SOON = date(2024, 6, 1)
COVERED, OUTSIDE, OPEN = Outcome.COVERED, Outcome.OUTSIDE, Outcome.NOT_STATED


def _answers(record: TestRecord, on: date) -> dict[tuple[str, str], Outcome]:
    return {(one.execution_class, one.grades): one.outcome for one in acceptance(record, on)}


@pytest.fixture
def record(db: None) -> TestRecord:
    return iso_record(mechanisation="partly_mechanised", robot="no")


@pytest.mark.parametrize(
    ("route", "level", "expected"),
    [
        ("procedure_test", 2, {"EXC1": COVERED, "EXC2": COVERED, "EXC3": COVERED, "EXC4": COVERED}),
        ("procedure_test", 1, {"EXC1": COVERED, "EXC2": OUTSIDE, "EXC3": OUTSIDE, "EXC4": OUTSIDE}),
        ("procedure_test", None, {"EXC1": COVERED, "EXC2": OPEN, "EXC3": OPEN, "EXC4": OPEN}),
        ("pre_production", None, {"EXC1": COVERED, "EXC2": COVERED, "EXC3": COVERED, "EXC4": COVERED}),
        ("experience", None, {"EXC1": COVERED, "EXC2": COVERED, "EXC3": OUTSIDE, "EXC4": OUTSIDE}),
        ("consumables", None, {"EXC1": COVERED, "EXC2": COVERED, "EXC3": OUTSIDE, "EXC4": OUTSIDE}),
    ],
)
def test_route_and_level(record: TestRecord, route: str, level: int | None, expected: dict[str, Outcome]) -> None:
    record.route, record.level = route, level
    found: dict[str, Outcome] = {}
    for one in acceptance(record, SOON):
        if one.grades != "grades above S355":
            found[one.execution_class] = one.outcome
    assert found == expected


def test_the_scope_of_a_routes_own_standard(record: TestRecord) -> None:
    assert route_scope(record) == ""
    record.route = "consumables"
    assert "groups 1.1 and 8.1 to 40 mm" in route_scope(record)
    assert "ISO 15610:2023" in route_scope(record)


def test_a_route_without_a_test_serves_no_robot(db: None) -> None:
    record = iso_record(mechanisation="automatic")
    record.route, record.level = "experience", None
    assert {one.execution_class: one.outcome for one in acceptance(record, SOON)}["EXC2"] is OUTSIDE


AGES = [
    (date(2025, 5, 6), COVERED, COVERED),
    (date(2025, 5, 7), COVERED, OPEN),
    (date(2027, 5, 6), COVERED, OPEN),
    (date(2027, 5, 7), OPEN, OUTSIDE),
]


@pytest.mark.parametrize(("on", "up_to", "above"), AGES)
def test_the_age_of_an_unused_record(record: TestRecord, on: date, up_to: Outcome, above: Outcome) -> None:
    """Up to a year nothing, then a production test above S355; after three years below too, above none will do."""
    found = _answers(record, on)
    alike = found.get(("EXC2", "all grades"))
    assert (found.get(("EXC2", "grades up to S355"), alike), found.get(("EXC2", "grades above S355"), alike)) == (
        up_to,
        above,
    )
    assert found[("EXC1", "all grades")] is COVERED


@pytest.mark.parametrize(
    ("on", "told"),
    [(date(2027, 5, 6), "more than 1 and up to 3 years"), (date(2027, 5, 7), "only a new procedure test will do")],
)
def test_above_s355_one_thing_is_asked_at_a_time(record: TestRecord, on: date, told: str) -> None:
    """EN 1090-2:2008, 7.4.1.4 (extract): to three years a production weld test, after them a new procedure test."""
    (said,) = next(
        one.reasons
        for one in acceptance(record, on)
        if (one.execution_class, one.grades) == ("EXC2", "grades above S355")
    )
    assert told in said


def test_use_in_production_starts_the_age_anew(record: TestRecord) -> None:
    record.last_used_on = date(2026, 5, 6)
    assert _answers(record, date(2027, 5, 6))[("EXC3", "all grades")] is COVERED
    assert _answers(record, date(2027, 5, 7))[("EXC3", "grades above S355")] is OPEN


def test_the_word_for_a_gate_that_waits_for_a_test(record: TestRecord) -> None:
    words = {(one.execution_class, one.grades): one.word for one in acceptance(record, date(2027, 5, 7))}
    assert words[("EXC2", "grades up to S355")] == "before a test"
    assert words[("EXC2", "grades above S355")] == ""
    assert words[("EXC1", "all grades")] == ""


def test_the_reason_in_a_sentence(record: TestRecord) -> None:
    found = {(one.execution_class, one.grades): one.reasons for one in acceptance(record, date(2027, 5, 7))}
    (up_to,) = found[("EXC2", "grades up to S355")]
    assert up_to.startswith("Needs a macro from a production test")
    assert "unused for more than 3 years" in up_to
    assert up_to.endswith("(EN 1090-2:2018, 7.4.1.4).")
    record.level = None
    missing = next(one for one in acceptance(record, SOON) if one.execution_class == "EXC3")
    assert "does not state the level of ISO 15614-1" in missing.reasons[0]


@pytest.mark.parametrize(
    ("used", "on", "said"),
    [
        (None, date(2024, 5, 6), "less than a month, counted from the day of the test"),
        (None, date(2025, 6, 6), "1 year 1 month, counted from the day of the test"),
        (None, date(2025, 6, 5), "1 year, counted from the day of the test"),
        (date(2026, 1, 1), date(2026, 3, 1), "2 months, counted from last use"),
        (None, date(2024, 5, 5), "not yet welded on this day"),
    ],
)
def test_how_long_it_lay_unused(used: date | None, on: date, said: str) -> None:
    assert unused_for(TestRecord(welded_on=TESTED, last_used_on=used), on) == said


def test_the_page(record: TestRecord, client_of: Any) -> None:
    record.results = {"micro": "accepted"}
    record.save()
    page = " ".join(client_of("auditor").get(record.get_absolute_url(), {"on": "2027-05-07"}).content.decode().split())
    assert "Execution classes that accept it" in page
    assert "only a new procedure test will do" in page
    assert "micro section, accepted" in page
    assert "3 years, counted from the day of the test" in page


def test_records_that_cannot_be_judged_show_no_table(client_of: Any, record: TestRecord) -> None:
    TestRecord.objects.filter(pk=record.pk).update(pieces=[{"parent_t": "thick"}])
    assert "Execution classes" not in client_of("auditor").get(record.get_absolute_url()).content.decode()
    for other in (us_record(AWS), make_record("WPQR 9", code="no such code")):
        assert client_of("auditor").get(other.get_absolute_url()).status_code == 200


def test_a_reason_begins_with_the_name_of_its_gate_without_quotes(record: TestRecord) -> None:
    reasons = [reason for one in acceptance(record, date(2035, 1, 1)) for reason in one.reasons]
    assert any("ge of the record: unused for more than" in reason for reason in reasons)
    assert not any("'" in reason for reason in reasons)
