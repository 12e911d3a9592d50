"""What was read of a workbook is kept beside it, and read anew from the file where it is not as it was."""

import zlib
from decimal import Decimal as D
from pathlib import Path
from typing import Any

import pytest

from joints.imports import batch as steps
from joints.imports import plain
from joints.imports.batch import confirm, list_table, take_in
from joints.imports.plain import NotKept, packed, plain_form, table_from, unpacked
from joints.imports.table import Table
from joints.models import ImportBatch, Joint
from register.evidence import store
from tests.joints.files import csv_of, good_xlsx
from tests.joints.makers import make_job

CELLS = (
    (1, ("Assembly", "Joint", "t")),
    (2, ("B1", D("1.0"), D("0.1"))),
    (7, ("B1", "1.0", "")),
    (8, ("B1", "", D("1E+3"))),
)


def test_a_table_comes_back_as_it_was() -> None:
    table = Table(CELLS, ("Read the sheet “Ä”.",), {(7, 1): "the cell holds a formula"})
    assert unpacked(packed(plain_form(table))) == table
    assert repr(table_from(plain_form(table)).rows) == repr(table.rows), "1.0 stays a number, “1.0” a text"


@pytest.mark.parametrize(
    "said",
    [
        b"",
        b"[]",
        b'{"form": 0}',
        plain_form(Table(CELLS)).replace(b'"form":1', b'"form":99'),
        plain_form(Table(CELLS)).replace(b'["1.0"]', b'["NaN"]'),
        plain_form(Table(CELLS)).replace(b'["1.0"]', b'["one"]'),
        plain_form(Table(CELLS)).replace(b"[0,1,2,3]", b"[0,1,2,9]"),
        plain_form(Table(CELLS)).replace(b"[0,1,2,3]", b"[0,1,2]"),
        plain_form(Table(CELLS)).replace(b"[0,1,2,3]", b'[0,1,2,"3"]'),
        b"\xff" * 100,
    ],
)
def test_what_is_no_table_of_ours_is_not_taken_for_one(said: bytes) -> None:
    with pytest.raises(NotKept):
        table_from(said)
    with pytest.raises(NotKept):
        unpacked(packed(said)[:-4] if said else said)


@pytest.mark.django_db
def test_a_workbook_is_read_once(coordinator: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    batch = take_in(make_job(), "list.xlsx", good_xlsx(), {}, coordinator)
    monkeypatch.setattr(steps, "read_file", lambda data: pytest.fail("it was read again"))
    assert confirm(batch.pk, coordinator) == 3
    assert list(Joint.objects.values_list("t2_mm", flat=True)) == [D("20.5")] * 3


@pytest.mark.django_db
@pytest.mark.parametrize("harm", ["gone", "bent", "of an earlier form"])
def test_the_file_itself_counts_where_what_was_kept_is_harmed(
    coordinator: Any, monkeypatch: pytest.MonkeyPatch, harm: str
) -> None:
    data = good_xlsx()
    batch = take_in(make_job(), "list.xlsx", data, {}, coordinator)
    kept: Path = store.path_of(batch.extract)
    if harm == "gone":
        kept.unlink()
    elif harm == "bent":
        kept.write_bytes(zlib.compress(zlib.decompress(kept.read_bytes()).replace(b"20.5", b"99.5")))
    else:
        monkeypatch.setattr(plain, "FORM", plain.FORM + 1)
    monkeypatch.setattr(steps, "read_file", lambda said: Table(CELLS) if said == data else pytest.fail("other"))
    assert list_table(ImportBatch.objects.get()).rows == CELLS


@pytest.mark.django_db
def test_a_refused_workbook_leaves_nothing_behind_and_a_csv_keeps_itself_alone(coordinator: Any) -> None:
    batch = take_in(make_job(), "list.csv", csv_of(), {}, coordinator)
    assert batch.extract == "" and len(list_table(batch).rows) == 4
