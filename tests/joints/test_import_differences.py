"""Everything that a list changes, line by line: before it is taken in and after, narrowed down, paged, taken away."""

import csv
import io
from typing import Any

import pytest
from django.urls import reverse
from python_calamine import CalamineWorkbook

from joints.imports import differences
from joints.imports.batch import check_batch, confirm, take_in
from joints.models import ImportBatch, ImportDifference, Joint, ShownDifference
from register.base.exports import safe_cell
from tests.joints.files import csv_of, row
from tests.joints.makers import make_job

pytestmark = pytest.mark.django_db
LINES = [
    ("changed", "2", "throat_mm", "5", "6"),
    ("changed", "2", "position", "PB", "PA"),
    ("added", "4", "", "", ""),
    ("removed", "3", "", "", ""),
]


@pytest.fixture
def again(coordinator: Any) -> ImportBatch:
    """A list that came again: one joint changed in two fields, one new, one gone; shown, not taken in."""
    job = make_job()
    confirm(take_in(job, "a.csv", csv_of(row(1), row(2), row(3)), {}, coordinator).pk, coordinator)
    data = csv_of(row(1), row(2, throat_a="6", position="PA"), row(4))
    return take_in(job, "b.csv", data, {}, coordinator, scope=ImportBatch.WHOLE)


def lines(rows: Any) -> list[tuple[str, ...]]:
    return list(rows.values_list("kind", "joint_number", "field", "before", "after"))


def test_what_is_shown_is_what_is_written(again: ImportBatch, coordinator: Any) -> None:
    assert lines(again.shown) == LINES
    check_batch(again.pk)
    assert lines(again.shown) == LINES, "compared anew, not twice"
    confirm(again.pk, coordinator)
    assert sorted(lines(again.differences)) == sorted(LINES)
    assert not ShownDifference.objects.exists()
    added = again.differences.get(kind="added")
    assert added.joint == Joint.objects.get(number="4")
    assert added.joint.history.count() == 1, "a new joint has one version"


def test_a_first_list_has_no_differences(again: ImportBatch) -> None:
    assert not ImportDifference.objects.exists() and ShownDifference.objects.count() == len(LINES)


def test_only_so_many_are_kept_to_be_shown(again: ImportBatch, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(differences, "AT_MOST", 3)
    check_batch(again.pk)
    assert lines(again.shown) == LINES[:3]


def test_fields_changed_on_both_sides_are_listed(coordinator: Any) -> None:
    job = make_job()
    confirm(take_in(job, "a.csv", csv_of(row(1)), {}, coordinator).pk, coordinator)
    Joint.objects.update(throat_mm=7)
    batch = take_in(job, "b.csv", csv_of(row(1, throat_a="6")), {}, coordinator)
    assert lines(batch.shown) == [("both", "1", "throat_mm", "7", "6")]


@pytest.mark.parametrize("taken", [False, True])
def test_the_page_lists_narrows_down_and_pages(
    again: ImportBatch, coordinator: Any, client_of: Any, taken: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if taken:
        confirm(again.pk, coordinator)
    page, url = client_of("auditor"), reverse("joints:import_differences", args=[again.pk])
    assert f'href="{url}"' in page.get(again.get_absolute_url()).content.decode()
    shown = " ".join(page.get(url).content.decode().split())
    for said in ("Differences of b.csv", "1 to 4 of 4", "Throat a", "no longer in it", "added", "Position"):
        assert said.casefold() in shown.casefold(), said
    assert "1 to 2 of 2" in page.get(url, {"kind": "changed"}).content.decode()
    assert "1 to 1 of 1" in page.get(url, {"field": "position", "q": "PA"}).content.decode()
    assert "Nothing on file matches" in page.get(url, {"assembly": "B9"}).content.decode()
    monkeypatch.setattr("register.base.tables.PAGE_ROWS", 3)
    assert "4 to 4 of 4" in page.get(url, {"page": "2"}).content.decode()


def test_the_list_is_taken_away_with_its_filter(again: ImportBatch, client_of: Any) -> None:
    page, url = client_of("auditor"), reverse("joints:import_differences", args=[again.pk])
    sent = page.get(url, {"export": "csv", "kind": "changed"})
    rows = list(csv.reader(io.StringIO(b"".join(sent.streaming_content).decode("utf-8-sig"))))
    assert [line[1:] for line in rows[1:]] == [
        ["B1", "changed", "Throat a", "5", "6"],
        ["B1", "changed", "Position", "PB", "PA"],
    ]
    book = CalamineWorkbook.from_filelike(io.BytesIO(page.get(url, {"export": "xlsx"}).content))
    found = book.get_sheet_by_index(0).to_python()
    assert len(found) == 1 + len(LINES)
    assert found[1][4:] == [5, 6], "sizes are numbers"


def test_nothing_in_it_runs_as_a_formula(coordinator: Any, client_of: Any) -> None:
    job, head = make_job(), "Assembly;Joint number;Weld type;Thickness 1;Remarks"
    confirm(take_in(job, "a.csv", csv_of("B1;1;fillet;12;old", head=head), {}, coordinator).pk, coordinator)
    batch = take_in(job, "b.csv", csv_of("B1;1;fillet;12;-cmd|' /C calc'!A0", head=head), {}, coordinator)
    said = batch.shown.get().after
    assert said.startswith("-") and safe_cell(said) == f"'{said}"
    url = reverse("joints:import_differences", args=[batch.pk])
    sent = b"".join(client_of("auditor").get(url, {"export": "csv"}).streaming_content).decode("utf-8-sig")
    assert f"'{said}" in sent
