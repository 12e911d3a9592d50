"""The prequalified road: judged by the code's own limits, approved without records only where it is prequalified."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.urls import reverse

from codes.check import check
from codes.cover import is_covered
from codes.verdict import Outcome
from tests.wps.us import AWS, US_RUN, prequalified_draft, us_draft, us_record
from wps import workflow
from wps.completeness import missing
from wps.judgement import judge
from wps.models import ProcedureRevision, ProcedureRun, Road, Status
from wps.offers import NO_RECORD, procedure_offers
from wps.roads import own_limits, prequalified_edition

DAY = date(2026, 3, 2)


@pytest.fixture
def draft(coordinator: Any) -> ProcedureRevision:
    return prequalified_draft(coordinator)


def _changed(draft: ProcedureRevision, **window: Any) -> ProcedureRevision:
    draft.window |= window
    draft.save()
    return draft


@pytest.mark.parametrize(
    ("code", "key"),
    [
        (AWS, "AWS D1.1:2020 prequalified"),
        ("AWS D1.1/D1.1M:2015", "AWS D1.1:2015 prequalified"),
        ("ISO 15614-1:2017", None),
        ("ASME IX:2021", None),
        ("no such code", None),
    ],
)
def test_which_codes_have_the_road(code: str, key: str | None) -> None:
    found = prequalified_edition(code)
    assert (found.key if found else None) == key


@pytest.mark.parametrize("code", [AWS, "AWS D1.1:2015"])
def test_a_prequalified_procedure_is_complete_and_covered(coordinator: Any, code: str) -> None:
    draft = prequalified_draft(coordinator, code=code)
    assert missing(draft) == ()
    found = judge(draft, DAY)
    assert found.outcome is Outcome.COVERED, found.reasons
    assert found.sentence.startswith("Covered: prequalified")
    assert found.reasons == ()


NOT = [
    ({"leg_z": "9.525"}, Outcome.COVERED, ""),
    ({"leg_z": "9.526"}, Outcome.OUTSIDE, "Fillet leg z"),
    ({"aws_position": ["3F"], "progression": ["uphill"]}, Outcome.COVERED, ""),
    ({"aws_position": ["3F"], "progression": ["downhill"]}, Outcome.OUTSIDE, "Vertical progression"),
    ({"process": ["141"]}, Outcome.OUTSIDE, "is not prequalified"),
    ({"power_output": ["cc"]}, Outcome.OUTSIDE, "constant-voltage"),
    ({"preheat": "-1"}, Outcome.OUTSIDE, "Preheat"),
    ({"in_makers_range": []}, Outcome.NOT_STATED, "maker's range"),
    ({"steels": [{"grade": "S355J2"}, {"grade": "S355J2"}]}, Outcome.OUTSIDE, "Groups I to IV"),
]


@pytest.mark.parametrize(("window", "outcome", "reason"), NOT)
def test_each_reason_is_told(draft: ProcedureRevision, window: dict[str, Any], outcome: Outcome, reason: str) -> None:
    found = judge(_changed(draft, **window), DAY)
    assert found.outcome is outcome
    assert any(reason in sentence for _, sentence in found.reasons) or not reason
    assert bool(found.reasons) is (outcome is not Outcome.COVERED)


def test_all_reasons_are_told_at_once(draft: ProcedureRevision) -> None:
    found = judge(_changed(draft, power_output=["cc"], leg_z="12"), DAY)
    told = " ".join(sentence for _, sentence in found.reasons)
    assert "constant-voltage" in told
    assert "Fillet leg z" in told
    assert found.sentence == f"Outside: not prequalified, for {len(found.reasons)} reasons."


RANGES = [("225", "275", True), ("224", "275", False), ("225", "276", False)]


@pytest.mark.parametrize(("lo", "hi", "fits"), RANGES)
def test_a_range_lies_inside_the_tolerance_of_its_middle(
    draft: ProcedureRevision, lo: str, hi: str, fits: bool
) -> None:
    """225 to 275 A: 250 A, 10 % either way, ends included; one ampere more on either side is too wide."""
    draft.runs.update(current_min_a=Decimal(lo), current_max_a=Decimal(hi))
    assert (judge(draft, DAY).outcome is Outcome.COVERED) is fits


@pytest.mark.parametrize(("lo", "hi", "fits"), [("300", "360", True), ("300", "370", False)])
def test_every_run_is_a_line_of_its_own(draft: ProcedureRevision, lo: str, hi: str, fits: bool) -> None:
    """Together the runs span more than 10 %; each by itself does not. 300 to 370 A is more than 10 % of 335 A."""
    first = draft.runs.get()
    more = {"order": 2, "current_min_a": Decimal(lo), "current_max_a": Decimal(hi), "process": "136"}
    ProcedureRun.objects.create(revision=draft, **US_RUN | more | {"diameter_mm": first.diameter_mm})
    found = judge(draft, DAY)
    assert (found.outcome is Outcome.COVERED) is fits, found.reasons
    if fits:
        (limits,) = own_limits(AWS, draft.window, {}, tuple(draft.runs.all()))
        (current,) = [limit for limit in limits.limits if limit.variable == "current"]
        assert str(current.allowed) == "225 to 275 A or 297 to 363 A"


def test_runs_of_two_polarities(draft: ProcedureRevision) -> None:
    del draft.window["current_type"]
    draft.save()
    more = {"order": 2, "current_type": "DC-", "process": "136"}
    ProcedureRun.objects.create(revision=draft, **US_RUN | more | {"diameter_mm": Decimal("1.5875")})
    (limits,) = own_limits(AWS, draft.window, {}, tuple(draft.runs.all()))
    (polarity,) = [limit for limit in limits.limits if limit.variable == "current_type"]
    assert str(polarity.allowed) == "DC+, DC-"


def test_approved_without_a_record(draft: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.check_revision(draft, second_coordinator, DAY)
    assert workflow.approve(draft, second_coordinator, DAY).status == Status.APPROVED


def test_not_approved_where_it_is_not_prequalified(draft: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.check_revision(_changed(draft, leg_z="12"), second_coordinator, DAY)
    with pytest.raises(workflow.Refused, match=r"is not prequalified\. Outside: not prequalified, for 1 reason"):
        workflow.approve(draft, second_coordinator, DAY)


def test_the_road_by_test_is_not_approved_without_a_record(coordinator: Any, second_coordinator: Any) -> None:
    draft = us_draft(coordinator, AWS, [])
    with pytest.raises(workflow.Refused, match=r"Records \(PQR\) it rests on"):
        workflow.check_revision(draft, second_coordinator, DAY)


def test_a_prequalified_procedure_rests_on_no_record(draft: ProcedureRevision) -> None:
    draft.records.add(us_record(AWS))
    assert [one.label for one in missing(draft)] == ["No supporting record: a prequalified procedure rests on none"]


def test_a_code_without_the_road_says_so(coordinator: Any) -> None:
    draft = us_draft(coordinator, "ASME IX:2021", [])
    draft.road = Road.PREQUALIFIED
    draft.save()
    found = judge(draft, DAY)
    assert found.outcome is Outcome.NOT_STATED
    assert found.sentence == "Not stated: ASME IX:2021 knows no prequalified procedures."


def test_the_next_revision_takes_the_same_road(draft: ProcedureRevision, coordinator: Any) -> None:
    workflow.withdraw(draft, coordinator, DAY, "entered twice")
    assert workflow.start_revision(draft.procedure, coordinator).road == Road.PREQUALIFIED


# Joints


@pytest.fixture
def offer(draft: ProcedureRevision, second_coordinator: Any) -> Any:
    workflow.check_revision(draft, second_coordinator, DAY)
    workflow.approve(draft, second_coordinator, DAY)
    return procedure_offers(DAY)[0]


def test_its_limits_are_offered_in_the_place_of_a_record(offer: Any) -> None:
    (support,) = offer.records
    assert (support.record_id, support.label, support.route, support.code) == (
        NO_RECORD, f"{AWS} prequalified", "prequalified", AWS,
    )  # fmt: skip
    assert support.problem == ""
    assert is_covered(offer.process_values["136"], support.sets)


@pytest.mark.parametrize(
    ("joint", "covered"),
    [
        ({"aws_position": "2F"}, True),
        ({"aws_position": "3F", "progression": "downhill"}, False),
        ({"leg_z": Decimal("9.525")}, True),
        ({"leg_z": Decimal("9.526")}, False),
        ({"parent_t": Decimal("19.05")}, True),
    ],
)
def test_a_joint_is_judged_by_them(offer: Any, joint: dict[str, Any], covered: bool) -> None:
    assert is_covered({**offer.process_values["136"], **joint}, offer.sets) is covered


def test_a_joint_in_iso_terms_meets_the_window(offer: Any) -> None:
    """PB is 2F; a throat of 0.707 times the leg of 6.35 mm is 4.490 mm, and no more is written."""
    allowed = {(limit.variable, str(limit.allowed), str(limit.when[0])) for limit in offer.window.limits if limit.when}
    assert ("position", "PB", "weld type is fillet weld") in allowed
    demand = dict(offer.values) | {"position": "PB", "throat_a": Decimal("4.490")}
    del demand["leg_z"]
    assert {f.variable for f in check(demand, offer.window).worst} == {"leg_z"}, "no joint in ISO terms states a leg"
    outside = {**demand, "position": "PF", "throat_a": Decimal("4.491")}
    assert {f.variable for f in check(outside, offer.window).worst} == {"leg_z", "position", "throat_a"}
    stated = outside | {"leg_z": Decimal("6.35")}
    assert {f.variable for f in check(stated, offer.window).worst} == {"position"}, "a stated leg is judged itself"


# Pages


def test_the_page_tells_each_reason(draft: ProcedureRevision, client_of: Any) -> None:
    page = client_of("auditor").get(_changed(draft, leg_z="12").get_absolute_url()).content.decode()
    assert "Why it is not prequalified:" in page
    assert "without a test" in page
    assert "0.25 to 0.75 in" in page


def _form(draft: ProcedureRevision) -> dict[str, Any]:
    return {"seen_version": draft.changed_at.isoformat(), "serves_final": "on", "run_count": "0"}


def test_the_form_offers_the_road_where_the_code_has_it(draft: ProcedureRevision, client_of: Any) -> None:
    client = client_of("coordinator")
    assert 'name="road"' in client.get(reverse("wps:revision_edit", args=[draft.pk])).content.decode()
    other = us_draft(draft.author, "ASME IX:2021", [])
    assert 'name="road"' not in client.get(reverse("wps:revision_edit", args=[other.pk])).content.decode()


def test_the_form_refuses_records_on_this_road(draft: ProcedureRevision, client_of: Any) -> None:
    url, record = reverse("wps:revision_edit", args=[draft.pk]), us_record(AWS)
    sent = _form(draft) | {"road": "prequalified", "records": [str(record.pk)], "process": ["136"]}
    refused = client_of("coordinator").post(url, sent)
    assert refused.status_code == 422
    assert "rests on no records" in refused.content.decode()
    assert client_of("coordinator").post(url, sent | {"road": "tested"}).status_code == 302
    draft.refresh_from_db()
    assert draft.road == Road.TESTED


def test_the_road_of_an_approved_revision_stays(offer: Any) -> None:
    revision = ProcedureRevision.objects.get(pk=offer.revision_id)
    revision.road = Road.TESTED
    with pytest.raises(ValidationError):
        revision.save()


def test_an_unknown_road_is_refused(draft: ProcedureRevision) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        ProcedureRevision.objects.filter(pk=draft.pk).update(road="by hope")


def test_readings_are_told(draft: ProcedureRevision) -> None:
    assert any("aws_d1_1_prequalified_voltage" in reading for reading in judge(draft, DAY).readings)
    draft.runs.update(voltage_min_v=Decimal("24.5"), voltage_max_v=Decimal("31.5"))
    assert judge(draft, DAY).outcome is Outcome.OUTSIDE
    wide = {"aws_d1_1_prequalified_voltage": "lenient"}
    assert judge(draft, DAY, wide).outcome is Outcome.COVERED


def test_equal_lines_count_once(draft: ProcedureRevision) -> None:
    run = draft.runs.get()
    alone = own_limits(AWS, draft.window, {}, (run,))
    twice = own_limits(AWS, draft.window, {}, (run, run))
    assert [replace(one, label="") for one in twice] == [replace(one, label="") for one in alone]
