"""Coverage of large jobs in the background, of several together, and the least margins of their assemblies."""

import json
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal as D
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from codes.units import System
from joints.day import Day
from joints.kept.coverage import answer_jobs, joints_of, named
from joints.kept.matrix import from_plain, plain
from joints.margins import Room
from joints.matrix import Matrix, matrix
from joints.models import Job
from register.background.models import State, Work
from register.background.progress import Cancelled
from tests.joints.makers import ON, certificate, make_job, make_joint, procedure
from tests.register.background.test_work import hold, take

pytestmark = pytest.mark.django_db
Clients = Callable[[str], Client]
__all__ = ["hold"]


@pytest.fixture
def job() -> Job:
    make_joint(number="1")
    return make_joint(number="2", position="").assembly.job


@pytest.fixture
def large(monkeypatch: Any) -> None:
    for view in ("JobPage", "JobCoverage"):
        monkeypatch.setattr(f"joints.views.jobs.{view}.at_once", 0)
    monkeypatch.setattr("joints.views.home.AT_ONCE", 0)


def said(page: Client, url: str, **asked: object) -> str:
    return " ".join(page.get(url, asked).content.decode().split())


def counted(*jobs: Job) -> Matrix:
    """On a day with one procedure, 3 to 30 mm, and one welder."""
    shop, keys = Day(ON), [job.pk for job in jobs]
    shop.procedures, shop.certificates = (procedure(),), (certificate(),)
    return matrix(named(shop.answers(joints_of(keys)), keys), rooms=True)


def test_the_least_margin_of_an_assembly_names_joint_variable_clause_and_giver() -> None:
    """28 mm in 3 to 30 mm is 2 mm of 28; 40 mm misses by 10 mm, which is less than any room."""
    for number, thick in (("1", "12"), ("2", "28")):
        job = make_joint(number=number, t1_mm=thick, t2_mm=thick).assembly.job
    (one,) = counted(job).assemblies
    assert one.room is not None and one.tight[1] == "2"
    assert (one.room.margin, one.room.giver, one.room.phase) == ("2 mm to spare", "WPS 014 rev C", "tack")
    assert one.room.sentence == "Parent thickness 28 mm within 3 to 30 mm, as WPS 014 rev C states"
    # 1.102 in of 0.119 to 1.181 in: the ends are rounded inwards, what is left downwards.
    us = one.room.for_reader(System.US)
    assert us.margin == "0.078 in to spare" and us.for_reader(System.SI) is us
    assert us.sentence == "Parent thickness 1.102 in within 0.119 to 1.181 in, as WPS 014 rev C states"
    make_joint(number="3", t1_mm="40", t2_mm="40", mark="B2")
    found = counted(job)
    assert [(a.mark, a.tight[1], a.room and a.room.margin) for a in found.assemblies] == [
        ("B1", "2", "2 mm to spare"), ("B2", "3", "misses by 10 mm"),
    ]  # fmt: skip
    assert "outside 3 to 30 mm" in str(found.assemblies[1].room and found.assemblies[1].room.sentence)
    kept = json.loads(json.dumps(plain(found)))
    assert from_plain(kept) == found
    before = kept["assemblies"][0][3].pop()
    old = from_plain(kept).assemblies[0].room
    assert before and old is not None and old.for_reader(System.US).margin == "2 mm to spare"


def test_several_jobs_are_named_with_their_assemblies(job: Job, client_of: Clients) -> None:
    other = make_joint(make_job(number="24-099"), number="7").assembly.job
    assert [one.mark for one in counted(job, other).assemblies] == ["24-031 B1", "24-099 B1"]
    page, url = client_of("auditor"), reverse("joints:job_coverage", args=[job.pk])
    assert "Together with other jobs" in said(page, url)
    together = said(page, url, **{"with": other.pk})
    assert "0 of 3 joints are covered" in together and "24-099 B1/7" in together
    assert f"with={other.pk}&amp;export=csv" in together or f"export=csv&amp;with={other.pk}" in together
    assert page.get(url, {"with": other.pk, "export": "csv"}).status_code == 200


@pytest.mark.parametrize("others", ["9" * 30, "9" * 5000, "\u0663" * 5000, "-1", "x"], ids=lambda one: one[:9])
def test_a_key_of_another_job_that_no_job_has(job: Job, client_of: Clients, others: str) -> None:
    url = reverse("joints:job_coverage", args=[job.pk])
    assert client_of("coordinator").get(url, {"with": others}).status_code == 200


