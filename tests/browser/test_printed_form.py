"""A form on paper is a record of what it states: values, what is chosen, no boxes and no buttons."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

pytestmark = pytest.mark.django_db(transaction=True)


def printed(page: Page) -> Locator:
    """What stands on the paper, as the browser lays it out when it is asked to print."""
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    return page.locator("main")


def test_values_stand_in_place_of_their_boxes_and_go_again(page: Page, sign_in: Callable[[str], Page]) -> None:
    sign_in("coordinator")
    page.goto("/jobs/new/")
    title, day = page.get_by_label("Title"), page.locator("main input[type=date]").first
    title.fill("A hall whose title is far longer than the box in which it is typed on the screen " * 2)
    day.fill("2026-11-29")
    main = printed(page)
    expect(main.locator(".stated", has_text="far longer than the box")).to_be_visible()
    expect(main.get_by_text("2026-11-29", exact=True)).to_be_visible()
    for hidden in (title, day, main.get_by_role("button")):
        expect(hidden.first).to_be_hidden()
    expect(main.locator(".stated.none").first).to_have_text("–")
    page.emulate_media(media="screen")
    expect(main.locator(".stated").first).to_be_hidden()
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(main.locator(".stated")).to_have_count(0)
    expect(title).to_be_visible()


def test_a_password_and_a_file_stay_off_the_paper(page: Page, sign_in: Callable[[str], Page]) -> None:
    sign_in("coordinator")
    page.goto("/accounts/password/")
    expect(page.locator("main input[type=password]").first).to_be_visible()
    expect(printed(page).locator(".field").first).to_be_hidden()
