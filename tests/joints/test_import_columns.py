"""Headings named once for a sender, and known again; another edition of his headings is asked for again."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from joints.imports.columns import guesses
from joints.models import ImportBatch, Joint, ListSender, SenderColumns
from tests.joints.makers import make_job

pytestmark = pytest.mark.django_db
HEAD = "Baugruppe;Naht;Nahtart;Dicke A;Dicke B;a-Maß;Stumpf"
GERMAN = f"{HEAD}\nT1;7;fillet;0,5;0,5;6;x\n".encode()
NAMED = {
    "column-0": "assembly", "column-1": "number", "column-2": "weld_type", "column-3": "t1_mm", "column-4": "t2_mm",
    "column-5": "throat_mm", "unit-3": "in", "unit-4": "in", "unit-5": "mm",
}  # fmt: skip


@pytest.fixture
def page(client_of):
    return client_of("coordinator")


def send(page, data: bytes, sender: str = "Brücke Nord", job=None):
    file = SimpleUploadedFile("liste.csv", data)
    url = reverse("joints:import_upload", args=[(job or make_job()).pk])
    return page.post(url, {"file": file, "sender": sender})


def text(response) -> str:
    return " ".join(response.content.decode().split())


def test_unknown_headings_are_named_once_and_kept_for_the_sender(page) -> None:
    naming = send(page, GERMAN)
    batch = ImportBatch.objects.get()
    assert naming.url == reverse("joints:import_columns", args=[batch.pk])
    assert batch.status == ImportBatch.NAMING
    shown = text(page.get(naming.url))
    assert "Baugruppe" in shown and "kept for Brücke Nord" in shown and "0,5" in shown
    done = page.post(naming.url, NAMED)
    assert done.url == batch.get_absolute_url()
    batch.refresh_from_db()
    assert batch.rows[0]["values"] == {
        "assembly": "T1", "number": "7", "weld_type": "fillet", "t1_mm": "12.7", "t2_mm": "12.7", "throat_mm": "6",
    }  # fmt: skip
    other = send(page, GERMAN.replace(b"T1;7", b"T1;8"), "brücke nord", batch.job)
    assert other.url == ImportBatch.objects.first().get_absolute_url(), "known again, whatever the case of the firm"
    assert ListSender.objects.count() == SenderColumns.objects.count() == 1


def test_another_edition_of_headings_is_asked_for_again(page) -> None:
    page.post(send(page, GERMAN).url, NAMED)
    job = make_job(number="2")
    changed = GERMAN.replace(b"Stumpf", b"Farbe")
    assert "columns" in send(page, changed, job=job).url
    assert "columns" in send(page, GERMAN, "Stahlbau Süd", job).url


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"column-3": ""}, "The column “Thickness 1” is missing"),
        ({"column-4": "t1_mm"}, "Two columns say the same: “Dicke A” and “Dicke B”"),
        ({"column-4": "colour"}, "which is no column of ours"),
    ],
)
def test_columns_that_do_not_do_are_refused_and_nothing_is_kept(page, change: dict[str, str], says: str) -> None:
    naming = send(page, GERMAN)
    response = page.post(naming.url, NAMED | change)
    assert response.status_code == 422 and says in text(response)
    assert not SenderColumns.objects.exists()


def test_the_best_guess_stands_beside_each_heading(page) -> None:
    naming = send(page, b"Assembly;Joint number;Weld tpye;Thickness 1 [in];Colour\nB1;1;fillet;1/2;red")
    shown = text(page.get(naming.url))
    assert '<option value="weld_type" selected>' in shown and "best guess" in shown
    assert '<option value="t1_mm" selected data-size>' in shown and '<option value="in" selected>' in shown


@pytest.mark.parametrize(
    ("head", "expected"),
    [
        (("No", "Seam", "Joint number"), ["", "", "number"]),
        (("Seam", "No"), ["number", ""]),
        (("Weld tpye", "Weld type"), ["", "weld_type"]),
        (("Weld tpye", "Wled type"), ["weld_type", ""]),
        (("Throat", "Throat a", "Colour"), ["", "throat_mm", ""]),
    ],
)
def test_only_one_column_is_guessed_to_be_a_field(head: tuple[str, ...], expected: list[str]) -> None:
    found = guesses(head)
    assert [guess.field for guess in found] == expected
    standing = next(guess.heading for guess in found if guess.field)
    assert [guess.taken_by for guess in found] == [
        standing if not guess.field and guess.heading != "Colour" else "" for guess in found
    ]


def test_a_column_left_open_says_which_one_stands(page) -> None:
    naming = send(page, b"No;Assembly;Seam;Joint number;Weld type;Thickness 1\n1;B1;7;1;fillet;12")
    shown = text(page.get(naming.url))
    assert shown.count('<option value="number" selected>') == 1
    assert shown.count("left open: may say the same as “Joint number”") == 2
    named = {"column-1": "assembly", "column-3": "number", "column-4": "weld_type", "column-5": "t1_mm"}
    assert page.post(naming.url, named).status_code == 302
    assert ImportBatch.objects.get().rows[0]["values"]["number"] == "1"


def test_a_batch_whose_columns_are_not_named_is_not_taken_in(page) -> None:
    send(page, GERMAN)
    batch = ImportBatch.objects.get()
    refused = page.post(reverse("joints:import_confirm", args=[batch.pk]))
    assert refused.status_code == 409 and "columns are not named" in text(refused)
    assert not Joint.objects.exists()


def test_corrections_and_choices_are_made_on_the_page(page) -> None:
    send(page, b"Assembly;Joint number;Weld type;Thickness 1\nB1;1;fillet;-3", "")
    batch = ImportBatch.objects.get()
    url = batch.get_absolute_url()
    assert 'name="fix:2:t1_mm" value="-3"' in text(page.get(url))
    shown = text(page.post(url, {"fix:2:t1_mm": "12"}, follow=True))
    assert "1 cell entered anew." in shown and "1 row read and compared: all can be taken." in shown
    assert "Its one row can be taken in." in shown and "row 2, Thickness 1: now 12" in shown
    page.post(reverse("joints:import_confirm", args=[batch.pk]))
    assert Joint.objects.get().t1_mm == 12
    closed = page.post(url, {"fix:2:t1_mm": "13"})
    assert closed.status_code == 409 and "not open for corrections" in text(closed)
