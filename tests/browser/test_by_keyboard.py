"""Each user's main task from sign-in to its end, on the demonstration, with the keyboard alone."""

import re
from datetime import date
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import Locator, Page, expect

from joints.demo.firm import Calendar
from joints.demo.load import write
from qualifications.models import Certificate
from register.demo import PASSWORD, make_sign_ins
from wps.models import ProcedureRevision, Status

pytestmark = pytest.mark.django_db(transaction=True)
MANY = 250
"""More stops than any page of the demonstration has before its first links of interest."""


@pytest.fixture
def shop(people: dict[str, Any]) -> date:
    """The invented shop, fresh as of today."""
    today = timezone.localdate()
    write(Calendar(today), make_sign_ins())
    return today


def reach(page: Page, wanted: Locator, back: bool = False) -> None:
    """Tab on, or back, until the focus is on what is wanted. Fails where it never gets there or cannot be seen."""
    # A part that comes after the page takes the place of another: whoever had the focus in that one has it no more.
    page.wait_for_load_state("load")
    page.wait_for_function("() => !document.querySelector('.htmx-request')")
    target = wanted.first
    expect(target).to_be_attached()
    node = target.element_handle()
    for _ in range(MANY):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        if page.evaluate("node => document.activeElement === node", node):
            assert page.evaluate(
                "() => { const s = getComputedStyle(document.activeElement);"
                " return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) > 0; }"
            ), f"the focus on {target} cannot be seen"
            return
    pytest.fail(f"{MANY} tabs on {page.url} do not lead to {target}")


def follow(page: Page, name: str | re.Pattern[str], exact: bool = False) -> None:
    """Go to a link or button in the page by Tab and press Enter."""
    main = page.locator("main")
    reach(
        page, main.get_by_role("link", name=name, exact=exact).or_(main.get_by_role("button", name=name, exact=exact))
    )
    before = page.url
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: url != before)


def enter(page: Page, name: str) -> None:
    page.context.clear_cookies()
    page.goto("/accounts/login/")
    reach(page, page.locator("[name=username]"))
    page.keyboard.type(name)
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: "/accounts/login/" not in url)


def place(page: Page, name: str) -> None:
    """Follow one of the places at the head of every page."""
    reach(page, page.locator("nav.wide").get_by_role("link", name=name, exact=True))
    before = page.url
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: url != before)


def test_main_tasks_without_a_mouse(shop: date, page: Page) -> None:
    the_coordinator_asks_for_a_joint_and_approves(page)
    quality_prints_a_sheet(page)
    the_auditor_sees_what_lapses_and_verifies_the_trail(page, shop)


def the_coordinator_asks_for_a_joint_and_approves(page: Page) -> None:
    enter(page, "marta")
    place(page, "Jobs")
    follow(page, re.compile("26-104"))
    follow(page, "B101", exact=True)
    follow(page, "1", exact=True)
    expect(page.locator("main")).to_contain_text("Covered by WPS 001 rev B")
    finding = page.locator("main summary", has_text="Every finding")
    reach(page, finding)
    page.keyboard.press("Enter")
    expect(page.locator("main details[open]").first).to_be_visible()
    page.goto("/")
    follow(page, "WPS 052 rev A")
    follow(page, "Approve")
    reach(page, page.locator("[name=signing_password]"))
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Approved: WPS 052 rev A")
    assert ProcedureRevision.objects.get(procedure__number="WPS 052").status == Status.APPROVED


def quality_prints_a_sheet(page: Page) -> None:
    enter(page, "petra")
    place(page, "Procedures")
    page.keyboard.press("/")
    page.keyboard.type("WPS 052")
    page.keyboard.press("Enter")
    expect(page.get_by_text("1 to 1 of 1")).to_be_visible()
    follow(page, "WPS 052", exact=True)
    follow(page, "Revision A", exact=True)
    sheet = page.get_by_role("link", name="Sheet", exact=True)
    reach(page, sheet)
    # The browser's own viewer is not ours to test: it is asked for, and fetched beside it.
    page.route("**/sheet/**", lambda route: route.fulfill(status=204))
    with page.expect_request(lambda asked: "/sheet/" in asked.url) as asked:
        page.keyboard.press("Enter")
    answer = page.request.get(asked.value.url, timeout=60_000)
    assert (answer.status, answer.headers["content-type"]) == (200, "application/pdf")


def the_auditor_sees_what_lapses_and_verifies_the_trail(page: Page, today: date) -> None:
    enter(page, "ines")
    place(page, "Due")
    due = Certificate.objects.get(number="9606-0441")
    follow(page, due.number, exact=True)
    expect(page.locator("main")).not_to_contain_text("Not valid on")
    reach(page, page.locator("[name=on]"))
    # The year stands last in the field, whichever country the browser is of.
    for key in ("ArrowRight", "ArrowRight", "ArrowUp", "Enter"):
        page.keyboard.press(key)
    page.wait_for_url(re.compile(f"on={today.year + 1}-"))
    expect(page.locator("main")).to_contain_text("Not valid on")
    reach(page, page.locator("footer").get_by_role("link", name="Trail"))
    page.keyboard.press("Enter")
    follow(page, re.compile("whole", re.IGNORECASE))
    expect(page.locator("main")).to_contain_text("The trail is whole")


def test_no_field_moves_off_while_the_answer_comes(sign_in: Any) -> None:
    page = sign_in("coordinator")
    page.goto("/ask/")
    for name, typed in (("weld_type", "butt"), ("position", "PF"), ("final_process", "135")):
        reach(page, page.locator(f"[name={name}]"))
        page.keyboard.type(typed)
        expect(page.locator("#asked")).to_contain_text("Every finding")
        page.wait_for_function("() => !document.querySelector('.htmx-request')")
        expect(page.locator(f"[name={name}]")).to_be_in_viewport(ratio=1)
        expect(page.locator("#asked .large")).to_be_in_viewport(ratio=1)
    expect(page.locator("#asked p")).to_have_count(2)
    reach(page, page.get_by_role("button", name="Ask", exact=True))
    page.keyboard.press("Enter")
    # What the sentence rests on follows the button: seen at once, and the next stops of the keyboard.
    expect(page.get_by_role("heading", name="Final weld", exact=True)).to_be_in_viewport()
    reach(page, page.get_by_role("link", name="Every finding"), back=True)
    page.keyboard.press("Enter")
    expect(page.locator("#findings")).to_be_focused()


def test_a_sign_in_that_ended_brings_no_page_into_the_page(sign_in: Any) -> None:
    page = sign_in("coordinator")
    page.goto("/ask/")
    reach(page, page.locator("[name=t1_mm]"))
    page.keyboard.type("12")
    expect(page.locator("#asked")).to_contain_text("Every finding")
    page.wait_for_function("() => !document.querySelector('.htmx-request')")
    before = page.url
    page.context.clear_cookies()
    page.keyboard.type("5")
    expect(page.get_by_role("alert")).to_contain_text("You are signed out")
    expect(page.locator("[name=username]")).to_have_count(0)
    expect(page.locator("[name=t1_mm]")).to_have_value("125")
    assert page.url == before
