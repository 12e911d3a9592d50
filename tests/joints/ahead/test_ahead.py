"""The weeks ahead of a job: the very days on which joints lose and gain somebody, and whom they hang on."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.urls import reverse

from codes.validity import Period, Validity
from codes.verdict import Outcome
from joints.ahead.forecast import forecast
from joints.ahead.holders import held_joints
from joints.ahead.one_person import hanging
from joints.ahead.withdrawn import counted, welded_to_withdrawn
from joints.day import Day
from joints.models import Job, Joint, WeldRunFinding
from tests.joints.makers import ON, certificate, make_job, make_joint, procedure, validity
from tests.joints.weld_logs import make_procedure
from wps.models import ProcedureRevision

pytestmark = pytest.mark.django_db
DAY = timedelta(days=1)
ENDS = date(2027, 4, 5)


def asked(*certificates, on: date = ON) -> Day:
    made = Day(on)
    made.procedures, made.certificates = (procedure(),), certificates
    return made


def spells(*spans: tuple[date, date]) -> Validity:
    """Valid in each of these, both days included."""
    first = validity().periods[0]
    return Validity(tuple(Period(a, b, "confirmed", first.ending) for a, b in spans), validity().before)


@pytest.fixture
def job() -> Job:
    return make_job()


def test_the_day_after_the_last_is_the_first_without_anybody(job: Job) -> None:
    make_joint(job)
    make_joint(job, number="2", final_process="111")
    found = forecast(job, asked(certificate(valid=validity(end=ENDS))))
    (change,) = found.changes
    assert (change.on, [one.named for one in change.lost], change.gained) == (ENDS + DAY, ["B1/1"], ())
    assert change.sentence == (
        "From 2027-04-06, 1 joint is no longer covered: 135-1 of Ada Krol no longer counts "
        "(not confirmed in six months)."
    )
    assert found.sentence == (
        "1 of 2 joints are covered on 2026-11-25; the first to lose it do so in week 14, on 2027-04-06."
    )


def test_a_week_counts_only_joints_that_are_covered_on_each_of_its_days(job: Job) -> None:
    make_joint(job)
    found = forecast(job, asked(certificate(valid=validity(end=ENDS))))
    weeks = {one.start: one for one in found.weeks}
    assert found.weeks[0].start == ON and found.weeks[1].start == date(2026, 11, 30)
    # 5 April 2027 is the Monday of week 14: covered on that day, and on no other of the week.
    assert (weeks[ENDS].number, weeks[ENDS].covered, weeks[ENDS].open) == (14, 0, 1)
    assert weeks[ENDS - 7 * DAY].covered == 1
    assert [(one.words, one.covered) for one in found.spells] == [("48 to 13", 1), ("14 to 21", 0)]
    assert forecast(job, asked(certificate(valid=validity(end=ENDS + 6 * DAY)))).weeks[19].covered == 1


def test_somebody_who_begins_covers_again(job: Job) -> None:
    make_joint(job)
    later = certificate("Bo Lang", pk=2, valid=validity(start=ENDS + 10 * DAY, end=date(2028, 1, 1)))
    found = forecast(job, asked(certificate(valid=validity(end=ENDS)), later))
    assert [(one.on, len(one.lost), len(one.gained)) for one in found.changes] == [
        (ENDS + DAY, 1, 0),
        (ENDS + 10 * DAY, 0, 1),
    ]
    assert found.changes[1].sentence == (
        "From 2027-04-15, 1 joint is covered that is not before: 135-2 of Bo Lang begins to count."
    )


def test_nothing_changes_where_somebody_else_stays(job: Job) -> None:
    make_joint(job)
    found = forecast(
        job, asked(certificate(valid=validity(end=ENDS)), certificate("Bo Lang", pk=2, valid=validity(end=None)))
    )
    assert found.changes == ()
    assert "none of them loses its cover until 2027-05-26 as things stand" in found.sentence


def test_the_forecast_is_what_each_day_answers(job: Job) -> None:
    """Day by day for eight weeks, with certificates that come, go and come back."""
    make_joint(job)
    make_joint(job, number="2", position="PA", t1_mm=8)
    make_joint(job, number="3", final_process="136")
    held = (
        certificate(valid=spells((ON - DAY, ON + 9 * DAY), (ON + 12 * DAY, ON + 30 * DAY))),
        certificate("Bo Lang", pk=2, valid=spells((ON + 20 * DAY, ON + 41 * DAY))),
    )
    found = forecast(job, asked(*held), weeks=8)
    covered = set(found.covered)
    changes = {change.on: change for change in found.changes}
    for n in range(8 * 7 + 1):
        on = ON + n * DAY
        if on in changes:
            covered -= {one.pk for one in changes[on].lost}
            covered |= {one.pk for one in changes[on].gained}
        answers = asked(*held, on=on).answers(Joint.objects.all())
        assert covered == {one.pk for one in answers if one.result.outcome is Outcome.COVERED}, on
    assert len(changes) == 3


def test_a_withdrawal_ahead_is_a_change_too(job: Job) -> None:
    """A procedure that ends next week; the days ahead are asked of what is on file."""
    make_joint(job)
    revision = make_procedure()
    ProcedureRevision.objects.filter(pk=revision.pk).update(
        status="withdrawn", ended_on=ON + 7 * DAY, ended_reason="not needed", ended_name="Ines Duarte"
    )
    found = forecast(job, asked(certificate(valid=validity(end=None))))
    (change,) = found.changes
    # The hand-made procedure is not on file, so from that day on none is in force.
    assert change.on == ON + 7 * DAY and len(change.lost) == 1
    assert "is no longer in force" in change.sentence


def test_a_joint_hangs_on_the_only_one_who_may_weld_it(job: Job) -> None:
    make_joint(job)
    make_joint(job, number="2")
    today = asked(certificate(valid=validity(end=ENDS)))
    (one,) = hanging(list(held_joints(job, today)), today)
    assert (one.name, len(one.joints), one.ends) == ("Ada Krol", 2, ENDS + DAY)
    assert one.sentence == "Ada Krol alone may weld 2 joints; from 2027-04-06 the first of them have nobody."
    both = asked(certificate(valid=validity(end=ENDS)), certificate("Bo Lang", pk=2))
    assert hanging(list(held_joints(job, both)), both) == ()


def test_nobody_is_missed_where_somebody_takes_over_in_time(job: Job) -> None:
    make_joint(job)
    later = certificate("Bo Lang", pk=2, valid=spells((ENDS - DAY, date(2031, 1, 1))))
    today = asked(certificate(valid=validity(end=ENDS)), later)
    (one,) = hanging(list(held_joints(job, today)), today)
    assert one.ends is None and one.sentence.endswith("it is not left without anybody within three years.")


def test_a_joint_that_has_nobody_for_one_phase_hangs_on_no_one(job: Job) -> None:
    """Whoever may make its final weld alone cannot make the joint: nothing is lost with them."""
    make_joint(job)
    today = asked(certificate(valid=validity(end=ENDS)))
    (one,) = held_joints(job, today)
    assert len(hanging([one], today)) == 1
    assert hanging([replace(one, phases=((), one.phases[1]))], today) == ()


def test_welded_to_a_procedure_withdrawn_since(job: Job) -> None:
    joint = make_joint(job)
    revision = make_procedure()
    facts = {"outcome": "covered", "samples": 1, "arc_seconds": 1, "file_name": "a.csv", "sha256": "0" * 64}
    for order in (0, 1):
        WeldRunFinding.objects.create(job=job, revision=revision, joint=joint, order=order, **facts)
    run = WeldRunFinding.objects.first()
    today = run.uploaded_at.date()
    assert welded_to_withdrawn(job, today) == ()
    ProcedureRevision.objects.filter(pk=revision.pk).update(
        status="withdrawn", ended_on=today + DAY, ended_reason="wrong gas", ended_name="Ines Duarte"
    )
    assert welded_to_withdrawn(job, today) == ()
    (one,) = welded_to_withdrawn(job, today + DAY)
    assert one.sentence.startswith("B1/1 was welded to WPS log") and one.sentence.endswith(": wrong gas.")
    assert counted((one,)) == "1 joint was welded to a procedure that was withdrawn since."


def test_the_page_and_the_file(client_of, job: Job) -> None:
    make_joint(job)
    page = client_of("coordinator")
    url = reverse("joints:job_ahead", args=[job.pk])
    text = " ".join(page.get(url).content.decode().split())
    assert "0 of 1 joints is covered" in text and "Week by week" in text
    assert reverse("joints:job_ahead", args=[job.pk]) in page.get(job.get_absolute_url()).content.decode()
    file = b"".join(page.get(url, {"export": "csv"}).streaming_content).decode()
    assert "B1/1,no,,," in file
    assert page.get(url, {"export": "xlsx"}).status_code == 200
    assert page.get(url, {"export": "pdf"}).status_code == 400
