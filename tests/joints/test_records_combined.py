"""ASME IX: a root by one record on the base thickness of another (QW-200.4(b), from memory of the 2021 edition).

Procedure page, command line, coverage one by one and coverage in bulk answer alike.
"""

import json
from decimal import Decimal as D
from typing import Any

import pytest

from codes.__main__ import main
from codes.verdict import Outcome
from joints.day import Day
from joints.models import Joint
from tests.joints.makers import ON, make_job, make_joint, make_station
from tests.wps.us import ASME, US_RUN, us_draft, us_record
from wps import workflow
from wps.judgement import judge
from wps.models import ProcedureRevision, ProcedureRun, TestRecord
from wps.offers import offer

pytestmark = pytest.mark.django_db
ROOT = {
    "process": "141", "parent_t": "13", "deposit_t": "5", "gas": "I1", "gas_co2": "",
    "transfer_mode": "", "current_type": "DC-", "filler_diameter": "2.4",
}  # fmt: skip
FILL = {"parent_t": "40", "deposit_t": "40"}
TIG = {"place": ["root"], "gas": ["I1"], "current_type": ["DC-"], "filler_diameter": "2.4"}


def records(t: str) -> list[TestRecord]:
    """A root by 141 on a coupon of t, and 135 on one of 40 mm."""
    made = []
    for number, piece in (("PQR 1", ROOT | {"parent_t": t}), ("PQR 2", FILL)):
        record = us_record(ASME, number, **piece)
        record.pieces = [{key: value for key, value in record.pieces[0].items() if value != ""}]
        record.save()
        made.append(record)
    return made


def drafted(author: Any, t: str, most: str, deposit: str) -> ProcedureRevision:
    """A WPS of 20 mm to `most` with a root of up to `deposit`, on those records."""
    draft = us_draft(author, ASME, records(t), parent_t={"min": "20", "max": most})
    for name in ("transfer_mode", "gas", "gas_co2", "current_type", "deposit_t"):
        draft.window.pop(name)
    draft.window["process"] = ["141", "135"]
    fill = {
        "place": ["fill"], "gas": ["M21"], "gas_co2": "18",
        "transfer_mode": ["spray"], "current_type": ["DC+"], "deposit_t": {"min": "10", "max": "200"},
    }  # fmt: skip
    draft.process_windows = {"141": TIG | {"deposit_t": {"min": "3", "max": deposit}}, "135": fill}
    draft.preparation |= {"tungsten": "WLa15, 2.4 mm"}
    draft.save()
    tig = {"order": 2, "layer": "root", "process": "141", "diameter_mm": D("2.4"), "current_type": "DC-"}
    ProcedureRun.objects.create(revision=draft, **US_RUN | tig)
    return draft


def by_the_door(draft: ProcedureRevision) -> set[str]:
    """Outcomes of the processes by the command line, records and window as they are written."""
    found = set()
    named = [{"kind": "pqr", "code": ASME, "label": r.number, "tested": r.pieces[0]} for r in draft.records.all()]
    for process in ("141", "135"):
        demand = {**draft.window, **draft.process_windows[process], "process": process}
        code, printed = main([], json.dumps({"records": named, "demand": demand}).encode())
        assert code in (0, 1, 2), printed
        found.add(json.loads(printed)["outcome"])
    return found


@pytest.mark.parametrize(
    ("t", "most", "deposit", "outcome"),
    [
        ("13", "200", "10", Outcome.COVERED),
        ("13", "200", "10.1", Outcome.OUTSIDE),
        ("13", "200.1", "10", Outcome.OUTSIDE),
        ("12.9", "200", "10", Outcome.OUTSIDE),
        # The root's own record covers up to 26 mm: nothing is combined.
        ("13", "26", "10", Outcome.COVERED),
    ],
)
def test_page_and_command_line_alike(coordinator: Any, t: str, most: str, deposit: str, outcome: Outcome) -> None:
    draft = drafted(coordinator, t, most, deposit)
    found = judge(draft, ON)
    assert found.outcome is outcome, found.sentence
    assert outcome.value in by_the_door(draft)
    assert by_the_door(draft) <= {outcome.value, Outcome.COVERED.value}
    root = next(one for one in found.processes if one.process == "141")
    assert bool(root.needed) is (t == "13" and most != "26"), root.combined


def joint(**changes: Any) -> Joint:
    """A butt weld of A36 by 141 and 135, in a job to ASME IX."""
    job = make_job(procedure_code=ASME)
    bay = make_station(processes=["141", "135"])
    fields = {
        "weld_type": "butt_cjp", "joint_type": "butt", "grade_1": "A36", "grade_2": "A36", "t1_mm": D(100),
        "t2_mm": D(100), "throat_mm": None, "position": "PA", "final_process": "141+135", "weld_detail": "ss_mb",
        "final_workstation": bay, "tack_workstation": bay,
    }  # fmt: skip
    return make_joint(job, **(fields | changes))


def approve(draft: ProcedureRevision, by: Any) -> ProcedureRevision:
    workflow.check_revision(draft, by, ON)
    return workflow.approve(draft, by, ON)


def test_approval_and_joints_rest_on_the_combination(coordinator: Any, second_coordinator: Any) -> None:
    draft, weld = approve(drafted(coordinator, "13", "200", "10"), second_coordinator), joint()
    for thickness, outcome in ((D(200), Outcome.COVERED), (D("200.1"), Outcome.OUTSIDE)):
        weld.t1_mm = weld.t2_mm = thickness
        weld.save()
        day = Day(ON)
        found, (bulk,) = day.explain(weld, weld.assembly.job), day.answers(Joint.objects.filter(pk=weld.pk))
        assert found.final.nearest_procedure.outcome is outcome, found.final.nearest_procedure.verdict.worst
        assert (bulk.result.outcome, bulk.result.sentence) == (found.outcome, found.sentence)
    combined = offer(draft, ON).records[-1]
    assert [part.label for part in combined.parts] == ["PQR 1", "PQR 2"]


def test_not_approved_where_the_root_is_too_deep(coordinator: Any, second_coordinator: Any) -> None:
    draft = drafted(coordinator, "13", "200", "10.1")
    with pytest.raises(workflow.Refused, match="not covered by its records"):
        approve(draft, second_coordinator)


def test_a_withdrawn_record_lends_nothing(coordinator: Any) -> None:
    draft = drafted(coordinator, "13", "200", "10")
    TestRecord.objects.filter(number="PQR 2").update(withdrawn_on=ON)
    assert [one.label for one in offer(draft, ON).records] == ["PQR 1", "PQR 2"]
    assert judge(draft, ON).outcome is Outcome.OUTSIDE


def test_the_page_shows_records_clause_and_margin(coordinator: Any, client: Any) -> None:
    draft = drafted(coordinator, "13", "190", "9.5")
    client.force_login(coordinator)
    page = client.get(draft.get_absolute_url()).content.decode()
    assert "Records combined: PQR 1, process 141, root with the base thickness of PQR 2, process 135" in page
    assert "QW-200.4(b)" in page and "0.5 mm to spare" in page and "10 mm to spare" in page
