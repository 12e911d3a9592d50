"""Signing in and out, as a person does it."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.conftest import PASSWORD, PEOPLE


def test_a_page_asked_for_first_is_shown_after_signing_in(page: Page) -> None:
    page.goto("/accounts/login/?next=/health/")
    page.locator("[name=username]").fill("qa")
    page.locator("[name=password]").fill(PASSWORD)
    page.locator("form:has([name=password]) [type=submit]").click()
    page.wait_for_url("**/health/")


def test_a_wrong_password_is_said_and_nobody_is_signed_in(page: Page) -> None:
    page.goto("/accounts/login/")
    page.locator("[name=username]").fill("qa")
    page.locator("[name=password]").fill("not the password")
    page.locator("form:has([name=password]) [type=submit]").click()
    expect(page.locator("main")).to_contain_text("This name and password do not go together")
    assert not [cookie for cookie in page.context.cookies() if cookie["name"] == "sessionid"]


@pytest.mark.parametrize("name", PEOPLE)
def test_in_and_out(name: str, sign_in: Callable[[str], Page]) -> None:
    page = sign_in(name)
    page.expected_errors = ["403", "404"]  # type: ignore[attr-defined]
    page.goto("/")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/accounts/login/**")
    assert not [cookie for cookie in page.context.cookies() if cookie["name"] == "sessionid"]
