"""Procedures in a browser: a value judged while it is typed, an approval by somebody else, nothing for axe to find."""

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.conftest import PASSWORD
from tests.wps.iso import iso_draft, iso_record
from tests.wps.us import AWS, prequalified_draft, us_record
from wps.models import ProcedureRevision, Status

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]


@pytest.fixture
def draft(people: dict[str, object]) -> ProcedureRevision:
    """A complete draft by the coordinator."""
    return iso_draft(people["coordinator"], [iso_record()])


def test_a_value_is_judged_while_it_is_typed(sign_in: SignIn, draft: ProcedureRevision) -> None:
    page = sign_in("coordinator")
    page.goto(reverse("wps:revision_edit", args=[draft.pk]))
    answer = page.locator("#live-parent_t")
    page.get_by_label("Parent thickness, mm, to").fill("30")
    expect(answer).to_contain_text("misses by 6 mm")
    page.get_by_label("Parent thickness, mm, to").fill("20")
    expect(answer).to_contain_text("3 mm to spare")
    page.get_by_label("speed from, mm/min").first.fill("200")
    page.keyboard.press("Tab")
    expect(page.locator("#live-runs")).to_contain_text("kJ/mm")
    page.get_by_role("button", name="Save the draft").click()
    expect(page.locator("main")).to_contain_text("6 to 20 mm")
    draft.refresh_from_db()
    assert draft.window["parent_t"] == {"min": "6", "max": "20"}


def test_the_sketch_follows_what_is_typed(sign_in: SignIn, draft: ProcedureRevision) -> None:
    page = sign_in("coordinator")
    page.goto(reverse("wps:revision_edit", args=[draft.pk]))
    sketch = page.locator("#sketch")
    before = sketch.inner_html()
    assert "<svg" in before
    page.get_by_label("How the parts meet").select_option("end_plate")
    expect(sketch.locator("svg").first).to_contain_text("end plate")
    page.get_by_label("Drawn thickness t1, mm").fill("-3")
    page.get_by_label("Preparation", exact=True).select_option("single_v")
    expect(sketch).to_contain_text("two prepared edges")


def test_a_prequalified_procedure_typed_in_inches(sign_in: SignIn, people: dict[str, object]) -> None:
    written = prequalified_draft(people["coordinator"])
    page = sign_in("coordinator")
    page.goto(reverse("wps:revision_edit", args=[written.pk]))
    page.get_by_label("Fillet leg z, mm, from").fill("7/16 in")
    page.get_by_label("Fillet leg z, mm, to").fill("7/16 in")
    expect(page.locator("#live-leg_z")).to_contain_text("misses by")
    expect(page.locator("#live-leg_z")).to_contain_text("0.375 in")
    page.get_by_role("button", name="Save the draft").click()
    expect(page.locator("main")).to_contain_text("Why it is not prequalified:")
    expect(page.locator("main")).to_contain_text("0.438 in")


def test_somebody_else_checks_and_approves(sign_in: SignIn, draft: ProcedureRevision) -> None:
    page = sign_in("second_coordinator")
    page.goto(draft.get_absolute_url())
    page.get_by_role("link", name="Check").click()
    page.get_by_role("button", name="Mark as checked").click()
    page.get_by_role("link", name="Approve").click()
    page.locator("[name=signing_password]").fill(PASSWORD)
    page.get_by_role("button", name="Approve").click()
    expect(page.get_by_role("status")).to_contain_text("Approved: WPS 014 rev A")
    draft.refresh_from_db()
    assert draft.status == Status.APPROVED


ADDRESSES = (
    "list",
    "records",
    "procedure",
    "revision",
    "write",
    "record",
    "enter",
    "not prequalified",
    "write us",
    "pqr",
)


@pytest.mark.parametrize("width", [1280, 375])
@pytest.mark.parametrize("which", ADDRESSES)
def test_nothing_for_axe_to_find(
    sign_in: SignIn, people: dict[str, object], draft: ProcedureRevision, which: str, width: int
) -> None:
    page = sign_in("coordinator")
    page.set_viewport_size({"width": width, "height": 900})
    record = draft.records.get()
    us, pqr = prequalified_draft(people["coordinator"], leg_z="12"), us_record(AWS)
    page.goto(
        {
            "list": reverse("wps:procedure_list"),
            "records": reverse("wps:record_list"),
            "procedure": draft.procedure.get_absolute_url(),
            "revision": draft.get_absolute_url(),
            "write": reverse("wps:revision_edit", args=[draft.pk]),
            "record": record.get_absolute_url(),
            "enter": reverse("wps:record_edit", args=[record.pk]),
            "not prequalified": us.get_absolute_url(),
            "write us": reverse("wps:revision_edit", args=[us.pk]),
            "pqr": pqr.get_absolute_url(),
        }[which]
    )
    assert_no_axe_violations(page)
    assert_fits_the_width(page)
