"""What falls due, the log file of a cell and the calendar, in a browser; nothing for axe to find on their pages."""

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from qualifications.models import Certificate, WeldLogBatch
from register.evidence.models import EvidenceFile
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.conftest import PASSWORD
from tests.joints.makers import make_job, make_joint
from tests.qualifications.make import certificate, logged, person
from tests.qualifications.test_us_people import us

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]
HEAD = "Time stamp;Person;Process;Mechanisation;Workstation;Procedure;Joint"


@pytest.fixture
def held(people: dict[str, Any]) -> Certificate:
    """A certificate due in twenty days, of somebody who reports to the supervisor."""
    holder = person("Ada Krol", identification="W07", supervisor=people["supervisor"], site="Hall 1")
    return certificate(holder, welded_on=timezone.localdate() - timedelta(days=163))


def quiet(page: Page) -> Page:
    """A page that may miss the favicon and answer 4xx where a test wants it."""
    page.expected_errors = ["404 (Not Found)", "422 (Unprocessable"]  # type: ignore[attr-defined]
    return page


def test_a_log_file_is_looked_at_taken_in_and_signed_for(sign_in: SignIn, held: Certificate, tmp_path: Path) -> None:
    page = quiet(sign_in("supervisor"))
    day = timezone.localdate().isoformat()
    bad, good = tmp_path / "bad.csv", tmp_path / "bay2.csv"
    bad.write_text(f"{HEAD}\n{day};W70;135;partly mechanised;Bay 2;WPS 014;B12/3\n")
    good.write_text(f"{HEAD}\n{day};W07;135;partly mechanised;Bay 2;WPS 014;B12/3\n")
    page.goto("/people/log/")
    page.get_by_role("link", name="Take in a log file").click()
    page.get_by_label("Log file").set_input_files(bad)
    page.get_by_role("button", name="Read the file").click()
    expect(page.locator("main")).to_contain_text("1 cell cannot be taken")
    expect(page.locator("main")).to_contain_text("nearest: Ada Krol (W07)")
    page.get_by_role("link", name="Send it again").click()
    page.get_by_label("Log file").set_input_files(good)
    page.get_by_role("button", name="Read the file").click()
    page.get_by_role("link", name="Take it in").click()
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator("main")).to_contain_text("1 weld of this file is in the log")
    assert not held.events.exists()
    page.get_by_role("link", name="Confirm what it speaks for").click()
    page.get_by_role("checkbox").check()
    page.get_by_role("button", name="Review the chosen").click()
    expect(page.get_by_label("joint B12/3")).to_be_checked()
    page.get_by_label("Each of these people").check()
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Sign the confirmations").click()
    expect(page.get_by_role("status")).to_contain_text("1 certificate confirmed")
    assert "joint B12/3" in held.events.get().evidence


def test_the_due_page_is_arranged_by_week_and_shows_what_a_lapse_uncovers(sign_in: SignIn, held: Certificate) -> None:
    make_joint(make_job())
    page = quiet(sign_in("coordinator"))
    page.goto("/people/due/")
    expect(page.locator("main")).to_contain_text("No single lapse in view")
    page.get_by_label("Arranged by").select_option("week")
    page.get_by_role("form", name="Arrange and narrow down").get_by_role("button", name="Show").click()
    expect(page.get_by_role("heading", name="Week ")).to_be_visible()
    page.get_by_role("link", name="Timeline").click()
    expect(page.locator("main")).to_contain_text("1 of 1 valid for 135 · GMAW")


def test_a_calendar_address_is_shown_once(sign_in: SignIn, held: Certificate) -> None:
    page = quiet(sign_in("supervisor"))
    page.goto("/people/calendar/")
    page.get_by_label("Name of the address").fill("telephone")
    page.get_by_role("button", name="Make an address").click()
    address = page.get_by_label("Address for the calendar program").input_value()
    assert page.request.get(address).text().startswith("BEGIN:VCALENDAR")
    assert_no_axe_violations(page)
    page.goto("/people/calendar/")
    expect(page.get_by_label("Address for the calendar program")).to_have_count(0)
    page.get_by_role("link", name="revoke telephone").click()
    page.get_by_role("button", name="Revoke it").click()
    expect(page.locator("main")).to_contain_text("revoked")
    assert page.request.get(address).status == 404


def test_a_scan_is_attached_and_saved_as_a_file(sign_in: SignIn, held: Certificate, tmp_path: Path) -> None:
    scan = tmp_path / "certificate.pdf"
    scan.write_bytes(b"%PDF-1.7\nstartxref\n9\n%%EOF\n")
    page = quiet(sign_in("qa"))
    page.goto(held.get_absolute_url())
    page.get_by_role("link", name="Attach a scan").click()
    page.get_by_label("Scan").set_input_files(scan)
    page.get_by_label("What it shows").fill("as issued")
    page.get_by_role("button", name="Attach it").click()
    expect(page.locator("main")).to_contain_text("as issued")
    with page.expect_download() as saved:
        page.get_by_role("link", name="certificate.pdf", exact=True).click()
    assert saved.value.suggested_filename == "certificate.pdf"
    assert EvidenceFile.objects.get().subject_id == str(held.pk)


@pytest.mark.parametrize("scheme", ["light"])
@pytest.mark.parametrize("size", [(320, 640)], ids=str)
def test_axe_finds_nothing(page: Page, sign_in: SignIn, held: Certificate, size: tuple[int, int], scheme: str) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.emulate_media(color_scheme=scheme)
    quiet(page)
    sign_in("coordinator")
    logged(held.person, timezone.localdate(), workstation="Cell R1")
    american = us(holder=person("Bo Lang"), number="W-2", welded_on=timezone.localdate() - timedelta(days=60))
    row = {"row": 2, "values": {"on": "2026-11-24", "person": "1", "name": "Ada Krol", "process": "135"}}
    wrong = {"row": 2, "column": "Person", "message": "is nobody on file", "is_note": False}
    batch = WeldLogBatch.objects.create(file_name="cell.csv", sha256="0" * 64, rows=[row], problems=[wrong])
    for address in (
        "/people/due/?by=week",
        "/people/due/?by=person",
        "/people/due/?by=workstation",
        "/people/timeline/",
        f"/people/{held.person_id}/",
        held.get_absolute_url(),
        american.get_absolute_url(),
        f"/people/certificates/{american.pk}/confirm/",
        f"/people/certificates/{american.pk}/renew/",
        f"/people/{held.person_id}/certificates/new/?code=AWS D1.1:2020 welder",
        f"/people/certificates/{held.pk}/scan/",
        "/people/calendar/",
        "/people/log/",
        "/people/log/file/",
        batch.get_absolute_url(),
        f"/people/log/files/{batch.pk}/take-in/",
        "/uncovered/",
    ):
        page.goto(address)
        page.wait_for_load_state("networkidle")
        assert_no_axe_violations(page)
        assert_fits_the_width(page)
