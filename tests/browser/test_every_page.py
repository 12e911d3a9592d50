"""Every page, on a desk in light and on a phone in the dark: nothing for axe to find. On a phone and on a tablet none
scrolls sideways.

The pages are those of the access test, with its samples. Each is answered within the test's own transaction by Django's
test client and handed to the browser as a file: no server, and no emptying of tables between pages. The other files of
this folder ask axe about the same pages in other states, on a narrow phone in light alone.
"""

from collections.abc import Callable, Iterator
from urllib.parse import urlsplit

import pytest
from django.contrib.staticfiles import finders
from django.test import Client
from playwright.sync_api import Browser, Page, Route, ViewportSize

from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.register.test_access import GUARDED, Address, location

ORIGIN = "http://register.test"
DESK: ViewportSize = {"width": 1280, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 800}
TABLET: ViewportSize = {"width": 820, "height": 900}


@pytest.fixture(scope="module")
def empty_page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(base_url=ORIGIN, viewport=DESK, locale="en-GB", reduced_motion="reduce")
    yield context.new_page()
    context.close()


def shown(page: Page, url: str, answer: bytes) -> None:
    """Open the page as it was answered; style sheets and scripts come from the source folders, later parts do not."""

    def hand_out(route: Route) -> None:
        path = urlsplit(route.request.url).path
        if path == urlsplit(url).path and route.request.resource_type == "document":
            return route.fulfill(body=answer, content_type="text/html; charset=utf-8")
        found = finders.find(path.removeprefix("/static/")) if path.startswith("/static/") else None
        return route.fulfill(path=str(found)) if found else route.fulfill(status=204)

    page.unroute_all(behavior="ignoreErrors")
    page.route("**/*", hand_out)
    page.goto(ORIGIN + url)


@pytest.mark.django_db
@pytest.mark.parametrize("address", GUARDED, ids=[address.name for address in GUARDED])
def test_axe_finds_nothing(address: Address, client_of: Callable[[str], Client], empty_page: Page) -> None:
    url = location(address)
    response = client_of("coordinator").get(url)
    if response.status_code != 200 or not response.headers["Content-Type"].startswith("text/html"):
        pytest.skip("no page of its own")
    answer = b"".join(response.streaming_content) if response.streaming else response.content  # type: ignore[arg-type]
    if b"<html" not in answer[:300]:
        pytest.skip("a part of another page")
    page = empty_page
    page.set_viewport_size(DESK)
    page.emulate_media(color_scheme="light")
    shown(page, url, answer)
    assert_no_axe_violations(page)
    for size in (TABLET, PHONE):
        page.set_viewport_size(size)
        assert_fits_the_width(page)
    page.emulate_media(color_scheme="dark")
    assert_no_axe_violations(page, rules=("color-contrast",))
