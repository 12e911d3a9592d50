"""Pages of a job: what it asks in the reader's units, what they say while it has no joints, and its form."""

import pytest
from django.urls import reverse

from tests.joints.makers import make_job
from tests.joints.test_pages import job_form, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client_of):
    """The coordinator's browser."""
    return client_of("coordinator")


def test_what_a_job_asks_stands_in_the_units_of_whoever_reads(page) -> None:
    job = make_job(impact_required=True, impact_temperature_c="-20.0")
    assert "impact toughness at −20 °C" in text(page.get(job.get_absolute_url()))
    assert "impact toughness at −4 °F" in text(page.get(job.get_absolute_url(), {"units": "us"}))


def test_a_job_without_joints_says_so_once(page) -> None:
    found = text(page.get(make_job().get_absolute_url()))
    assert "No weld is on file for this job." in found
    assert "No joints are on file" not in found and "Weld metal" not in found


@pytest.mark.parametrize("name", ["job_coverage", "weld_data", "planning", "job_ahead", "audit_pack"])
def test_a_page_of_a_job_without_joints_teaches(page, name: str) -> None:
    found = text(page.get(reverse(f"joints:{name}", args=[make_job().pk])))
    assert found.count("No joints are on file yet") == 1 and "ake in" in found
    assert "Nothing is missing" not in found and "somebody else may weld too" not in found


def test_what_is_wrong_with_a_job_stands_at_its_field(page) -> None:
    make_job(number="N")
    wrong = job_form(starts_on="2026-02-01", ends_on="2026-01-01", level="7")
    errors = page.post(reverse("joints:job_new"), wrong).context["form"].errors
    assert set(errors) == {"ends_on", "level", "number"}
    found = text(page.post(reverse("joints:job_new"), job_form()))
    assert "already" in found and "Not saved" in found
