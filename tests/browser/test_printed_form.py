"""A form on paper is a record of what it states: values, what is chosen, no boxes and no buttons."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

pytestmark = pytest.mark.django_db(transaction=True)

DASH = "getComputedStyle(document.querySelector('#part-runs .scroll'), '::after').content"


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


def test_a_part_of_which_nothing_can_be_told_has_no_heading_on_paper(
    page: Page, sign_in: Callable[[str], Page]
) -> None:
    sign_in("coordinator")
    page.goto("/systems/new/")
    signature = page.locator("legend", has_text="Your signature")
    expect(signature).to_be_visible()
    main = printed(page)
    expect(signature).to_be_hidden()
    expect(main.locator("legend", has_text="The system")).to_be_visible()


def test_a_table_in_which_no_row_is_stated_is_a_dash_on_paper(page: Page, sign_in: Callable[[str], Page]) -> None:
    sign_in("coordinator")
    page.goto("/procedures/records/new/?code=ISO%2015614-1%3A2017")
    heads = page.locator("#part-runs thead")
    expect(heads).to_be_visible()
    printed(page)
    expect(heads).to_be_hidden()
    assert page.evaluate(DASH) == '"–"'
    page.locator("#part-runs tbody input").first.evaluate("box => box.value = 'root'")
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    printed(page)
    expect(heads).to_be_visible()
    assert page.evaluate(DASH) in ("none", "normal")
