"""Where calculations are in use: materials, preheat of a procedure, weld metal of a job, logs of a cell."""

from collections.abc import Callable
from decimal import Decimal as D
from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from joints.models import Joint
from tests.browser.axe import assert_fits_the_width, assert_no_axe_violations
from tests.joints.makers import make_joint
from tests.joints.weld_logs import log, make_procedure
from tests.wps.iso import iso_draft, iso_record
from wps.models import MaterialCertificate, ProcedureRevision

pytestmark = pytest.mark.django_db(transaction=True)
SignIn = Callable[[str], Page]
ANALYSIS = {"C": "0.18", "Mn": "1.4", "Mo": "0", "Cr": "0", "Cu": "0.2", "Ni": "0.1"}


@pytest.fixture
def heat(people: dict[str, Any]) -> MaterialCertificate:
    return MaterialCertificate.objects.create(
        grade="S355J2+N", heat_number="48213", document_reference="A 1077", analysis=ANALYSIS, analysis_kind="product"
    )


@pytest.fixture
def draft(people: dict[str, Any], heat: MaterialCertificate) -> ProcedureRevision:
    return iso_draft(people["coordinator"], [iso_record()], hydrogen_class=["H5"])


@pytest.fixture
def joint(people: dict[str, Any]) -> Joint:
    return make_joint(number="1", length_mm=D(1000))


def test_a_heat_is_entered_and_counts(sign_in: SignIn, people: dict[str, Any]) -> None:
    draft = iso_draft(people["coordinator"], [iso_record()], hydrogen_class=["H5"])
    page = sign_in("coordinator")
    page.goto(reverse("wps:material_new"))
    page.get_by_label("Steel grade").fill("S355J2+N")
    page.get_by_label("Heat number").fill("48213")
    page.get_by_label("Certificate number").fill("A 1077")
    page.get_by_label("Analysis of").select_option("product")
    for element, share in ANALYSIS.items():
        page.locator(f"[name=analysis_{element}]").fill(share.replace(".", ","))
    page.get_by_role("button", name="Save").click()
    expect(page.locator("main")).to_contain_text("0.33 % (0.333 %)")
    page.goto(draft.get_absolute_url())
    expect(page.locator("main")).to_contain_text("CET 0.333 % of S355J2+N, heat 48213")


def test_a_joint_names_its_heat_and_its_analysis_counts(
    sign_in: SignIn, heat: MaterialCertificate, joint: Joint
) -> None:
    page = sign_in("coordinator")
    page.goto(reverse("joints:joint_edit", args=[joint.pk]))
    page.get_by_label("Heat, part 1").fill("48213")
    page.get_by_label("Heat, part 2").fill("48214")
    page.get_by_role("button", name="Save").click()
    section = page.get_by_role("region", name="Heats and preheat")
    expect(section).to_contain_text("CET 0.33 %")
    expect(section).to_contain_text("heat 48214, not on file")
    expect(page.locator("main")).to_contain_text("No certificate of heat 48214 is on file")
    assert_no_axe_violations(page)
    assert_fits_the_width(page)


def test_the_sums_come_to_the_page_of_the_job(sign_in: SignIn, joint: Joint) -> None:
    page = sign_in("auditor")
    page.goto(joint.assembly.job.get_absolute_url())
    expect(page.get_by_role("region", name="Weld metal, filler and arc time")).to_contain_text("0.20 kg")


def test_a_log_is_judged(sign_in: SignIn, joint: Joint) -> None:
    revision = make_procedure()
    page = sign_in("supervisor")
    page.goto(reverse("joints:weld_values", args=[joint.assembly.job_id]))
    page.get_by_label("Procedure", exact=True).select_option(str(revision.pk))
    rows = [f"{at / 10};B1/1;1;{271 if at == 3 else 240};26;400" for at in range(10)]
    page.get_by_label("Log", exact=True).set_input_files(
        {"name": "cell.csv", "mimeType": "text/csv", "buffer": log(*rows)}
    )
    page.get_by_role("button", name="Judge it").click()
    expect(page.locator("main")).to_contain_text("Current above 260 A for 0.1 s in one place, up to 271 A")
    assert_no_axe_violations(page)


@pytest.mark.parametrize("width", [375])
@pytest.mark.parametrize("which", ["materials", "heat", "new heat", "revision", "metal", "values"])
def test_nothing_for_axe_to_find(
    sign_in: SignIn, draft: ProcedureRevision, heat: MaterialCertificate, joint: Joint, which: str, width: int
) -> None:
    page = sign_in("coordinator")
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(
        {
            "materials": reverse("wps:material_list"),
            "heat": heat.get_absolute_url(),
            "new heat": reverse("wps:material_new"),
            "revision": draft.get_absolute_url(),
            "metal": reverse("joints:job_metal", args=[joint.assembly.job_id]),
            "values": reverse("joints:weld_values", args=[joint.assembly.job_id]),
        }[which]
    )
    assert_no_axe_violations(page)
    assert_fits_the_width(page)
