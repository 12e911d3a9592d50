"""Where the focus is after the page has changed under it: a part that came anew, a menu that was closed, an act done.

The page is handed to the browser as a file, with the register's own scripts: no server and no database.
"""

from collections.abc import Iterator

import pytest
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from playwright.sync_api import Browser, Page, Route, expect

ORIGIN = "http://register.test"
BASE = render_to_string("base.html")
HTMX = '<script src="/static/register/vendor/htmx-2.0.11.min.js" defer></script>'
OURS = '<script src="/static/register/register.js" defer></script>'
PAGE = f"""<!doctype html><html lang="en"><head><title>Register</title>{HTMX}{OURS}</head><body>
<div id="said" aria-live="polite"></div>
<details class="narrow"><summary>Menu</summary><a href="/jobs/">Jobs</a></details>
<div id="messages" role="status"><p>Saved: job 26-104.</p><p>14 joints are on file.</p></div>
<div><div hx-get="/part/" hx-trigger="come from:body" hx-swap="outerHTML">
<a href="/jobs/1/">Job 1</a> <a href="/why/">Why not</a></div></div>
</body></html>"""
PART = '<div><p>3 of 4 joints are covered.</p><a href="/jobs/1/">Job 1</a> {more}</div>'

LIST = """<!doctype html><html lang="en"><head><title>Jobs</title>
<link rel="stylesheet" href="/static/register/register.css"></head><body><main><div class="scroll">
<table class="list stack{many}"><thead><tr><th><a href="?sort=number">Job</a></th><th>Title</th></tr></thead>
<tbody><tr><th><a href="/jobs/1/">26-104</a></th><td data-label="Title">Hall</td></tr></tbody></table>
</div></main></body></html>"""


@pytest.fixture
def opened(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(base_url=ORIGIN, viewport={"width": 390, "height": 800})
    page = context.new_page()

    def answer(route: Route) -> None:
        path = route.request.url.removeprefix(ORIGIN)
        found = finders.find(path.removeprefix("/static/")) if path.startswith("/static/") else None
        if found:
            return route.fulfill(path=str(found))
        return route.fulfill(body=PAGE if path == "/" else "", content_type="text/html; charset=utf-8")

    page.route("**/*", answer)
    page.goto("/")
    yield page
    context.close()


def come(page: Page, more: str) -> None:
    """The part arrives anew with these further links."""
    page.route("**/part/", lambda route: route.fulfill(body=PART.format(more=more), content_type="text/html"))
    page.evaluate("document.body.dispatchEvent(new Event('come'))")
    expect(page.get_by_text("3 of 4 joints")).to_be_visible()


def test_a_part_that_comes_anew_leaves_the_focus_on_the_same_link(opened: Page) -> None:
    opened.get_by_role("link", name="Why not").focus()
    come(opened, '<a href="/why/">Why not</a>')
    expect(opened.get_by_role("link", name="Why not")).to_be_focused()


def test_where_the_link_is_gone_the_focus_stays_in_the_part(opened: Page) -> None:
    opened.get_by_role("link", name="Why not").focus()
    come(opened, "")
    expect(opened.get_by_role("link", name="Job 1")).to_be_focused()


def test_a_focus_elsewhere_stays_where_it_is(opened: Page) -> None:
    opened.locator("summary").focus()
    come(opened, "")
    expect(opened.locator("summary")).to_be_focused()


def test_escape_closes_the_menu_and_goes_back_to_its_word(opened: Page) -> None:
    opened.locator("summary").focus()
    opened.keyboard.press("Enter")
    opened.keyboard.press("Tab")
    expect(opened.get_by_role("link", name="Jobs")).to_be_focused()
    opened.keyboard.press("Escape")
    expect(opened.locator("details")).not_to_have_attribute("open", "")
    expect(opened.locator("summary")).to_be_focused()


def test_what_was_done_is_said_to_a_screen_reader(opened: Page) -> None:
    assert '<div id="said"' in BASE and 'id="messages"' in BASE
    expect(opened.locator("#said")).to_have_text("Saved: job 26-104. 14 joints are on file.")


def test_how_work_ended_is_said_to_a_screen_reader(opened: Page) -> None:
    page = PAGE.replace("<div><div hx-get", "<main><div hx-get").replace("</div></div>\n", "</div></main>")
    opened.route("**/under-way/", lambda route: route.fulfill(body=page, content_type="text/html; charset=utf-8"))
    opened.goto("/under-way/")
    expect(opened.locator("#said")).to_have_text("Saved: job 26-104. 14 joints are on file.")
    come(opened, '<p role="status">The pack is ready.</p>')
    expect(opened.locator("#said")).to_have_text("The pack is ready.")


@pytest.mark.parametrize("many", ["", " many"])
def test_heads_of_a_list_in_blocks_are_seen_by_whoever_tabs_to_them(opened: Page, many: str) -> None:
    page = LIST.replace("{many}", many)
    opened.route("**/list/", lambda route: route.fulfill(body=page, content_type="text/html; charset=utf-8"))
    opened.goto("/list/")
    heads = opened.locator("thead")
    assert (heads.bounding_box() or {})["height"] <= 1
    opened.keyboard.press("Tab")
    expect(opened.get_by_role("link", name="Job", exact=True)).to_be_focused()
    assert (heads.bounding_box() or {})["height"] >= 24
    opened.keyboard.press("Tab")
    expect(opened.get_by_role("link", name="26-104")).to_be_focused()
    assert (heads.bounding_box() or {})["height"] <= 1


@pytest.mark.parametrize("many", ["", " many"])
def test_ways_to_sort_a_list_in_blocks_are_reached_once(opened: Page, many: str) -> None:
    ways = f'<details class="sorts{many}"><summary>Sorted by job</summary></details><div class="scroll">'
    page = LIST.replace("{many}", many).replace('<div class="scroll">', ways)
    opened.route("**/list/", lambda route: route.fulfill(body=page, content_type="text/html; charset=utf-8"))
    opened.goto("/list/")
    opened.keyboard.press("Tab")
    expect(opened.locator("summary")).to_be_focused()
    opened.keyboard.press("Tab")
    expect(opened.get_by_role("link", name="26-104")).to_be_focused()


def test_what_went_wrong_has_the_focus_wherever_the_address_points(opened: Page) -> None:
    page = PAGE.replace("</body>", '<a id="entry" href="#">Entry</a><p tabindex="-1" data-focus>Not saved.</p></body>')
    opened.route("**/form/**", lambda route: route.fulfill(body=page, content_type="text/html; charset=utf-8"))
    opened.goto("/form/#entry")
    expect(opened.get_by_text("Not saved.")).to_be_focused()
    assert "#" not in opened.url
