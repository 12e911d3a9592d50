"""From a list and a model to answers: columns named, cells corrected, taken in, weld data, turning plan, coverage."""

import re
from pathlib import Path

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from joints.demo.firm import CELL
from joints.models import Assembly, ImportBatch, Job, Joint
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.browser.test_turning_walk import shop as shop  # the invented shop, its coordinator signed in
from tests.joints.files import xlsx_of

pytestmark = pytest.mark.django_db(transaction=True)
MODEL = Path(__file__).parents[1] / "joints" / "model_files" / "two-welds.ifc"
HEAD = ["Baugruppe", "Naht", "Weld type", "Joint type", "Thickness [in]", "a-Maß", "Grade", "Position", "Process"]
PHONE = {"width": 375, "height": 800}


def send(page: Page, job: Job, file: object, **said: str) -> None:
    """Send a file in by the form, with what it says of it."""
    page.goto(reverse("joints:import_upload", args=[job.pk]))
    page.get_by_label("List or model").set_input_files(file)
    for name, value in said.items():
        entry = page.locator(f"[name={name}]")
        entry.fill(value) if name == "sender" else entry.select_option(value)
    page.get_by_role("button", name="Read the list").click()


def looked_at(page: Page) -> None:
    """Nothing for axe to find, on a desk and on a phone."""
    before = page.viewport_size
    for size in (before, PHONE):
        page.set_viewport_size(size)
        assert_no_axe_violations(page)
        assert_fits_the_width(page)
    page.set_viewport_size(before)


def take_it_in(page: Page) -> None:
    page.get_by_role("link", name="Take it in …").click()
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_role("status")).to_contain_text("on file")


def test_a_list_in_another_language_then_again(shop: Page, tmp_path: Path) -> None:
    job, main = Job.objects.get(number="27-002"), shop.locator("main")
    first, second = tmp_path / "liste.xlsx", tmp_path / "liste-2.xlsx"
    row = ["Z1", "1", "fillet", "tee", "1/2", 5, "S355J2", "PB", 135]
    first.write_bytes(xlsx_of([HEAD, row, ["Z1", "2", *row[2:6], "S999", *row[7:]], ["Z1", "3", *row[2:]]]))
    second.write_bytes(xlsx_of([HEAD, [*row[:5], 6, *row[6:]], ["Z1", "2", *row[2:6], "S999", *row[7:]]]))
    send(shop, job, first, sender="Brücke Nord")
    expect(main).to_contain_text("Which column is which?")
    looked_at(shop)
    for index, name in enumerate(("Assembly (needed)", "Joint number (needed)")):
        shop.locator(f"[name=column-{index}]").select_option(name)
    shop.locator("[name=column-5]").select_option("Throat a")
    shop.get_by_role("button", name="Read the list so").click()
    expect(main).to_contain_text("1 cell cannot be taken. Nothing was written.")
    looked_at(shop)
    shop.get_by_label("Row 3, Grade").fill("S355J2")
    shop.get_by_role("button", name="Read again with this").click()
    expect(main).to_contain_text("All 3 rows can be taken in.")
    take_it_in(shop)
    send(shop, job, second, sender="Brücke Nord", scope="whole")
    expect(main).to_contain_text("1 changed (1 field), 1 no longer in it, 1 as before.")
    expect(main).to_contain_text("Kept as corrected here")
    looked_at(shop)
    take_it_in(shop)
    expect(main).to_contain_text("No longer in the model: 1")
    assert sorted(Joint.objects.filter(assembly__job=job).values_list("number", "throat_mm")) == [("1", 6), ("2", 5)]
    shop.goto(Joint.every.get(assembly__mark="Z1", number="3").get_absolute_url())
    expect(main).to_contain_text("The answer on the day of each import")
    looked_at(shop)


def test_a_model_to_its_turning_plan_and_coverage(shop: Page) -> None:
    pytest.importorskip("ifcopenshell", reason="optional: pip install -r requirements-ifc.txt")
    job, main = Job.objects.get(number="27-002"), shop.locator("main")
    where = {"final_workstation": CELL, "tack_workstation": CELL, "tack_process": "135"}
    send(shop, job, MODEL, **where)
    expect(main).to_contain_text("Read as IFC4: 2 welds.")
    take_it_in(shop)
    shop.goto(reverse("joints:weld_data", args=[job.pk]))
    shop.get_by_role("button", name=re.compile("Take over all 2 of this kind")).first.click()
    expect(shop.get_by_role("status")).to_contain_text("2 fields were changed")
    shop.goto(reverse("joints:turning_plan", args=[Assembly.objects.get(mark="AS-0001").pk]))
    expect(main).to_contain_text(re.compile(r"stop"))
    expect(main).to_contain_text("W-001")
    shop.goto(reverse("joints:job_coverage", args=[job.pk]))
    expect(main).to_contain_text("of 2 joints")
    shop.goto(ImportBatch.objects.get().get_absolute_url())
    with shop.expect_download() as download:
        shop.get_by_role("link", name="The model with today's answers").click()
    written = Path(download.value.path()).read_bytes()
    assert written.count(b"'WeldRegister_Coverage'") == 2
    assert written.startswith(MODEL.read_bytes()[:5000])
