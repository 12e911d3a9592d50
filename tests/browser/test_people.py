"""People in a browser: ten confirmations signed at once, a designation read, nothing for axe to find."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from qualifications.models import Certificate
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.conftest import PASSWORD
from tests.qualifications.make import certificate, logged, person

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]


@pytest.fixture
def ten(people: dict[str, object]) -> list[Certificate]:
    """Ten certificates due in twenty days, each with a weld in the log."""
    today = timezone.localdate()
    made = []
    for number in range(10):
        holder = person(f"Person {number}", supervisor=people["supervisor"])
        made.append(certificate(holder, number=f"W-{number}", welded_on=today - timedelta(days=163)))
        logged(holder, today - timedelta(days=number))
    return made


def test_ten_confirmations_are_signed_at_once_and_the_strip_of_time_grows(
    sign_in: SignIn, ten: list[Certificate]
) -> None:
    page = sign_in("supervisor")
    page.expected_errors = ["404 (Not Found)"]  # type: ignore[attr-defined]
    address = ten[0].get_absolute_url()
    page.goto(address)
    before = page.locator("svg.strip title").text_content()
    page.goto("/people/confirm/")
    for box in page.get_by_role("checkbox").all():
        box.check()
    page.get_by_role("button", name="Review the chosen").click()
    expect(page.locator("main")).to_contain_text("joint B12/3")
    page.get_by_label("Each of these people").check()
    page.locator("[name=signing_password]").fill(PASSWORD)
    page.get_by_role("button", name="Sign the confirmations").click()
    expect(page.get_by_role("status")).to_contain_text("10 certificates confirmed")
    page.goto(address)
    after = page.locator("svg.strip title").text_content()
    assert before != after
    assert all(one.events.count() == 1 for one in ten)


def test_a_pasted_designation_becomes_a_certificate(sign_in: SignIn, people: dict[str, object]) -> None:
    holder = person("Ida Voss")
    page = sign_in("coordinator")
    page.expected_errors = ["404 (Not Found)"]  # type: ignore[attr-defined]
    page.goto(f"/people/{holder.pk}/certificates/new/")
    page.get_by_label("Designation").fill("ISO 9606-1 135 P FW FM1 S t10 PB ml")
    page.get_by_role("button", name="Read it").click()
    page.locator("[name=number]").fill("N-77")
    page.locator("[name=welded_on]").fill(timezone.localdate().isoformat())
    page.locator("[name=option]").select_option("b")
    page.get_by_role("button", name="Save").click()
    expect(page.locator("h1")).to_have_text("Certificate N-77")
    expect(page.locator("main")).to_contain_text("Valid on")
    expect(page.locator("main")).to_contain_text("ISO 9606-1:2012, 5.8, Table 10")


@pytest.mark.parametrize("scheme", ["light"])
@pytest.mark.parametrize("size", [(320, 640)], ids=str)
def test_axe_finds_nothing_on_the_pages_of_people(
    page: Page, sign_in: SignIn, ten: list[Certificate], size: tuple[int, int], scheme: str
) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.emulate_media(color_scheme=scheme)
    page.expected_errors = ["404 (Not Found)"]  # type: ignore[attr-defined]
    sign_in("coordinator")
    one = ten[0]
    for address in (
        "/people/",
        f"/people/{one.person_id}/",
        f"/people/{one.person_id}/?on=2024-01-01",
        f"/people/{one.person_id}/certificates/new/",
        f"/people/{one.person_id}/certificates/new/?code=ISO 9606-1:2012",
        one.get_absolute_url() + "?on=today",
        f"/people/certificates/{one.pk}/confirm/",
        f"/people/certificates/{one.pk}/revoke/",
        "/people/confirm/",
        "/people/due/",
        "/people/log/",
        "/people/log/new/",
    ):
        page.goto(address)
        assert_no_axe_violations(page)
        assert_fits_the_width(page)
