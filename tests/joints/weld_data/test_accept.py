"""Taking corrections over: one, many, a kind or none; what is kept; who may; what goes back to the detailer."""

import csv
import io
from dataclasses import replace
from decimal import Decimal as D
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse
from django.utils.html import strip_tags

from codes.units import System
from joints.models import Job, Joint, WeldDataChange
from joints.templatetags.weld_data import as_stated
from joints.weld_data.accept import NotTaken, accept, accept_rule, disputed_fields, disputed_joints, undisputed
from joints.weld_data.check import Found, check_job
from joints.weld_data.finding import PRACTICE, Change, Finding
from joints.weld_data.report import HEADS, report_rows
from joints.weld_data.words import field_words
from register.audit import acts_on
from tests.joints.makers import make_job, make_joint

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """Two joints with a thin throat, one with a short tack and a leg in the wrong column, one without a length."""
    made = make_job(application_standard="EN 1090-2:2018", execution_class="EXC2")
    make_joint(made, number="1", throat_mm=D("2.5"), tack_throat_mm=None)
    make_joint(made, number="2", throat_mm=D("2.8"), tack_throat_mm=None)
    make_joint(made, number="3", throat_mm=D(12), remarks="two runs", tack_length_mm=D(25))
    make_joint(made, number="4", length_mm=None)
    return made


def of(job: Job, rule: str) -> list[Found]:
    return [one for one in check_job(job) if one.finding.rule == rule]


def test_one_is_taken_over_and_kept(job: Job, coordinator: Any) -> None:
    first, second = of(job, "throat_under_three")
    assert accept(job, [first.key], coordinator) == 1
    assert Joint.objects.get(number="1").throat_mm == 3
    assert Joint.objects.get(number="2").throat_mm == D("2.8")
    kept = WeldDataChange.objects.get()
    assert (kept.assembly_mark, kept.joint_number, kept.field, kept.before, kept.after) == (
        "B1", "1", "throat_mm", "2.5", "3",
    )  # fmt: skip
    assert (kept.rule, kept.mark, kept.by_name) == ("throat_under_three", "confirmed", "coordinator")
    assert kept.clause.startswith("EN 1993-1-8:2005")
    assert [one.key for one in of(job, "throat_under_three")] == [second.key]


def test_the_joint_is_saved_with_its_history_and_the_act_is_written(job: Job, coordinator: Any) -> None:
    accept(job, [of(job, "throat_under_three")[0].key], coordinator)
    last = Joint.objects.get(number="1").history.first()
    assert (last.history_user_name, last.history_change_reason) == ("coordinator", "weld data: Fillet under 3 mm")
    assert acts_on(job)[0].after == {"fields": 1, "joints": 1}


def test_two_fields_of_one_proposal_are_changed_together(job: Job, coordinator: Any) -> None:
    leg = of(job, "leg_entered_as_throat")[0]
    assert accept(job, [leg.key], coordinator) == 2
    joint = Joint.objects.get(number="3")
    assert (joint.throat_mm, joint.leg_mm) == (None, 12)


def test_a_whole_kind_is_taken_over_but_where_two_proposals_differ(job: Job, coordinator: Any) -> None:
    fields, left = accept_rule(job, "throat_under_three", coordinator)
    assert (fields, left) == (2, [])
    # Joint 3: read as leg, or a smaller throat. Nobody but a person says which.
    assert len(of(job, "leg_entered_as_throat")) == 2
    with pytest.raises(NotTaken, match="Two proposals differ for each joint of this kind"):
        accept_rule(job, "leg_entered_as_throat", coordinator)
    assert Joint.objects.get(number="3").throat_mm == 12
    with pytest.raises(NotTaken, match="Nothing of this kind is left"):
        accept_rule(job, "throat_under_three", coordinator)
    with pytest.raises(NotTaken, match="There is no rule"):
        accept_rule(job, "no_rule", coordinator)


