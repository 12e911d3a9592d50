"""The main job end to end, on the data of the demonstration: list in, verdict, approval, sheet, confirmation, audit."""

import re
from collections.abc import Callable
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from joints.demo.firm import Calendar
from joints.demo.load import write
from joints.models import Job, Joint
from qualifications.models import Certificate
from register.demo import PASSWORD, make_sign_ins
from wps.models import ProcedureRevision, Status

pytestmark = pytest.mark.django_db(transaction=True)
LIST = Path(str(files("joints.demo") / "import_300.csv"))
SignIn = Callable[[str], Page]


@pytest.fixture
def shop(people: dict[str, Any]) -> date:
    """The invented shop, fresh as of today."""
    today = timezone.localdate()
    write(Calendar(today), make_sign_ins())
    return today


@pytest.fixture
def enter(page: Page) -> SignIn:
    """Sign in as somebody of the demonstration, whoever was signed in before."""

    def through_the_form(name: str) -> Page:
        page.context.clear_cookies()
        page.goto("/accounts/login/")
        page.locator("[name=username]").fill(name)
        page.locator("[name=password]").fill(PASSWORD)
        page.locator("form:has([name=password]) [type=submit]").click()
        page.wait_for_url(lambda url: "/accounts/login/" not in url)
        return page

    return through_the_form


def test_from_the_list_to_the_audit(shop: date, enter: SignIn) -> None:
    page = enter("marta")
    take_in_the_list(page)
    read_verdicts(page)
    approve(page)
    print_the_sheet(page)
    confirm_a_certificate(enter("petra"))
    look_but_change_nothing(enter("ines"))


def take_in_the_list(page: Page) -> None:
    """Upload, look, take in: all 300 or none."""
    job = Job.objects.get(number="27-002")
    page.goto(job.get_absolute_url())
    page.get_by_role("link", name="Take in a list").first.click()
    page.set_input_files("[name=file]", LIST)
    page.get_by_role("button", name="Read the list").click()
    expect(page.locator("main")).to_contain_text("All 300 rows can be taken in. Nothing was written yet.")
    assert Joint.objects.filter(assembly__job=job).count() == 0
    page.get_by_role("link", name=re.compile("Take it in")).click()
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator("main")).to_contain_text("300 joints are on file")
    assert Joint.objects.filter(assembly__job=job).count() == 300


def read_verdicts(page: Page) -> None:
    """One joint that is covered, one that is not: each says so first, and why."""
    page.get_by_role("link", name="K7-B01").first.click()
    page.get_by_role("link", name="1", exact=True).first.click()
    expect(page.locator("main")).to_contain_text("Covered by WPS 001 rev B")
    expect(page.locator("main")).to_contain_text("may weld it")
    thick = Joint.objects.get(assembly__mark="K7-C07", number="1")
    page.goto(thick.get_absolute_url())
    expect(page.locator("main")).to_contain_text(
        re.compile(r"Outside:? parent thickness 15 mm \+ 60 mm, WPS 00\d rev . allows \d+ to \d\d mm")
    )


def approve(page: Page) -> None:
    """What the other coordinator wrote comes into force; what leaves its records does not."""
    page.goto("/")
    page.get_by_role("link", name="WPS 052 rev A").click()
    page.get_by_role("link", name="Approve").click()
    page.locator("[name=signing_password]").fill(PASSWORD)
    page.get_by_role("button", name="Approve").click()
    expect(page.get_by_role("status")).to_contain_text("Approved: WPS 052 rev A")
    found = ProcedureRevision.objects.get(procedure__number="WPS 052")
    assert (found.status, found.approved_by.username) == (Status.APPROVED, "marta")


def print_the_sheet(page: Page) -> None:
    """The sheet for the bay comes as a PDF, and again the very same."""
    address = page.get_by_role("link", name="Sheet").first.get_attribute("href")
    assert address
    first, again = (page.request.get(address) for _ in range(2))
    assert first.status == 200 and first.headers["content-type"] == "application/pdf"
    assert first.body().startswith(b"%PDF-") and first.body() == again.body()


def confirm_a_certificate(page: Page) -> None:
    """QA signs the confirmation that is due first, on evidence of the weld log."""
    due = Certificate.objects.get(number="9606-0441")
    page.goto(reverse("qualifications:due"))
    page.get_by_role("link", name=due.number).first.click()
    page.get_by_role("link", name="Confirm").first.click()
    page.locator("[name=use]").first.check()
    page.locator("[name=signing_password]").fill(PASSWORD)
    page.locator("main form button[type=submit]").first.click()
    expect(page.get_by_role("status")).to_be_visible()
    event = due.events.get()
    assert (event.kind, event.by_user.username) == ("confirmation", "petra")


def look_but_change_nothing(page: Page) -> None:
    """The auditor reads everything and finds no way to change it."""
    joint = Joint.objects.get(assembly__mark="K7-C07", number="1")
    revision = ProcedureRevision.objects.get(procedure__number="WPS 053")
    certificate = Certificate.objects.get(number="9606-0441")
    for thing in (joint, joint.assembly, joint.assembly.job, revision, certificate, certificate.person):
        assert page.goto(thing.get_absolute_url()).status == 200
        acts = re.compile("^(Change|Remove|Approve|Withdraw|Confirm|Revoke|Take in|Add)")
        assert page.get_by_role("link", name=acts).count() + page.get_by_role("button", name=acts).count() == 0
    page.expected_errors = ["403"]  # type: ignore[attr-defined]
    for address in (
        reverse("joints:joint_edit", args=[joint.pk]),
        reverse("joints:import_upload", args=[joint.assembly.job_id]),
        reverse("wps:revision_approve", args=[revision.pk]),
        reverse("qualifications:confirm", args=[certificate.pk]),
    ):
        assert page.goto(address).status == 403
