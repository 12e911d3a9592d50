"""The joints taken away as a list: no cell runs as a formula, and the list comes back in unchanged."""

import io
from datetime import date
from decimal import Decimal as D

import pytest
from django.urls import reverse
from pypdf import PdfReader

from joints.imports.batch import confirm, take_in
from joints.models import ImportBatch, Joint
from tests.joints.files import csv_of, row
from tests.joints.makers import make_job, make_joint

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(coordinator):
    """A job with joints that try what a list can hold."""
    job = make_job()
    assembly = make_joint(job, mark="B1", number="1", weld_date=date(2026, 12, 1)).assembly
    assembly.title, assembly.kind = "Träger Süd", "beam"
    assembly.save()
    make_joint(job, "B1", number="2", remarks='=HYPERLINK("http://x")', final_process="141+135", t1_mm=D("12.75"))
    make_joint(job, "B1", number="003", remarks="-1; +2", length_mm=D(1200), model_id="2TLQdWo0zPmepDyxi03I$J")
    make_joint(job, "=B2", number="+4", remarks="'=quoted", weld_type="butt_cjp", joint_type="butt", throat_mm=None)
    extra = {"intermittent": "yes", "element_length_mm": D(50), "element_gap_mm": D("99.9"), "tack_spacing_mm": D(250)}
    make_joint(job, "B3", number="5", preparation="single_v", weld_detail="bs", gouging="thermal", **extra)
    make_joint(job, "B3", number="6", product="pipe", diameter_mm=D("60.3"), rotated="no", branch_angle_deg=D(45))
    return job


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_the_list_comes_back_in_unchanged(job, coordinator, client_of, kind: str) -> None:
    response = client_of("auditor").get(reverse(f"joints:job_list_{kind}", args=[job.pk]))
    data = response.getvalue() if response.streaming else response.content
    batch = take_in(job, f"list.{kind}", data, {}, coordinator, scope=ImportBatch.WHOLE)
    counts = {name: n for name, n in batch.comparison.items() if isinstance(n, int) and n}
    assert not batch.errors
    assert counts == {"same": 6}, batch.comparison["lines"]
    before = list(Joint.objects.order_by("pk").values())
    confirm(batch.pk, coordinator)
    assert list(Joint.objects.order_by("pk").values()) == before
    # Into an empty job it makes the same joints.
    other = make_job(number="copy")
    confirm(take_in(other, f"list.{kind}", data, {}, coordinator).pk, coordinator)
    again = client_of("auditor").get(reverse("joints:job_list_csv", args=[other.pk])).getvalue()
    assert again == client_of("auditor").get(reverse("joints:job_list_csv", args=[job.pk])).getvalue()


def test_no_cell_of_it_runs_as_a_formula(job, client_of) -> None:
    text = client_of("auditor").get(reverse("joints:job_list_csv", args=[job.pk])).getvalue().decode("utf-8-sig")
    cells = [cell.strip('"') for line in text.splitlines() for cell in line.split(",")]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]


def test_changes_from_the_model_are_shown_and_reported_back(coordinator, client_of) -> None:
    job = make_job()
    confirm(take_in(job, "list.csv", csv_of(row(1), row(2)), {}, coordinator).pk, coordinator)
    joint = Joint.objects.get(number="1")
    joint.throat_mm = D(6)
    joint.save()
    page = client_of("auditor")
    shown = " ".join(page.get(joint.get_absolute_url()).content.decode().split())
    assert "Throat a: sent 5 mm, on file <b>6 mm</b>" in shown
    assert "The answer on the day of each import" in shown
    url = reverse("joints:weld_data", args=[job.pk])
    text = page.get(url, {"export": "csv"}).getvalue().decode("utf-8-sig")
    assert "B1,1,changed,fillet throat a,throat_mm,5 mm,6 mm,changed on the page of the joint" in text
    pdf = page.get(url, {"export": "pdf"})
    assert pdf["Content-Type"] == "application/pdf"
    words = " ".join(" ".join(side.extract_text() for side in PdfReader(io.BytesIO(pdf.content)).pages).split())
    assert "Changed from the model (1)" in words and "1 of B1" in words and "Questions" in words


def test_a_joint_that_left_the_model_is_shown_and_counted_nowhere(coordinator, client_of) -> None:
    job = make_job()
    confirm(take_in(job, "list.csv", csv_of(row(1), row(2)), {}, coordinator).pk, coordinator)
    confirm(take_in(job, "b.csv", csv_of(row(1)), {}, coordinator, scope=ImportBatch.WHOLE).pk, coordinator)
    left = Joint.every.get(number="2")
    page = client_of("coordinator")
    shown = " ".join(page.get(left.get_absolute_url()).content.decode().split())
    assert "No longer in the model since" in shown
    whole = " ".join(page.get(job.get_absolute_url()).content.decode().split())
    assert "No longer in the model: 1" in whole and "The only joint is outside." in whole
    assert 'data-label="Joints" class="num">1<' in whole.replace("> <", "><") or "1 joint" in whole
    assert "Joint 2" not in page.get(reverse("joints:joint_list")).content.decode()
    listed = page.get(reverse("joints:job_list_csv", args=[job.pk])).getvalue().decode("utf-8-sig")
    assert len(listed.splitlines()) == 2
