"""The import in a browser's eyes: sent in, shown, taken in; refused with the reason at the field."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from joints.imports.table import MAX_BYTES
from joints.models import ImportBatch, Joint
from register.background.models import Work
from tests.joints.files import ROW, csv_of, good_xlsx, row
from tests.joints.makers import make_job, make_station

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client_of):
    return client_of("coordinator")


def send(page, data: bytes, **fields: str):
    job = make_job()
    file = SimpleUploadedFile("list.csv", data)
    return page.post(reverse("joints:import_upload", args=[job.pk]), {"file": file, **fields})


def text(response) -> str:
    return " ".join(response.content.decode().split())


@pytest.mark.parametrize("data", [csv_of(), good_xlsx()], ids=["csv", "xlsx"])
def test_sent_in_shown_and_taken_in(page, data: bytes) -> None:
    preview = send(page, data)
    assert preview.status_code == 302
    shown = text(page.get(preview.url))
    assert "All 3 rows can be taken in. Nothing was written yet." in shown
    assert not Joint.objects.exists()
    batch = ImportBatch.objects.get()
    confirm = reverse("joints:import_confirm", args=[batch.pk])
    assert "3 joints go on file in job 24-031, all of them or none." in text(page.get(confirm))
    done = page.post(confirm, follow=True)
    assert "3 joints are on file." in text(done)
    assert Joint.objects.count() == 3
    assert "Taken in: 3 joints" in text(page.get(batch.get_absolute_url()))
    again = page.post(confirm)
    assert again.status_code == 409 and text(again).count("taken in already") == 1
    said = text(page.get(confirm))
    assert "This list was taken in already, by coordinator on " in said and ": 3 joints. It is not taken twice." in said
    assert f'href="{batch.get_absolute_url()}">List list.csv</a>' in said
    assert 'type="submit">Take it in' not in said and "go on file" not in said


def test_bad_cells_are_listed_and_cannot_be_taken_in(page) -> None:
    preview = send(page, csv_of(row(1), row(2, thickness_1="-3"), row(3, grade_1="S999")))
    shown = text(page.get(preview.url))
    assert "2 cells cannot be taken. Nothing was written." in shown
    assert "-3 is no size" in shown
    confirm = reverse("joints:import_confirm", args=[ImportBatch.objects.get().pk])
    assert "2 cells cannot be taken" in text(page.get(confirm)) and "Take it in</button>" not in text(page.get(confirm))
    refused = page.post(confirm)
    assert refused.status_code == 409 and "2 cells cannot be taken" in text(refused)
    assert not Joint.objects.exists()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"\x01\x02\x03 rubbish", "no list of welds"),
        (csv_of("B1;12", head="Assembly;Thickness"), "“Joint number”, “Weld type” are missing"),
        (csv_of(head=ROW.format(n=0)), "holds no heading that is known: it reads B1, 0, fillet"),
        (b"", "empty"),
    ],
)
def test_a_refused_file_says_why_at_the_field(page, data: bytes, says: str) -> None:
    response = send(page, data)
    assert response.status_code == 422
    assert says in text(response)
    assert not ImportBatch.objects.exists()


def test_work_on_a_list_leads_back_to_it_and_to_its_job(page) -> None:
    """Waiting, under way, failed or done: whoever looks finds the way back."""
    send(page, csv_of(row(1, thickness_1="-3")))
    batch = ImportBatch.objects.get()
    again = text(page.post(batch.get_absolute_url(), follow=True))
    assert "1 row read and compared: 1 cell cannot be taken; nothing was written." in again
    Work.objects.update(state="failed", message="It was taken in meanwhile.", result_url="")
    work = Work.objects.get()
    shown = text(page.get(work.get_absolute_url()))
    for url in (batch.get_absolute_url(), batch.job.get_absolute_url()):
        assert f'href="{url}"' in shown
    batch.delete()
    assert page.get(work.get_absolute_url()).status_code == 200


def test_a_file_over_the_limit_is_refused_before_it_is_read(page) -> None:
    response = send(page, bytes(MAX_BYTES + 1))
    assert response.status_code == 422
    assert "at most 10 MB are read" in text(response)


def test_fifty_megabytes_are_refused_by_the_door(page) -> None:
    response = send(page, bytes(50 * 1024 * 1024))
    assert response.status_code == 413
    assert f'<a href="{response.wsgi_request.path}">Back to the form</a>' in text(response)
    assert not ImportBatch.objects.exists()


def test_what_the_list_leaves_empty_comes_from_the_form(page) -> None:
    make_station()
    send(page, csv_of(), tack_process="135", tack_workstation="Bay 1", weld_date="2026-12-01")
    batch = ImportBatch.objects.get()
    page.post(reverse("joints:import_confirm", args=[batch.pk]))
    joint = Joint.objects.first()
    assert (joint.tack_process, joint.tack_workstation.name, str(joint.weld_date)) == ("135", "Bay 1", "2026-12-01")


def test_the_empty_list_to_fill_in(client_of) -> None:
    response = client_of("auditor").get(reverse("joints:import_template"))
    assert response["Content-Type"].startswith("text/csv")
    assert response.content.startswith("\ufeffAssembly;Assembly title;Assembly kind;Joint number".encode())


def test_an_empty_file_is_refused_in_words_of_ours(page) -> None:
    found = text(send(page, b""))
    assert "The file holds nothing" in found and "submitted" not in found
