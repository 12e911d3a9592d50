"""Several records behind one procedure: no point of the window is covered by a mixture, every point by one of them."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from codes.cover import is_covered, uncovered
from codes.values import Interval
from codes.verdict import Outcome
from tests.wps.factory import RUN, make_record
from wps.judgement import judge
from wps.models import ProcedureRevision, ProcedureRun, TestRecord
from wps.offers import offer

DAY = date(2026, 3, 2)


@pytest.fixture
def two(draft: ProcedureRevision) -> ProcedureRevision:
    """6 to 24 mm in PA and PB; 18 to 72 mm in PB and PF."""
    draft.records.add(make_record("WPQR 002", {"parent_t": "36", "position": ["PB", "PF"]}))
    return draft


def _set(draft: ProcedureRevision, lo: str, hi: str, *positions: str) -> ProcedureRevision:
    draft.window |= {"parent_t": {"min": lo, "max": hi}, "position": list(positions)}
    draft.save()
    return draft


@pytest.mark.parametrize(
    ("lo", "hi", "positions", "covered"),
    [
        ("6", "72", ["PB"], True),
        ("6", "72.1", ["PB"], False),
        ("5.9", "72", ["PB"], False),
        ("6", "24", ["PA", "PB"], True),
        ("18", "72", ["PB", "PF"], True),
        ("18", "24", ["PA", "PB", "PF"], True),
        # Each value alone is allowed by one of the records; together no record allows them.
        ("6", "72", ["PA"], False),
        ("6", "72", ["PF"], False),
        ("17.9", "24", ["PA", "PF"], False),
    ],
)
def test_two_records_together(two: ProcedureRevision, lo: str, hi: str, positions: list[str], covered: bool) -> None:
    assert (judge(_set(two, lo, hi, *positions), DAY).outcome is Outcome.COVERED) is covered


def test_the_uncovered_corner_is_told(two: ProcedureRevision) -> None:
    found = judge(_set(two, "6", "72", "PA", "PF"), DAY)
    told = " ".join(gap.text for gap in found.gaps)
    assert "above 24 to 72 mm with position PA" in told
    assert "6 to below 18 mm with position PF" in told


def test_neither_record_alone_covers(two: ProcedureRevision) -> None:
    found = judge(_set(two, "6", "72", "PB"), DAY)
    sets = [limits for record in found.records for limits in record.sets]
    demand = found.processes[0].demand
    assert not uncovered(demand, sets)
    assert [is_covered(demand, [one]) for one in sets] == [False, False]


def test_a_gap_between_two_records_is_open_at_both_ends(draft: ProcedureRevision) -> None:
    draft.records.add(make_record("WPQR 003", {"parent_t": "60"}))
    found = judge(_set(draft, "6", "40", "PB"), DAY)
    assert [gap.text.split(":")[0] for gap in found.gaps] == ["Parent thickness above 24 to below 30 mm"]


def test_the_record_that_is_short_by_least_is_named(draft: ProcedureRevision) -> None:
    """6 to 24 mm and 30 to 120 mm: 121 mm is near the second, whichever stands first."""
    draft.records.add(make_record("WPQR 003", {"parent_t": "60"}))
    found = judge(_set(draft, "40", "121", "PB"), DAY)
    assert [gap.text for gap in found.gaps] == [
        "Parent thickness above 120 to 121 mm: no record covers it; WPQR 003 misses by 1 mm."
    ]


# Several processes


@pytest.fixture
def root_and_fill(draft: ProcedureRevision) -> ProcedureRevision:
    """Root by 141 from a record of 8 mm, fill by 135 from one of 12 mm."""
    draft.records.add(make_record("WPQR 141", {"process": "141", "parent_t": "8", "position": ["PA", "PB"]}))
    draft.window |= {"process": ["141", "135"], "parent_t": {"min": "6", "max": "16"}}
    draft.process_windows = {"141": {"gas": ["I1"], "current_type": ["DC-"]}}
    draft.save()
    ProcedureRun.objects.create(revision=draft, **RUN | {"order": 2, "process": "141", "layer": "root"})
    return draft


@pytest.mark.parametrize(
    ("hi", "root", "fill"),
    [
        ("16", Outcome.COVERED, Outcome.COVERED),
        ("16.1", Outcome.OUTSIDE, Outcome.COVERED),
        ("24", Outcome.OUTSIDE, Outcome.COVERED),
        ("24.1", Outcome.OUTSIDE, Outcome.OUTSIDE),
    ],
)
def test_each_process_inside_its_own_record(
    root_and_fill: ProcedureRevision, hi: str, root: Outcome, fill: Outcome
) -> None:
    found = judge(_set(root_and_fill, "6", hi, "PA"), DAY)
    assert {one.process: one.outcome for one in found.processes} == {"141": root, "135": fill}


def test_a_record_of_another_process_lends_nothing(root_and_fill: ProcedureRevision) -> None:
    """24 mm lies inside the record of 135, which says nothing of 141."""
    found = judge(_set(root_and_fill, "20", "24", "PA"), DAY)
    root = next(one for one in found.processes if one.process == "141")
    assert "WPQR 141 misses by 8 mm" in root.gaps[0].text
    assert {allows.record for view in root.variables for allows in view.allows} == {"WPQR 141"}


def test_two_processes_of_one_record(draft: ProcedureRevision) -> None:
    """A record of one test piece welded by two processes: an alternative for each."""
    record = TestRecord.objects.get(number="WPQR 001")
    record.pieces = [*record.pieces, record.pieces[0] | {"process": "141"}]
    record.save()
    draft.window |= {"process": ["141", "135"]}
    draft.save()
    assert judge(draft, DAY).outcome is Outcome.COVERED


def test_a_joint_that_states_one_of_the_processes(root_and_fill: ProcedureRevision) -> None:
    """Its demand meets the values of that process only, and the record that speaks of it."""
    found = offer(root_and_fill, DAY)
    assert found.processes == ("141", "135")
    root, fill = (found.process_values[process] for process in found.processes)
    assert (root["process"], root["gas"], fill["gas"]) == ("141", "I1", "M21")
    for values, most in ((root, "16"), (fill, "24")):
        joint = {**values, "parent_t": Decimal(most)}
        assert is_covered(joint, found.sets)
        assert not is_covered({**joint, "parent_t": Decimal(most) + Decimal("0.1")}, found.sets)


def test_runs_belong_to_their_process(root_and_fill: ProcedureRevision) -> None:
    root_and_fill.runs.filter(process="141").update(current_min_a=90, current_max_a=110)
    found = offer(root_and_fill, DAY)
    assert found.process_values["141"]["current"] == Interval(Decimal(90), Decimal(110), "A")
    assert found.process_values["135"]["current"] == Interval(Decimal(220), Decimal(260), "A")


def test_what_differs_by_process_is_judged_by_process(root_and_fill: ProcedureRevision) -> None:
    root_and_fill.process_windows["141"] |= {"position": ["PF"]}
    root_and_fill.save()
    found: Any = {one.process: one for one in judge(root_and_fill, DAY).processes}
    assert (found["141"].outcome, found["135"].outcome) == (Outcome.OUTSIDE, Outcome.COVERED)
    assert "position" in found["141"].gaps[0].text.lower()
