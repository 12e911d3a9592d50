"""What was typed into a long form outlives the end of a sign-in, for whoever typed it and for nobody else."""

from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.conftest import PASSWORD
from tests.wps.factory import KNOWN_CODE
from wps.models import TestRecord

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]
KEPT = "sessionStorage.getItem('kept-entries')"
NOTE = "You were signed out before this was saved."


@pytest.fixture
def typed(sign_in: SignIn) -> Page:
    """A test record of two pieces, typed by the coordinator, whose sign-in has ended; not sent yet."""
    page = sign_in("coordinator")
    page.goto(f"{reverse('wps:record_new')}?code={KNOWN_CODE}")
    page.locator("[name=number]").fill("WPQR 050")
    page.get_by_role("button", name="One more test piece").click()
    page.locator("[name=piece1_parent_t]").fill("19,4")
    Session.objects.all().delete()
    return page


def send(page: Page) -> None:
    page.get_by_role("button", name="Save the record").click()
    page.wait_for_url("**/accounts/login/**")


def come_in(page: Page, name: str) -> None:
    page.locator("[name=username]").fill(name)
    page.locator("[name=password]").fill(PASSWORD)
    page.locator("form:has([name=password]) [type=submit]").click()
    page.wait_for_url(lambda url: "/accounts/login/" not in url)


def test_it_stands_in_the_form_again_and_is_saved_then(typed: Page) -> None:
    page = typed
    page.expected_errors = ["422"]  # type: ignore[attr-defined]
    send(page)
    come_in(page, "coordinator")
    expect(page.get_by_role("alert").first).to_contain_text(NOTE)
    expect(page.locator("[name=number]")).to_have_value("WPQR 050")
    expect(page.locator("[name=piece1_parent_t]")).to_have_value("19,4")
    assert not TestRecord.objects.exists()
    assert page.evaluate(KEPT) is None
    page.locator("[name=piece0_parent_t]").fill("12")
    page.get_by_role("button", name="Save the record").click()
    page.wait_for_load_state()
    page.goto(f"{reverse('wps:record_new')}?code={KNOWN_CODE}")
    expect(page.locator("[name=number]")).to_have_value("")
    assert page.evaluate(KEPT) is None


def test_somebody_else_at_the_same_browser_gets_nothing_of_it(typed: Page) -> None:
    page = typed
    page.expected_errors = ["403"]  # type: ignore[attr-defined]
    send(page)
    assert "19,4" in page.evaluate(KEPT)
    come_in(page, "qa")
    page.wait_for_load_state()
    assert page.evaluate(KEPT) is None
    # Nor comes it back where its owner signs in again later.
    page.goto("/")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/accounts/login/**")
    page.goto(f"/accounts/login/?next={reverse('wps:record_new')}%3Fcode={KNOWN_CODE}")
    come_in(page, "coordinator")
    expect(page.locator("[name=number]")).to_have_value("")


def test_whoever_may_enter_the_same_does_not_see_it_either(typed: Page, people: dict[str, Any]) -> None:
    """The other one lands on the very form."""
    page, other = typed, people["qa"]
    other.groups.set(people["coordinator"].groups.all())
    send(page)
    come_in(page, "qa")
    expect(page.locator("[name=number]")).to_have_value("")
    expect(page.get_by_text(NOTE)).to_have_count(0)
    assert page.evaluate(KEPT) is None


def test_signing_out_takes_it_away(typed: Page) -> None:
    page = typed
    page.expected_errors = ["422"]  # type: ignore[attr-defined]
    send(page)
    page.goto("/accounts/login/")
    come_in(page, "coordinator")
    assert "19,4" in page.evaluate(KEPT)
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/accounts/login/**")
    assert page.evaluate(KEPT) is None


def test_it_is_not_kept_for_longer_than_a_shift(typed: Page) -> None:
    page = typed
    send(page)
    page.evaluate(
        "() => { const one = JSON.parse(sessionStorage.getItem('kept-entries'));"
        " one.at -= 12 * 3600 * 1000 + 1000; sessionStorage.setItem('kept-entries', JSON.stringify(one)); }"
    )
    come_in(page, "coordinator")
    expect(page.locator("[name=number]")).to_have_value("")
    assert page.evaluate(KEPT) is None


def test_a_form_whose_token_is_no_longer_right_is_kept_too(sign_in: SignIn) -> None:
    """Somebody signed in anew in another window: the form is refused, and asked for again stands as it was sent."""
    page = sign_in("coordinator")
    page.expected_errors = ["403", "422"]  # type: ignore[attr-defined]
    page.goto(f"{reverse('wps:record_new')}?code={KNOWN_CODE}")
    page.locator("[name=number]").fill("WPQR 051")
    page.evaluate("document.querySelector('main [name=csrfmiddlewaretoken]').value = 'x'.repeat(64)")
    page.get_by_role("button", name="Save the record").click()
    page.wait_for_load_state()
    page.goto(f"{reverse('wps:record_new')}?code={KNOWN_CODE}")
    expect(page.get_by_role("alert").first).to_contain_text(NOTE)
    expect(page.locator("[name=number]")).to_have_value("WPQR 051")


def test_no_secret_is_kept(sign_in: SignIn) -> None:
    page = sign_in("coordinator")
    page.goto(f"{reverse('wps:record_new')}?code={KNOWN_CODE}")
    page.locator("[name=number]").fill("WPQR 052")
    page.evaluate(
        "() => { const form = document.querySelector('form[data-put-back]');"
        " for (const [type, name] of [['password', 'signing_password'], ['text', 'signing_code']]) {"
        " const box = document.createElement('input'); box.type = type; box.name = name; box.value = 'secret words';"
        " if (type === 'text') { box.autocomplete = 'one-time-code'; } form.append(box); } }"
    )
    Session.objects.all().delete()
    send(page)
    kept = page.evaluate(KEPT)
    assert "WPQR 052" in kept
    assert "secret words" not in kept
    assert "csrfmiddlewaretoken" not in kept
