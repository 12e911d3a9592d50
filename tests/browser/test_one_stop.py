"""A list of boxes is one stop of the Tab key, gone through by the arrow keys; without the script each box is one."""

from typing import Any

import pytest
from django.contrib.auth.models import User
from django.urls import reverse
from playwright.sync_api import Page, expect

from joints.models import Job
from tests.browser.axe import assert_no_axe_violations
from tests.joints.makers import make_joint
from wps.models import Procedure, ProcedureRevision

pytestmark = pytest.mark.django_db(transaction=True)
STOPS = """part => [...document.querySelectorAll(part + ' a[href], ' + part + ' input')]
    .filter(way => way.tabIndex >= 0).length"""


def focused(page: Page) -> str:
    return str(page.evaluate("() => document.activeElement.value || document.activeElement.textContent"))


def press(page: Page, *keys: str) -> str:
    for key in keys:
        page.keyboard.press(key)
    return focused(page)


@pytest.fixture
def job(people: dict[str, Any]) -> Job:
    """Three joints without a process for their tacks, and more that is to be asked or proposed."""
    for number in "123":
        made = make_joint(number=number, tack_process="", remarks="")
    return made.assembly.job


def test_lines_of_weld_data_are_one_stop_each_kind(sign_in: Any, job: Job) -> None:
    page = sign_in("coordinator")
    page.goto(reverse("joints:weld_data", args=[job.pk]))
    groups = page.locator("[data-one-stop]:has(a)").count()
    links, boxes = (page.locator(f"[data-one-stop] {way}").count() for way in ("a", "input"))
    assert groups and links + boxes > groups
    assert page.evaluate(STOPS, "[data-one-stop]") == groups
    expect(page.locator("#arrows")).to_be_visible()
    lines = page.locator("[data-one-stop]:has(input)").first
    lines.locator("input").first.focus()
    first, second = (lines.locator("input").nth(at).get_attribute("value") for at in (0, 1))
    assert press(page, "ArrowDown") == second
    page.keyboard.press("Space")
    expect(lines.locator("input").nth(1)).to_be_checked()
    assert press(page, "ArrowRight").endswith("/2")
    assert press(page, "ArrowUp").endswith("/1")
    assert press(page, "ArrowLeft") == first
    assert press(page, "ArrowUp") == first, "there is no line above"
    page.keyboard.press("End")
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Take over what is ticked").first).to_be_focused()
    page.keyboard.press("Shift+Tab")
    assert focused(page) == lines.locator("input").last.get_attribute("value"), "where it was left"
    assert_no_axe_violations(page)


def test_boxes_of_a_draft_are_one_stop_each_entry(sign_in: Any) -> None:
    page = sign_in("coordinator")
    procedure = Procedure.objects.create(number="WPS 1", title="Butt welds")
    author = User.objects.get(username="coordinator")
    made = ProcedureRevision.objects.create(procedure=procedure, letter="A", code="ISO 15614-1:2017", author=author)
    page.goto(reverse("wps:revision_edit", args=[made.pk]))
    groups = page.locator("[data-one-stop]:has(input)")
    assert page.evaluate(STOPS, "[data-one-stop]") == groups.count() > 5
    boxes = groups.first.locator("input")
    boxes.first.focus()
    values = [boxes.nth(at).get_attribute("value") for at in range(3)]
    assert press(page, "ArrowDown", "ArrowDown") == values[2]
    page.keyboard.press("Space")
    expect(boxes.nth(2)).to_be_checked()
    assert press(page, "Home") == values[0]
    assert page.evaluate(STOPS, "[data-one-stop]") == groups.count()