def test_proposals_of_two_kinds_that_differ_are_left_too(job: Job, coordinator: Any) -> None:
    throat = Finding("r1", "throat_mm", "12", "", PRACTICE, (Change("throat_mm", "12", "8"),))
    same = replace(throat, rule="r2")
    other = replace(throat, rule="r2", changes=(Change("throat_mm", "12", "7"),))
    joint, next_to = Joint.objects.get(number="3"), Joint.objects.get(number="4")
    found = [Found(joint, throat), Found(joint, other), Found(next_to, throat), Found(next_to, same)]
    disputed = disputed_fields(found)
    assert disputed == {(joint.pk, "throat_mm")}
    assert undisputed(found, disputed) == [found[2]]
    assert disputed_joints(found, disputed) == [joint]


def test_the_page_names_the_joints_that_it_leaves(job: Job, client_of: Any) -> None:
    make_joint(job, number="9", throat_mm=D(40), length_mm=D(500), tack_throat_mm=None)
    page = client_of("coordinator")
    found = text(page.get(page_of(job)))
    assert "2 joints have two proposals" not in found and "1 joint has two proposals that differ" in found
    assert found.count("One of two proposals.") == 2
    assert "Take over the other one" in found
    answer = text(page.post(page_of(job), {"rule": "leg_entered_as_throat"}, follow=True))
    assert "two proposals differ for them: B1/3. Tick one of each." in answer
    assert Joint.objects.get(number="3").throat_mm == 12
    leg = next(one for one in of(job, "leg_entered_as_throat") if len(one.finding.changes) == 2)
    page.post(page_of(job), {"key": [leg.key]})
    assert Joint.objects.get(number="3").leg_mm == 12


def test_two_proposals_for_one_field_are_refused_whole(job: Job, coordinator: Any) -> None:
    keys = [one.key for one in (*of(job, "leg_entered_as_throat"), *of(job, "throat_under_three"))]
    with pytest.raises(NotTaken, match="Two proposals for the fillet throat a of Joint 3"):
        accept(job, keys, coordinator)
    assert not WeldDataChange.objects.exists()
    assert Joint.objects.get(number="1").throat_mm == D("2.5")


def test_what_changed_meanwhile_is_not_taken_over(job: Job, coordinator: Any) -> None:
    first, second = of(job, "throat_under_three")
    joint = Joint.objects.get(number="1")
    joint.throat_mm = D("2.6")
    joint.save()
    with pytest.raises(NotTaken, match="1 of 2 no longer stand"):
        accept(job, [first.key, second.key], coordinator)
    assert not WeldDataChange.objects.exists()


def test_a_question_is_nothing_to_take_over(job: Job, coordinator: Any) -> None:
    with pytest.raises(NotTaken, match="no longer stand"):
        accept(job, [of(job, "not_stated")[0].key], coordinator)
    with pytest.raises(NotTaken, match="Nothing was chosen"):
        accept(job, [], coordinator)


def test_a_finding_of_another_job_is_not_taken_over(job: Job, coordinator: Any) -> None:
    other = make_job(number="other", application_standard="EN 1090-2:2018", execution_class="EXC2")
    with pytest.raises(NotTaken):
        accept(other, [of(job, "throat_under_three")[0].key], coordinator)


@pytest.mark.parametrize("act", ["update", "delete"])
def test_what_was_written_stays(job: Job, coordinator: Any, act: str) -> None:
    accept_rule(job, "throat_under_three", coordinator)
    with pytest.raises(IntegrityError, match="Changes of weld data"), transaction.atomic():
        rows = WeldDataChange.objects.all()
        rows.update(after="9") if act == "update" else rows.delete()


def test_a_removed_joint_leaves_what_was_changed(job: Job, coordinator: Any) -> None:
    accept_rule(job, "throat_under_three", coordinator)
    Joint.objects.get(number="1").delete()
    assert WeldDataChange.objects.filter(joint_number="1").count() == 1
    assert len(list(report_rows(job))) > 2


def test_the_report_names_changes_questions_and_what_is_open(job: Job, coordinator: Any) -> None:
    accept_rule(job, "throat_under_three", coordinator)
    heads, *rows = report_rows(job)
    assert heads == HEADS
    named = [dict(zip(HEADS, row, strict=True)) for row in rows]
    changed = [row for row in named if row["Kind"] == "changed"]
    assert [(row["Joint"], row["In the model"], row["Now"]) for row in changed] == [
        ("1", "2.5 mm", "3 mm"), ("2", "2.8 mm", "3 mm"),
    ]  # fmt: skip
    asked = next(row for row in named if row["Kind"] == "question")
    assert (asked["Joint"], asked["Field"], asked["Now"]) == ("4", "weld length", "")
    assert any(row["Kind"] == "proposed, not taken over" for row in named)


