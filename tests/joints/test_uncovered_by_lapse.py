"""What a lapse would uncover: who is the only one, on which day, for which joints."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from codes.validity import Due, Ending, Period, Validity
from joints import uncovered_by_lapse as module
from joints.day import Day
from joints.models import Job
from joints.uncovered_by_lapse import Uncovered, uncovered_by_lapse
from qualifications.offers import CertificateOffer
from tests.joints.makers import ON, RANGE, certificate, make_job, make_joint, procedure, validity
from tests.qualifications import make

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
BY = date(2026, 12, 10)


def due(by: date = BY) -> Validity:
    """Valid up to a day by which a confirmation is due."""
    ending = Ending("validity_confirmation", "not confirmed", RANGE)
    period = Period(date(2026, 1, 1), by, "confirmed", ending, (Due("confirmation", by, RANGE),))
    return Validity((period,), ending)


def day(*certificates: CertificateOffer) -> Day:
    """The day of the tests with hand-made offers."""
    made = Day(ON)
    made.procedures, made.certificates = (procedure(),), certificates
    return made


def ask(*certificates: CertificateOffer) -> Uncovered:
    return uncovered_by_lapse(day(*certificates))


@pytest.fixture
def job() -> Job:
    return make_job()


def test_the_only_one_who_may_weld(job: Job) -> None:
    for n in range(14):
        make_joint(job, number=str(n))
    found = ask(certificate(valid=due()))
    (lapse,) = found.lapses
    assert lapse.on == date(2026, 12, 11)
    assert lapse.sentence == "If 135-1 of Ada Krol lapses on 2026-12-11, 14 joints of job 24-031 have nobody."
    assert [one.sentence for one in found.together] == [
        "If nothing is done within 30 days, 1 certificate lapses and 14 joints of job 24-031 have nobody."
    ]


def test_where_somebody_else_may_a_lapse_uncovers_nothing_but_both_together_do(job: Job) -> None:
    make_joint(job)
    found = ask(certificate(valid=due()), certificate("Bo Lang", pk=2, valid=due(date(2027, 1, 10))))
    assert found.lapses == ()
    assert [(one.days, one.certificates, [loss.joints for loss in one.losses]) for one in found.together] == [
        (30, 1, []),
        (60, 2, [1]),
    ]
    assert found.together[0].sentence == (
        "If nothing is done within 30 days, 1 certificate lapses; "
        "no joint still to be welded loses the last person who may weld it."
    )


def test_a_second_certificate_of_the_same_person_keeps_the_joint(job: Job) -> None:
    make_joint(job)
    first = certificate(valid=due())
    second = CertificateOffer(9, 1, "Ada Krol", "", "welder", first.sets, validity(), code=first.code, number="135-9")
    assert ask(first, second).lapses == ()


def test_what_nobody_may_weld_now_is_lost_to_nobody(job: Job) -> None:
    make_joint(job, final_process="111")
    found = ask(certificate(valid=due()))
    # The tacks are welded with 135 and would be lost; the final weld has nobody already.
    assert [loss.joints for lapse in found.lapses for loss in lapse.losses] == [1]
    make_joint(job, number="2", final_process="111", tack_process="111")
    assert [loss.joints for lapse in ask(certificate(valid=due())).lapses for loss in lapse.losses] == [1]


@pytest.mark.parametrize(("ends", "lost"), [(date(2026, 12, 10), 0), (date(2026, 12, 11), 1), (None, 1)])
def test_only_jobs_that_still_run_when_it_lapses(ends: date | None, lost: int) -> None:
    make_joint(make_job(ends_on=ends))
    assert len(ask(certificate(valid=due())).lapses) == lost


@pytest.mark.parametrize(("starts", "lost"), [(date(2026, 12, 11), 1), (date(2026, 12, 12), 0)])
def test_only_jobs_that_have_begun_when_it_lapses(starts: date, lost: int) -> None:
    make_joint(make_job(starts_on=starts))
    assert len(ask(certificate(valid=due())).lapses) == lost


def test_each_lapse_is_asked_of_the_jobs_of_its_own_day() -> None:
    """The job begins between the two lapses."""
    make_joint(make_job(starts_on=date(2027, 1, 1)))
    found = ask(certificate(valid=due()), certificate("Bo Lang", pk=2, valid=due(date(2027, 1, 10)), kind="operator"))
    assert found.lapses == ()


@pytest.mark.parametrize(("planned", "lost"), [(date(2026, 12, 10), 0), (date(2026, 12, 11), 1), (None, 1)])
def test_a_joint_planned_before_the_lapse_is_not_lost(job: Job, planned: date | None, lost: int) -> None:
    make_joint(job, weld_date=planned)
    assert len(ask(certificate(valid=due())).lapses) == lost


def test_one_joint_is_said_as_one_and_jobs_by_number_of_joints() -> None:
    small, large = make_job(number="A"), make_job(number="B")
    make_joint(small)
    make_joint(large), make_joint(large, number="2")
    (lapse,) = ask(certificate(valid=due())).lapses
    assert lapse.sentence.endswith("2 joints of job B and 1 joint of job A have nobody.")
    large.assemblies.all().delete()
    assert ask(certificate(valid=due())).lapses[0].sentence.endswith("1 joint of job A has nobody.")


def test_the_earliest_of_several_dues_counts(job: Job) -> None:
    make_joint(job)
    ending = Ending("x", "x", RANGE)
    dues = (Due("new test", date(2027, 3, 1), RANGE), Due("confirmation", BY, RANGE))
    valid = Validity((Period(date(2026, 1, 1), BY, "confirmed", ending, dues),), ending)
    (lapse,) = ask(certificate(valid=valid)).lapses
    assert (lapse.item.act, lapse.on) == ("confirmation", date(2026, 12, 11))


def test_with_nothing_due_nothing_is_asked(job: Job, django_assert_num_queries: Any) -> None:
    make_joint(job)
    asked = day(certificate())
    asked.certificates = (certificate(valid=validity(end=date(2028, 1, 1))),)
    with django_assert_num_queries(0):
        assert uncovered_by_lapse(asked) == Uncovered((), ())


def test_the_page_and_its_part(client_of: SignIn, monkeypatch: pytest.MonkeyPatch, job: Job) -> None:
    make_joint(job)
    from joints.views import uncovered

    monkeypatch.setattr(uncovered, "day_of", lambda on: day(certificate(valid=due())))
    browser = client_of("auditor")
    address = reverse("joints:uncovered_by_lapse")
    page = browser.get(address, {"on": ON.isoformat()}).content.decode()
    assert "lapses on 2026-12-11, 1 joint of job 24-031 has nobody." in page
    assert "<h1>" in page
    part = browser.get(address, {"on": ON.isoformat()}, headers={"HX-Request": "true"}).content.decode()
    assert "lapses on 2026-12-11" in part
    assert "<h1>" not in part
    make.certificate(make.person("Ina Voss"), welded_on=date(2026, 6, 10))
    due_page = browser.get(reverse("qualifications:due")).content.decode()
    assert f'hx-get="{address}"' in due_page


def test_it_agrees_with_asking_each_joint_anew(job: Job) -> None:
    """The same count by asking every joint on the day without the certificate."""
    for n, position in enumerate(("PB", "PF", "PB", "PD")):
        make_joint(job, number=str(n), position=position)
    from codes.limits import Limit, OneOf

    only_pb = certificate("Ada Krol", Limit("position", OneOf(("PB",)), RANGE, "tested PB"), valid=due())
    both = certificate("Bo Lang", Limit("position", OneOf(("PA", "PF")), RANGE, "tested PF"), pk=2, valid=due())
    whole = day(only_pb, both)
    found = uncovered_by_lapse(whole)
    for lapse in found.lapses:
        kept = [c for c in whole.certificates if c.certificate_id != lapse.item.certificate_id]
        before = {a.pk for a in whole.answers(module.Joint.objects.all()) if a.result.final.person_ids}
        after = {a.pk for a in day(*kept).answers(module.Joint.objects.all()) if a.result.final.person_ids}
        assert len(before - after) == lapse.losses[0].joints
