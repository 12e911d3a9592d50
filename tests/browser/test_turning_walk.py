"""Corrections taken over, the turning plan, coverage, and what to test next, on the data of the demonstration."""

import re
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from joints.demo.firm import Calendar
from joints.demo.load import write
from joints.models import Assembly, Job, Joint, WeldDataChange
from register.demo import PASSWORD, make_sign_ins
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations

pytestmark = pytest.mark.django_db(transaction=True)
SIZES = ((1280, 900), (375, 800), (320, 640))


@pytest.fixture
def shop(people: dict[str, Any], page: Page) -> Page:
    """The invented shop, fresh as of today, with its coordinator signed in."""
    write(Calendar(timezone.localdate()), make_sign_ins())
    page.goto("/accounts/login/")
    page.locator("[name=username]").fill("marta")
    page.locator("[name=password]").fill(PASSWORD)
    page.locator("form:has([name=password]) [type=submit]").click()
    page.wait_for_url(lambda url: "/accounts/login/" not in url)
    return page


def test_from_corrections_to_coverage(shop: Page) -> None:
    take_corrections_over(shop)
    read_the_plan(shop)
    read_coverage(shop)
    read_what_to_test(shop)


def take_corrections_over(page: Page) -> None:
    """The position that no turn reaches is corrected as a kind, one old steel by its boxes."""
    job = Job.objects.get(number="26-104")
    page.goto(job.get_absolute_url())
    page.get_by_role("link", name="Weld data").click()
    expect(page.locator("main")).to_contain_text("Position that no turn reaches: 9")
    expect(page.locator("main")).to_contain_text("former name of S355J2")
    page.get_by_role("button", name=re.compile("Take over all 9 of this kind")).click()
    expect(page.get_by_role("status")).to_contain_text("9 fields were changed, each kept with its reason.")
    boxes = page.get_by_role("checkbox", name=re.compile("joint 38 of assembly B101, steel"))
    for box in boxes.all():
        box.check()
    # Enter in a box takes over what is ticked, never a whole kind.
    boxes.last.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("2 fields were changed")
    kept = WeldDataChange.objects.filter(joint_number="11", assembly_mark="B101").get()
    assert (kept.before, kept.after, kept.by_name) == ("PA", "PB", "marta")
    with page.expect_download() as download:
        page.get_by_role("link", name="CSV").click()
    assert "changes-for-the-detailer" in download.value.suggested_filename


def read_the_plan(page: Page) -> None:
    """Four stops, proof and pictures; fewer people could not do it in fewer."""
    assembly = Assembly.objects.get(mark="B106")
    page.goto(assembly.get_absolute_url())
    page.get_by_role("link", name="Turning plan").click()
    main = page.locator("main")
    expect(main).to_contain_text("4 stops bring all 12 welds into qualified positions")
    expect(main).to_contain_text("no two can be welded at one stop")
    expect(page.locator("svg.section")).to_have_count(4)
    expect(
        page.get_by_role("img", name=re.compile("Section at a turn of 0°; made there: 1, 5, 10, 12"))
    ).to_be_visible()
    page.get_by_label("Preferred").select_option("no")
    page.get_by_role("button", name="Plan").click()
    expect(page).to_have_url(re.compile("prefer=no"))
    page.goto(reverse("joints:turning_plan", args=[Assembly.objects.get(mark="B101").pk]))
    expect(main).to_contain_text("the geometry is not stated")


def read_coverage(page: Page) -> None:
    """The corrected joint is covered in its new position, and says what it was in the model."""
    joint = Joint.objects.get(assembly__mark="B101", number="11")
    page.goto(joint.get_absolute_url())
    main = page.locator("main")
    expect(main).to_contain_text(re.compile(r"Covered"))
    expect(main).to_contain_text("Position from geometry")
    expect(main).to_contain_text("position PB · 2F (horizontal vertical, fillet), in the model PA")
    steel = Joint.objects.get(assembly__mark="B101", number="38")
    page.goto(steel.get_absolute_url())
    expect(main).to_contain_text(re.compile(r"Covered"))


def read_what_to_test(page: Page) -> None:
    """From the job's reasons to the smallest set of tests, proven, with the joints that each piece buys."""
    job = Job.objects.get(number="26-104")
    page.goto(job.get_absolute_url())
    page.get_by_role("link", name="Why not covered").click()
    main = page.locator("main")
    expect(main).to_contain_text(re.compile(r"\d+ of 279 joints are covered"))
    page.goto(job.get_absolute_url())
    page.get_by_role("link", name="What to test next for this job").click()
    expect(main).to_contain_text(re.compile(r"\d+ procedure tests and \d+ tests of people would cover \d+ of \d+"))
    expect(main).to_contain_text("Proven: no smaller set of the suggested pieces covers the same")
    pieces = main.get_by_role("listitem").filter(has_text="ISO 15614-1:2017")
    expect(pieces.first).to_contain_text("Covers its part of")
    pieces.first.get_by_role("link").first.click()
    expect(page).to_have_url(re.compile(r"/joints/\d+/"))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_for_axe_to_find(shop: Page, scheme: str) -> None:
    shop.emulate_media(color_scheme=scheme)
    job, beam = Job.objects.get(number="26-104"), Assembly.objects.get(mark="B101")
    joint = beam.joints.get(number="11")
    for width, height in SIZES:
        shop.set_viewport_size({"width": width, "height": height})
        for address in (
            reverse("joints:weld_data", args=[job.pk]),
            reverse("joints:turning_plan", args=[beam.pk]),
            reverse("joints:joint_geometry", args=[joint.pk]),
            reverse("joints:assembly_geometry", args=[beam.pk]),
            reverse("joints:geometry_upload", args=[job.pk]),
            joint.get_absolute_url(),
        ):
            shop.goto(address)
            assert_no_axe_violations(shop)
            assert_fits_the_width(shop)