def test_the_page_of_a_job_fetches_the_margins(job: Job, client_of: Clients) -> None:
    page, url = client_of("auditor"), reverse("joints:job_matrix", args=[job.pk])
    assert f'hx-get="{url}"' in said(page, job.get_absolute_url()) and "Least margin" not in said(
        page, job.get_absolute_url()
    )
    assert "Least margin" in said(page, url) and "<html" not in said(page, url)


@pytest.mark.usefixtures("large")
def test_the_least_margins_are_in_the_units_of_the_reader(job: Job, client_of: Clients, monkeypatch: Any) -> None:
    """A result that was kept, on the page of the job; and the part that a small job fetches."""
    kept = plain(counted(Job.objects.get(pk=job.pk)))
    monkeypatch.setattr("joints.views.jobs.kept_matrix", lambda standing: from_plain(kept))
    page, part = client_of("coordinator"), reverse("joints:job_matrix", args=[job.pk])
    monkeypatch.setattr("joints.views.jobs.matrix", lambda answers, rooms: from_plain(kept))
    for url in (job.get_absolute_url(), reverse("joints:job_coverage", args=[job.pk]), part):
        in_si, in_us = said(page, url, units="si"), said(page, url, units="us")
        assert " mm to spare" in in_si and " in to spare" not in in_si
        assert " in to spare" in in_us and " mm to spare" not in in_us


@pytest.mark.usefixtures("large")
def test_large_jobs_are_answered_in_the_background(job: Job, client_of: Clients, hold: Any) -> None:
    page, url = client_of("coordinator"), job.get_absolute_url()
    first = said(page, url)
    assert 'hx-trigger="load, submit"' in first and "joints are covered" not in first
    assert "answered in the background" in said(page, reverse("joints:job_counts", args=[job.pk]))
    assert page.post(url, headers={"HX-Request": "true"}).headers["HX-Refresh"] == "true"
    assert 'hx-trigger="every 1s"' in said(page, url) and Work.objects.count() == 1
    work = take(hold)
    assert (work.state, work.message) == (State.DONE, "0 of 2 joints are covered; 2 outside.")
    coverage = reverse("joints:job_coverage", args=[job.pk])
    assert work.result_url == f"{coverage}?on={timezone.localdate()}"
    for address in (url, coverage):
        shown = said(page, address)
        assert "0 of 2 joints are covered; 2 outside." in shown and "Least margin" in shown
        assert "Nothing that it rests on has changed since." in shown and "load, submit" not in shown
    assert "2 of 2 joints are not covered" in said(page, reverse("joints:job_counts", args=[job.pk]))
    make_joint(number="3")
    assert "since then changed: the joints" in said(page, url)


@pytest.mark.usefixtures("large")
def test_given_up_it_is_not_begun_again_by_itself(job: Job, client_of: Clients, qa: Any, monkeypatch: Any) -> None:
    def give_up(*asked: object) -> None:
        raise Cancelled

    monkeypatch.setattr("joints.day.Day.answers", give_up)
    work = answer_jobs.start(qa, "x", small=True, jobs=[job.pk], on=timezone.localdate().isoformat())
    assert (work.state, work.result) == (State.CANCELLED, None)
    page = said(client_of("qa"), job.get_absolute_url())
    assert "The last attempt, of qa: Given up" in page and "load, submit" not in page


def test_a_margin_names_the_standard_of_a_certificate_once() -> None:
    held = Room(
        D(0), "at its limit", "Deposited thickness", "3 mm", "3 to 10 mm", "ISO 9606-1:2012, 5.7, Table 6",
        "tested s = 5 mm: 3 mm to 2 s", "Noor Haddad, 9606-0425 (ISO 9606-1:2012)", "final",
    )  # fmt: skip
    assert held.sentence == (
        "Deposited thickness 3 mm within 3 to 10 mm by Noor Haddad, 9606-0425 (ISO 9606-1:2012, 5.7, Table 6)"
    )
    assert held.why == held.because
    own = replace(held, giver="WPS 014 rev C", clause="WPS 014 rev C, range stated", because="as the procedure states")
    assert (own.sentence, own.why) == ("Deposited thickness 3 mm within 3 to 10 mm, as WPS 014 rev C states", "")
