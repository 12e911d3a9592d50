"""Planning a large job in the background: started, shown, kept with its day, stale when what it rests on changed."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from joints.kept.rests_on import WORDS, changed, rests_on
from joints.models import Job, Joint
from joints.planning.plan import plan
from joints.planning.shown import from_plain, plain, shown
from joints.planning.work import plan_tests
from joints.ready import day_of
from register.background.models import State, Work
from register.background.progress import Cancelled
from register.held.firm import firm_settings
from tests.joints.makers import make_job, make_joint, make_station
from tests.register.background.test_work import hold, take

pytestmark = pytest.mark.django_db
Clients = Callable[[str], Client]
__all__ = ["hold"]


@pytest.fixture(autouse=True)
def all_are_large(monkeypatch: Any) -> None:
    monkeypatch.setattr("joints.planning.views.JobTests.at_once", 0)


@pytest.fixture
def job() -> Job:
    make_joint(number="1")
    return make_joint(number="2", position="").assembly.job


def said(page: Client, url: str, **asked: object) -> str:
    return " ".join(page.get(url, asked).content.decode().split())


def test_a_plan_reads_the_same_when_it_was_kept(job: Job) -> None:
    found = shown(plan([job], day_of(timezone.localdate())))
    assert found.parts[0].bought and found.blocked and len(found.nearest) == 2
    assert from_plain(json.loads(json.dumps(plain(found)))) == found


def test_started_shown_kept_and_stale(job: Job, client_of: Clients, hold: Any) -> None:
    page, url = client_of("qa"), reverse("joints:planning", args=[job.pk])
    assert "Work it out</button>" in said(page, url) and "procedure test" not in said(page, url)
    assert page.post(url).url == url  # type: ignore[attr-defined]
    assert page.post(url).status_code == 302 and Work.objects.count() == 1, "the same is not asked twice"
    waiting = said(page, url)
    assert f'hx-get="{url}"' in waiting and "Give it up" in waiting and "Work it out" not in waiting
    part = page.get(url, headers={"HX-Request": "true"})
    assert "<html" not in part.content.decode() and "HX-Refresh" not in part
    assert "Give it up" not in said(client_of("supervisor"), url), "it is somebody else's"
    work = take(hold)
    assert (work.state, work.result_url) == (State.DONE, f"{url}?on={timezone.localdate()}")
    assert page.get(url, headers={"HX-Request": "true"}).headers["HX-Refresh"] == "true"
    kept = said(page, url)
    assert "1 procedure test and 1 test of a person would cover 1 of 2 uncovered joints" in kept
    assert "for qa, as of" in kept and "Nothing that it rests on has changed since." in kept
    assert page.get(url, {"export": "csv"}).status_code == 200
    make_joint(number="3")
    stale = said(page, url)
    assert "<strong>Out of date:</strong> since then changed: the joints." in stale and "would cover 1 of 2" in stale
    assert "Work it out anew" in stale and "Work it out" not in said(client_of("auditor"), url)
    plan_tests.start(work.asked_by, "again", small=True, **work.arguments)
    assert "Out of date" not in said(page, url)
    work.refresh_from_db()
    assert work.result is None, "only the newest is kept"
    other = said(page, url, on="2026-03-02")
    assert f'<a href="?on={timezone.localdate()}">' in other and "would cover" not in other


def test_given_up_it_leaves_nothing_and_says_so(job: Job, client_of: Clients, qa: Any, monkeypatch: Any) -> None:
    def give_up(*asked: object) -> None:
        raise Cancelled

    monkeypatch.setattr("joints.planning.work.plan_for", give_up)
    arguments = {"jobs": [job.pk], "on": timezone.localdate().isoformat()}
    work = plan_tests.start(qa, "x", small=True, **arguments)
    assert (work.state, work.result) == (State.CANCELLED, None)
    page = said(client_of("qa"), reverse("joints:planning", args=[job.pk]))
    assert "The last attempt, of qa: Given up as asked." in page and "Work it out</button>" in page


def test_whoever_may_not_start_work_is_answered_at_once(job: Job, client_of: Clients) -> None:
    assert "1 procedure test" in said(client_of("auditor"), reverse("joints:planning", args=[job.pk]))
    assert client_of("auditor").post(reverse("joints:planning", args=[job.pk])).status_code == 403


def test_each_part_has_a_mark_of_its_own(job: Job) -> None:
    on, settings = timezone.localdate(), firm_settings()
    before = rests_on([job.pk], on, settings)
    assert set(before) == set(WORDS) and changed(before, rests_on([job.pk], on, settings)) == []

    def now() -> list[str]:
        return changed(before, rests_on([job.pk], on, settings))

    joint = Joint.objects.first()
    assert joint is not None
    joint.save()
    assert now() == [WORDS["joints"]], "saved anew it may be another"
    job.title = "Other"
    job.save()
    make_station(name="Cell 9")
    assert now() == [WORDS["joints"], WORDS["jobs"], WORDS["places"]]
    assert changed(before, rests_on([job.pk], on, {**settings, "x": "y"}))[-1] == WORDS["readings"]
    make_joint(make_job(number="other"), number="9")
    assert now() == [WORDS["joints"], WORDS["jobs"], WORDS["places"]], "another job's joints are none of these"
