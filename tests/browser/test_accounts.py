"""Trail and accounts in a browser: nothing for axe to find; a wrong password is said at its field and signs nothing."""

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page, expect

from register.audit import record_act
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.conftest import PASSWORD

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]


@pytest.mark.parametrize("width", [375])
@pytest.mark.parametrize("scheme", ["light"])
def test_axe_finds_nothing(sign_in: SignIn, people: dict[str, User], width: int, scheme: str) -> None:
    record_act(people["qa"], "signed", people["qa"], before={"status": "draft"}, after={"status": "approved"}, note="x")
    page = sign_in("coordinator")
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    one = people["qa"].pk
    for address in (
        "/trail/",
        "/trail/verify/",
        "/accounts/",
        "/accounts/new/",
        f"/accounts/{one}/",
        "/accounts/password/",
    ):
        page.goto(address)
        assert_no_axe_violations(page)
        assert_fits_the_width(page)


def test_an_account_is_made_and_signed_for(sign_in: SignIn) -> None:
    page = sign_in("coordinator")
    page.expected_errors = ["422"]  # type: ignore[attr-defined]
    page.get_by_role("link", name="Accounts").click()
    page.get_by_role("link", name="Add an account").click()
    page.get_by_label("Name to sign in with").fill("anna")
    page.get_by_label("quality assurance").check()
    page.get_by_label("New password").fill("Kehlnaht a5 in PB")
    page.get_by_label("Your password").fill("guess")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("This is not your password")
    expect(page.get_by_label("Your password")).to_have_value("")
    assert not User.objects.filter(username="anna").exists()
    page.get_by_label("New password").fill("Kehlnaht a5 in PB")
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("status")).to_contain_text("Saved: anna")
    assert User.objects.get(username="anna").groups.get().name == "qa"
