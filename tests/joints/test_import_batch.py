"""Two steps: shown first, written whole or not at all; the same file once."""

import pytest

from joints.imports.batch import confirm, take_in
from joints.imports.table import Refusal
from joints.imports.template import template_csv
from joints.models import Assembly, ImportBatch, Joint
from register.models import AuditEntry
from tests.joints.files import bomb, csv_of, row
from tests.joints.makers import make_job, make_joint, make_station

pytestmark = pytest.mark.django_db

BAD = {
    "missing column": csv_of("B1;1;12", head="Assembly;Joint number;Thickness"),
    "50 MB of rubbish": bytes(50 * 1024 * 1024),
    "wrong encoding": b"Assembly;Joint\nTr\x81ger;1",
    "zip bomb": bomb(),
}
BAD_CELLS = {
    "unknown grade": csv_of(row(1), row(2, grade_1="S999")),
    "negative thickness": csv_of(row(1), row(2, thickness_1="-3")),
    "a formula in a cell": csv_of(row(1), row(2, throat_a="=1+1")),
}


def on_file() -> tuple[int, int, int]:
    return Joint.objects.count(), Assembly.objects.count(), AuditEntry.objects.count()


@pytest.mark.parametrize("name", BAD)
def test_a_refused_file_changes_nothing(coordinator, name: str) -> None:
    job = make_job()
    with pytest.raises(Refusal):
        take_in(job, "list.csv", BAD[name], {}, coordinator)
    assert on_file() == (0, 0, 0)
    assert not ImportBatch.objects.exists()


@pytest.mark.parametrize("name", BAD_CELLS)
def test_one_bad_cell_keeps_the_whole_list_out(coordinator, name: str) -> None:
    batch = take_in(make_job(), "list.csv", BAD_CELLS[name], {}, coordinator)
    assert [p["row"] for p in batch.problems if not p["is_note"]] == [3]
    with pytest.raises(Refusal, match="1 cell cannot be taken"):
        confirm(batch.pk, coordinator)
    assert on_file() == (0, 0, 0)


def test_a_good_list_is_shown_first_and_written_on_the_word(coordinator) -> None:
    job = make_job()
    batch = take_in(job, "list.csv", csv_of(), {}, coordinator)
    assert on_file() == (0, 0, 0)
    assert confirm(batch.pk, coordinator) == 3
    first = Joint.objects.get(number="1")
    assert (first.t1_mm, first.throat_mm, first.grade_1, first.source_row) == (12, 5, "S355J2+N", 2)
    assert first.assembly.mark == "B1"
    assert first.assembly.job == job
    assert first.source == batch
    assert first.history.get().history_user_name == "coordinator"
    after = dict(AuditEntry.objects.get().after)
    assert after.pop("sealed")["list"] == batch.pk
    assert after == {"file": "list.csv", "joints": 3}


def test_the_same_file_twice_changes_nothing(coordinator) -> None:
    job = make_job()
    confirm(take_in(job, "list.csv", csv_of(), {}, coordinator).pk, coordinator)
    before = on_file()
    with pytest.raises(Refusal, match=r"The same file was taken into this job already, as list.csv by coordinator"):
        take_in(job, "other name.csv", csv_of(), {}, coordinator)
    assert on_file() == before


def test_the_same_file_shown_twice_is_written_once(coordinator) -> None:
    job = make_job()
    first, second = (take_in(job, "list.csv", csv_of(), {}, coordinator) for _ in range(2))
    confirm(first.pk, coordinator)
    with pytest.raises(Refusal, match="taken into this job already"):
        confirm(second.pk, coordinator)
    with pytest.raises(Refusal, match="taken in already"):
        confirm(first.pk, coordinator)
    assert Joint.objects.count() == 3


def test_the_same_list_for_another_job_is_another_list(coordinator) -> None:
    for job in (make_job(), make_job(number="24-032")):
        confirm(take_in(job, "list.csv", csv_of(), {}, coordinator).pk, coordinator)
    assert Joint.objects.count() == 6


def test_a_joint_that_came_on_file_in_between_stops_the_whole_list(coordinator) -> None:
    job = make_job()
    batch = take_in(job, "list.csv", csv_of(), {}, coordinator)
    make_joint(job, number="3")
    with pytest.raises(Refusal, match="Somebody else changed the job after this was shown"):
        confirm(batch.pk, coordinator)
    assert Joint.objects.count() == 1


def test_a_workstation_that_went_in_between_stops_the_whole_list(coordinator) -> None:
    station = make_station()
    job = make_job()
    batch = take_in(job, "list.csv", csv_of(), {"final_workstation": "Bay 1"}, coordinator)
    station.delete()
    with pytest.raises(Refusal, match="no longer on file"):
        confirm(batch.pk, coordinator)
    assert on_file()[:2] == (0, 0)


def test_the_template_reads_as_a_list(coordinator) -> None:
    batch = take_in(make_job(), "template.csv", template_csv(), {}, coordinator)
    assert not [p for p in batch.problems if not p["is_note"]]
    assert confirm(batch.pk, coordinator) == 1


def test_some_thousand_rows_in_one_go(coordinator) -> None:
    data = csv_of(*(row(n) for n in range(1, 3_001)))
    assert confirm(take_in(make_job(), "big.csv", data, {}, coordinator).pk, coordinator) == 3_000
    assert Joint.history.filter(history_type="+", history_user_name="coordinator").count() == 3_000
