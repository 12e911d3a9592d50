"""A procedure against the union of its records: what is covered, what is left, in which words."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from codes.check import check
from codes.limits import Clause, Limit, LimitSet, Within
from codes.values import Interval
from codes.verdict import Outcome
from tests.wps.factory import RUN, make_record
from wps.judgement import Judgement, judge
from wps.models import ProcedureRevision, ProcedureRun, TestRecord
from wps.words import miss_text

DAY = date(2026, 3, 2)


def _judged(draft: ProcedureRevision, **window: Any) -> Judgement:
    draft.window |= window
    draft.save()
    return judge(draft, DAY)


def _gaps(judgement: Judgement) -> list[str]:
    return [gap.text for gap in judgement.gaps]


def test_covered(draft: ProcedureRevision) -> None:
    found = judge(draft, DAY)
    assert found.outcome is Outcome.COVERED
    assert found.sentence == "Covered: everything this procedure states lies inside WPQR 001."


@pytest.mark.parametrize(
    ("lo", "hi", "gap"),
    [
        ("6", "24", ""),
        ("6", "24.5", "Parent thickness above 24 to 24.5 mm: no record covers it; WPQR 001 misses by 0.5 mm."),
        ("5", "24", "Parent thickness 5 to below 6 mm: no record covers it; WPQR 001 misses by 1 mm."),
    ],
)
def test_both_ends_of_the_thickness(draft: ProcedureRevision, lo: str, hi: str, gap: str) -> None:
    found = _judged(draft, parent_t={"min": lo, "max": hi})
    assert _gaps(found) == ([gap] if gap else [])
    assert found.outcome is (Outcome.OUTSIDE if gap else Outcome.COVERED)


def test_a_hole_in_the_middle_is_found(draft: ProcedureRevision) -> None:
    """12 mm gives 6 to 24; 60 mm gives 30 to 120: both ends of 6 to 100 are covered, the middle is not."""
    draft.records.add(make_record("WPQR 002", {"parent_t": "60"}))
    found = _judged(draft, parent_t={"min": "6", "max": "100"})
    assert _gaps(found) == ["Parent thickness above 24 to below 30 mm: no record covers it; WPQR 001 misses by 6 mm."]


def test_two_records_that_touch_cover_together(draft: ProcedureRevision) -> None:
    draft.records.add(make_record("WPQR 002", {"parent_t": "40"}))
    assert _judged(draft, parent_t={"min": "6", "max": "80"}).outcome is Outcome.COVERED


def test_no_mixture_of_two_records(draft: ProcedureRevision) -> None:
    """One record has the thickness, the other the position: thick plates in PF stay uncovered."""
    draft.records.add(make_record("WPQR 002", {"parent_t": "10", "position": ["PF"]}))
    found = _judged(draft, position=["PB", "PF"])
    assert _gaps(found) == [
        "Parent thickness above 20 to 24 mm with position PF · 3G / 3F up: no record covers it; "
        "WPQR 001 allows position PA · 1G / 1F, PB · 2F."
    ]


def test_a_piece_of_one_variable_names_the_miss_of_the_nearest(draft: ProcedureRevision) -> None:
    found = _judged(draft, position=["PA", "PE"])
    assert _gaps(found) == [
        "Position PE · 4G / 4F: no record covers it; WPQR 001 allows position PA · 1G / 1F, PB · 2F."
    ]


def test_what_the_record_asks_and_the_procedure_does_not_say(draft: ProcedureRevision) -> None:
    del draft.window["position"]
    found = judge(draft, DAY)
    assert found.outcome is Outcome.NOT_STATED
    assert "asks for position, which the procedure does not state" in found.sentence


def test_of_much_that_is_left_open_the_number_is_said() -> None:
    """A draft that has just been begun: each thing has its line in the table below the sentence."""
    limits = tuple(
        Limit(name, Within(Interval(Decimal(1), Decimal(2), "mm")), Clause("A", "1"))
        for name in ("parent_t", "deposit_t", "throat_a", "diameter", "leg_z")
    )
    found = check({}, LimitSet("WPQR 9", limits, "A"))
    assert miss_text(found) == "WPQR 9 asks for 5 things that the procedure does not state yet"


def test_what_the_record_does_not_state(draft: ProcedureRevision) -> None:
    draft.records.set([make_record("WPQR 003", {"parent_t": ""})])
    found = judge(draft, DAY)
    assert found.outcome is Outcome.NOT_STATED
    assert "WPQR 003 does not state parent thickness" in found.sentence


def test_heat_comes_from_the_corners_of_the_runs(draft: ProcedureRevision) -> None:
    """28 V, 260 A, 350 mm/min: 0.9984 kJ/mm is under the tested 1.2; with 210 mm/min it is 1.664."""
    assert _judged(draft, impact_required=["yes"]).outcome is Outcome.COVERED
    draft.runs.update(speed_min_mm_min=210)
    found = judge(draft, DAY)
    assert _gaps(found) == ["Heat input above 1.2 to 1.664 kJ/mm: no record covers it; WPQR 001 misses by 0.464 kJ/mm."]


def test_every_run_counts(draft: ProcedureRevision) -> None:
    ProcedureRun.objects.create(revision=draft, **RUN | {"order": 2, "speed_min_mm_min": 210})
    assert _judged(draft, impact_required=["yes"]).outcome is Outcome.OUTSIDE


def test_a_run_that_lacks_a_parameter_leaves_the_heat_unstated(draft: ProcedureRevision) -> None:
    ProcedureRun.objects.create(revision=draft, **RUN | {"order": 2, "voltage_max_v": None})
    assert _judged(draft, impact_required=["yes"]).outcome is Outcome.NOT_STATED


def test_each_process_needs_its_own_record(draft: ProcedureRevision) -> None:
    found = _judged(draft, process=["141", "135"])
    assert [(one.process, one.outcome) for one in found.processes] == [
        ("141", Outcome.OUTSIDE),
        ("135", Outcome.COVERED),
    ]
    assert found.outcome is Outcome.OUTSIDE


def test_root_and_fill_by_different_records(draft: ProcedureRevision) -> None:
    draft.records.add(make_record("WPQR 004", {"process": "141", "position": ["PA", "PB", "PF"]}))
    draft.process_windows = {"141": {"position": ["PF"]}}
    found = _judged(draft, process=["141", "135"])
    assert found.outcome is Outcome.COVERED, found.sentence


def test_without_a_record_it_is_a_preliminary_specification(draft: ProcedureRevision) -> None:
    draft.records.clear()
    found = judge(draft, DAY)
    assert found.outcome is Outcome.NOT_STATED
    assert "(pWPS)" in found.sentence


@pytest.mark.parametrize(
    ("fact", "problem"),
    [
        ({"withdrawn_on": DAY}, "no longer used from 2026-03-02"),
        ({"welded_on": date(2026, 3, 3)}, "welded on 2026-03-03, after the date asked about"),
        ({"code": "Other code:1999"}, "made to Other code:1999, not to Trial code:2000"),
        ({"code": "no such code"}, 'not judged: the register does not hold "no such code"'),
        ({"pieces": [{"parent_t": "thick"}]}, "not judged: piece 1, parent_t: "),
    ],
)
def test_a_record_that_does_not_count_says_why(
    draft: ProcedureRevision, record: TestRecord, fact: dict[str, Any], problem: str
) -> None:
    TestRecord.objects.filter(pk=record.pk).update(**fact)
    found = judge(draft, DAY)
    assert found.outcome is Outcome.NOT_STATED
    assert found.records[0].problem.startswith(problem)
    assert found.sentence.startswith(f"Not stated: WPQR 001 does not count, {problem}")


def test_a_record_counts_up_to_the_day_before_it_is_withdrawn(draft: ProcedureRevision, record: TestRecord) -> None:
    TestRecord.objects.filter(pk=record.pk).update(withdrawn_on=date(2026, 3, 3))
    assert judge(draft, DAY).outcome is Outcome.COVERED


def test_an_alias_of_the_edition_counts(draft: ProcedureRevision, record: TestRecord) -> None:
    TestRecord.objects.filter(pk=record.pk).update(code="EN Trial code:2001")
    assert judge(draft, DAY).outcome is Outcome.COVERED


def test_a_window_that_cannot_be_read(draft: ProcedureRevision) -> None:
    found = _judged(draft, parent_t="thick")
    assert found.outcome is Outcome.NOT_STATED
    assert '"thick" is not a number' in found.sentence


def test_the_view_side_by_side(draft: ProcedureRevision) -> None:
    found = _judged(draft, parent_t={"min": "6", "max": "30"}).processes[0]
    thickness = found.variables[0]
    assert (thickness.label, thickness.says, thickness.outcome) == (
        "Parent thickness",
        "6 to 30 mm",
        Outcome.OUTSIDE,
    )
    allows = thickness.allows[0]
    assert (allows.record, allows.finding.allowed, allows.finding.margin_text) == (
        "WPQR 001",
        "6 to 24 mm",
        "misses by 6 mm",
    )
    assert str(allows.limit.clause) == "Trial code:2000, 2"
    assert {"Filler designation", "Fillet throat a"} <= {view.label for view in found.variables}