def page_of(job: Job) -> str:
    return reverse("joints:weld_data", args=[job.pk])


def text(response: Any) -> str:
    return " ".join(response.content.decode().split())


def test_the_page_groups_what_was_found(job: Job, client_of: Any) -> None:
    found = text(client_of("coordinator").get(page_of(job)))
    assert "Fillet under 3 mm: 2" in found
    assert "Ask the detailer" in found
    assert "Take over all 2 of this kind" in found
    assert "EN 1993-1-8:2005, 4.5.2(2)" in found


def test_the_page_takes_over_what_is_ticked(job: Job, client_of: Any) -> None:
    page = client_of("coordinator")
    first, second = of(job, "throat_under_three")
    answer = page.post(page_of(job), {"key": [first.key, second.key]}, follow=True)
    assert "2 fields were changed" in text(answer)
    assert "Changed from the model" in text(page.get(Joint.objects.get(number="1").get_absolute_url()))
    answer = page.post(page_of(job), {"key": [first.key]})
    assert answer.status_code == 409 and "no longer stand" in text(answer)
    one = page.post(page_of(job), {"rule": "tack_too_short"}, follow=True)
    assert "1 field was changed and kept with its reason." in text(one)
    assert Joint.objects.get(number="3").tack_length_mm == 50


@pytest.mark.parametrize("name", ["qa", "supervisor", "auditor"])
def test_others_read_and_change_nothing(job: Job, client_of: Any, name: str) -> None:
    page = client_of(name)
    found = text(page.get(page_of(job)))
    assert "Fillet under 3 mm" in found and "Take over" not in found
    assert page.post(page_of(job), {"rule": "throat_under_three"}).status_code == 403
    assert not WeldDataChange.objects.exists()


def test_a_job_without_faults_says_so(client_of: Any) -> None:
    joint = make_joint()
    assert "Nothing is missing" in text(client_of("qa").get(page_of(joint.assembly.job)))


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_the_file_for_the_detailer(job: Job, client_of: Any, kind: str) -> None:
    answer = client_of("auditor").get(page_of(job), {"export": kind})
    data = b"".join(answer.streaming_content) if kind == "csv" else answer.content
    assert "changes-for-the-detailer" in answer["Content-Disposition"]
    if kind == "csv":
        rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))
        assert tuple(rows[0]) == HEADS and len(rows) > 4
    else:
        assert data.startswith(b"PK")
    assert client_of("auditor").get(page_of(job), {"export": "ods"}).status_code == 400


def test_the_page_asks_a_fixed_number_of_questions(
    job: Job, client_of: Any, django_assert_max_num_queries: Any
) -> None:
    page = client_of("coordinator")
    page.get(page_of(job))
    for number in range(5, 30):
        make_joint(job, mark=f"B{number}", number=str(number), throat_mm=D(2))
    with django_assert_max_num_queries(14):
        page.get(page_of(job))


@pytest.mark.parametrize(("field", "shown"), [("throat_mm", "0.236 in"), ("remarks", "6 mm")])
def test_a_remark_stays_as_it_was_typed_in_any_units(field: str, shown: str) -> None:
    plain = "6 mm" if field == "remarks" else "6"
    assert strip_tags(as_stated({"system": System.US}, plain, field)) == f"{field_words(field)} {shown}"


def test_what_was_ticked_is_ticked_again_where_the_sign_in_had_ended(job: Job, client_of: Any) -> None:
    page = client_of("coordinator")
    ticked = next(one for one in check_job(job) if not one.finding.asks)
    answer = page.post(page_of(job), {"key": [ticked.key], "put_back": "1"})
    assert answer.status_code == 422
    assert "nothing is changed yet" in text(answer)
    assert f'value="{ticked.key}" checked' in answer.content.decode()
    assert answer.content.decode().count('" checked') == 1
    assert not job.weld_data_changes.exists()
    assert '" checked' not in page.get(page_of(job)).content.decode()
