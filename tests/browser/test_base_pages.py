"""The shared pages in a browser: nothing for axe to find, light and dark, desk and phone; and by keyboard alone."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from joints.models import Job
from register.models import AuditEntry
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.urls("tests.register.base_pages")]

SIZES = [(320, 640)]
SCHEMES = ["light"]


@pytest.fixture
def job(people: dict[str, object]) -> Job:
    AuditEntry.objects.bulk_create(AuditEntry(user_name="ines", act=f"act {n:03}", note="n") for n in range(60))
    return Job.objects.create(number="4711", title="Hall", client="Nordhafen")


@pytest.fixture(autouse=True)
def no_home_page_here(page: Page) -> None:
    """These addresses have no first page, to which signing in leads."""
    page.expected_errors = ["404 (Not Found)"]


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_axe_finds_nothing_on_the_shared_pages(
    page: Page, sign_in: Callable[[str], Page], job: Job, size: tuple[int, int], scheme: str
) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.emulate_media(color_scheme=scheme)
    page.expected_errors += ["400 (Bad Request)", "404 (Not Found)"]
    page.goto("/accounts/login/")
    assert_no_axe_violations(page)
    sign_in("coordinator")
    for address in (
        "/acts-for-tests/?sort=act",
        "/acts-for-tests/?user_name=ines",
        "/acts-for-tests/?q=nowhere",
        "/acts-for-tests/?on=2024-02-29",
        "/acts-for-tests/?on=rubbish",
        "/jobs-for-tests/",
        f"/jobs-for-tests/{job.pk}/show/",
        f"/jobs-for-tests/{job.pk}/rename/",
        "/nowhere/",
    ):
        page.goto(address)
        assert_no_axe_violations(page)
        assert_fits_the_width(page)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_axe_finds_nothing_on_a_form_that_was_refused(
    page: Page, sign_in: Callable[[str], Page], job: Job, scheme: str
) -> None:
    page.emulate_media(color_scheme=scheme)
    page.expected_errors += ["422", "409"]
    sign_in("coordinator")
    page.goto(f"/jobs-for-tests/{job.pk}/")
    page.get_by_label("Job number").fill("")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Job number: Missing; enter it.")
    assert_no_axe_violations(page)
    job.title = "changed meanwhile"
    job.save()
    page.get_by_label("Job number").fill("4711")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("it changed while you were writing")
    assert_no_axe_violations(page)


def test_a_form_is_filled_and_saved_by_keyboard_alone(page: Page, sign_in: Callable[[str], Page], job: Job) -> None:
    sign_in("coordinator")
    page.goto(f"/jobs-for-tests/{job.pk}/")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Job number")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.type("Hall North")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/jobs-for-tests/(#main)?$"))
    job.refresh_from_db()
    assert job.title == "Hall North"


def test_the_slash_goes_to_the_search(page: Page, sign_in: Callable[[str], Page], job: Job) -> None:
    sign_in("auditor")
    page.goto("/acts-for-tests/")
    page.keyboard.press("/")
    page.keyboard.type("act 007")
    page.keyboard.press("Enter")
    expect(page.get_by_text("1 to 1 of 1")).to_be_visible()


def test_a_phone_has_the_places_in_a_menu_with_room_for_a_thumb(
    page: Page, sign_in: Callable[[str], Page], job: Job
) -> None:
    page.set_viewport_size({"width": 320, "height": 640})
    sign_in("auditor")
    page.goto("/acts-for-tests/")
    for control in page.locator("button:visible, .pager a:visible, summary:visible").all():
        box = control.bounding_box()
        assert box is not None and box["height"] >= 44, control.inner_text()
    assert page.locator("nav.wide").count() == 0 or not page.locator("nav.wide").is_visible()


def test_our_own_font_is_the_one_that_is_used(page: Page) -> None:
    page.goto("/accounts/login/")
    page.wait_for_function("document.fonts.status == 'loaded'")
    loaded = page.evaluate("[...document.fonts].filter(f => f.status == 'loaded').map(f => f.family)")
    assert any(re.fullmatch('"?Plex"?', family) for family in loaded), loaded
