"""A real browser on a live server. Debian's chromium, or whatever CHROMIUM names."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from tests.conftest import PASSWORD

# Playwright's event loop makes Django believe that these tests are asynchronous; they are not.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
VIEWPORT = {"width": 1280, "height": 900}
PATIENCE = 60_000  # ms, for a machine with much else to do; what goes right waits for nothing
expect.set_options(timeout=PATIENCE)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark everything beside this file, so that `-m "not browser"` leaves it out."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker("browser")


@pytest.fixture(scope="session")
def django_db_modify_db_settings(tmp_path_factory: pytest.TempPathFactory) -> None:
    """A file in place of memory: server and test then hold connections of their own, as in the shop."""
    from django.conf import settings

    database = settings.DATABASES["default"]
    if database["ENGINE"].endswith("sqlite3"):
        database.setdefault("TEST", {})["NAME"] = str(tmp_path_factory.mktemp("db") / "browser.sqlite3")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if not path:
        pytest.fail("Missing: chromium. Debian: apt-get install --no-install-recommends chromium")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def page(browser: Browser, live_server: Any, people: dict[str, Any]) -> Iterator[Page]:
    """An empty page on the live server; addresses are relative ("/procedures/").

    The test fails if the browser reports an error: a broken script, a missing file, a breach of the content
    security policy. An answer of 4xx that a test asks for on purpose is put in `page.expected_errors`.
    """
    context = browser.new_context(base_url=live_server.url, viewport=VIEWPORT, locale="en-GB")
    context.set_default_timeout(PATIENCE)
    opened = context.new_page()
    complaints: list[str] = []
    opened.expected_errors = []  # type: ignore[attr-defined]

    def listen(message: ConsoleMessage) -> None:
        if message.type == "error":
            complaints.append(f"{message.text} ({message.location.get('url', '')})")

    opened.on("console", listen)
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    yield opened
    context.close()
    wanted = opened.expected_errors  # type: ignore[attr-defined]
    # A browser asks for this icon by itself wherever an answer is no page of ours.
    unexpected = [t for t in complaints if "/favicon.ico" not in t and not any(part in t for part in wanted)]
    assert not unexpected, "The browser complained:\n" + "\n".join(unexpected)


@pytest.fixture
def sign_in(page: Page) -> Callable[[str], Page]:
    """Sign a fixed person in through the form, as a person would: `page = sign_in("coordinator")`."""

    def through_the_form(name: str) -> Page:
        assert User.objects.filter(username=name).exists(), f"no person {name!r} in tests/conftest.py"
        page.goto("/accounts/login/")
        page.locator("[name=username]").fill(name)
        page.locator("[name=password]").fill(PASSWORD)
        page.locator("form:has([name=password]) [type=submit]").click()
        page.wait_for_url(lambda url: "/accounts/login/" not in url)
        return page

    return through_the_form
