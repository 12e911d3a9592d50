"""A list that comes again: added, changed, kept, contested, removed; nothing lost, nothing changed in silence."""

from decimal import Decimal as D

import pytest

from joints.imports.batch import check_batch, confirm, run_import, take_in
from joints.imports.corrections import take_over
from joints.imports.table import Refusal
from joints.models import AnswerOnImport, ImportBatch, ImportDifference, Joint, JointAsSent, WeldDataChange
from tests.joints.files import csv_of, row
from tests.joints.makers import make_job, make_joint

pytestmark = pytest.mark.django_db
WHOLE = ImportBatch.WHOLE


def bring(job, by, *rows: str, scope: str = WHOLE, head: str = "") -> ImportBatch:
    """A list sent in and shown."""
    data = csv_of(*rows, head=head) if head else csv_of(*rows)
    return take_in(job, "list.csv", data, {}, by, scope=scope)


def counts(batch: ImportBatch) -> dict[str, int]:
    """What it changes, without what is nought."""
    return {name: n for name, n in batch.comparison.items() if isinstance(n, int) and n}


@pytest.fixture
def job(coordinator):
    """A job with three joints from a list."""
    job = make_job()
    confirm(bring(job, coordinator, row(1), row(2), row(3)).pk, coordinator)
    return job


def test_a_second_list_shows_what_is_added_changed_and_removed(job, coordinator) -> None:
    batch = bring(job, coordinator, row(1), row(2, throat_a="6", position="PA"), row(4))
    assert counts(batch) == {"added": 1, "same": 1, "changed": 1, "fields": 2, "removed": 1}
    lines = batch.comparison["lines"]
    assert [(c["number"], c["field"], c["before"], c["after"]) for c in lines["changed"]] == [
        ("2", "throat_mm", "5", "6"),
        ("2", "position", "PB", "PA"),
    ]
    assert [c["number"] for c in lines["removed"]] == ["3"]
    assert Joint.objects.count() == 3, "nothing is written before somebody says so"
    confirm(batch.pk, coordinator)
    assert sorted(Joint.objects.values_list("number", "throat_mm")) == [("1", 5), ("2", 6), ("4", 5)]
    gone = Joint.every.get(number="3")
    assert gone.left_model_at is not None
    assert gone.history.first().history_change_reason == "list list.csv"
    assert sorted(ImportDifference.objects.values_list("kind", "joint_number", "field")) == [
        ("added", "4", ""),
        ("changed", "2", "position"),
        ("changed", "2", "throat_mm"),
        ("removed", "3", ""),
    ]


def test_a_removed_joint_comes_back_with_its_history(job, coordinator) -> None:
    before = Joint.objects.get(number="3").pk
    confirm(bring(job, coordinator, row(1), row(2)).pk, coordinator)
    batch = bring(job, coordinator, row(1), row(2), row(3, throat_a="4"))
    assert counts(batch) == {"same": 2, "changed": 1, "fields": 1, "back": 1}
    confirm(batch.pk, coordinator)
    back = Joint.objects.get(number="3")
    assert (back.pk, back.left_model_at, back.throat_mm) == (before, None, 4)


@pytest.mark.parametrize(("scope", "gone"), [("part", []), ("assemblies", ["2"]), ("whole", ["1", "2"])])
def test_what_a_list_claims_to_hold_says_what_is_removed(coordinator, scope: str, gone: list[str]) -> None:
    job = make_job()
    confirm(bring(job, coordinator, row(1), row(2), row(1, assembly="B2")).pk, coordinator)
    make_joint(job, number="by hand")
    batch = bring(job, coordinator, row(1), scope=scope)
    assert [c["number"] for c in batch.comparison["lines"]["removed"]] == gone[::-1]


def test_what_was_corrected_here_stays_where_the_sender_repeats_himself(job, coordinator) -> None:
    Joint.objects.filter(number="2").update(throat_mm=D(6))
    batch = bring(job, coordinator, row(1), row(2), row(3, position="PA"))
    assert counts(batch) == {"same": 2, "changed": 1, "fields": 1, "kept": 1}
    confirm(batch.pk, coordinator)
    assert Joint.objects.get(number="2").throat_mm == 6
    assert ImportDifference.objects.get(kind="kept").after == "5"


@pytest.mark.parametrize(("choice", "throat"), [("ours", 6), ("theirs", 7)])
def test_a_field_changed_on_both_sides_asks_who_is_right(job, coordinator, choice: str, throat: int) -> None:
    Joint.objects.filter(number="2").update(throat_mm=D(6))
    batch = bring(job, coordinator, row(1), row(2, throat_a="7"), row(3))
    assert counts(batch) == {"same": 3, "contested": 1}
    with pytest.raises(Refusal, match="1 field was changed on both sides"):
        confirm(batch.pk, coordinator)
    pk = Joint.objects.get(number="2").pk
    take_over(batch, {f"choose:{pk}:throat_mm": choice}, coordinator)
    confirm(check_batch(batch.pk).pk, coordinator)
    assert Joint.objects.get(number="2").throat_mm == throat


def test_a_cell_left_empty_takes_away_only_what_the_sender_said_himself(job, coordinator) -> None:
    Joint.objects.filter(number="1").update(length_mm=D(310))
    batch = bring(job, coordinator, row(1, position=""), row(2), row(3))
    assert [(c["field"], c["before"], c["after"]) for c in batch.comparison["lines"]["changed"]] == [
        ("position", "PB", "")
    ]
    confirm(batch.pk, coordinator)
    assert Joint.objects.values_list("position", "length_mm").get(number="1") == ("", 310)


def test_a_joint_entered_by_hand_takes_what_the_list_says(coordinator) -> None:
    job = make_job()
    make_joint(job, number="1", throat_mm=D(4), length_mm=D(200))
    batch = bring(job, coordinator, row(1), scope="part")
    assert counts(batch)["changed"] == 1
    confirm(batch.pk, coordinator)
    assert Joint.objects.values_list("throat_mm", "length_mm").get() == (5, 200)


def test_a_bad_cell_is_corrected_on_the_page_and_reported_as_changed(coordinator) -> None:
    job = make_job()
    batch = bring(job, coordinator, row(1), row(2, grade_1="S999"))
    assert [(p["row"], p["field"], p["cell"]) for p in batch.errors] == [(3, "grade_1", "S999")]
    take_over(batch, {"fix:3:grade_1": "S355J2"}, coordinator)
    batch = check_batch(batch.pk)
    assert not batch.errors
    confirm(batch.pk, coordinator)
    assert Joint.objects.get(number="2").grade_1 == "S355J2"
    change = WeldDataChange.objects.get()
    assert (change.field, change.before, change.after, change.joint_number) == ("grade_1", "S999", "S355J2", "2")
    assert JointAsSent.objects.get(joint__number="2").values["grade_1"] == "S999"


def test_the_sender_repeats_a_bad_cell_that_was_corrected_before(coordinator) -> None:
    job = make_job()
    first = bring(job, coordinator, row(2, grade_1="S999"))
    take_over(first, {"fix:2:grade_1": "S355J2"}, coordinator)
    confirm(check_batch(first.pk).pk, coordinator)
    again = bring(job, coordinator, row(2, grade_1="S999", throat_a="6"))
    assert not again.errors
    assert counts(again) == {"changed": 1, "fields": 1, "kept": 1}


def test_a_correction_that_is_bad_itself_is_refused_and_may_be_taken_back(coordinator) -> None:
    batch = bring(make_job(), coordinator, row(1, thickness_1="-3"))
    take_over(batch, {"fix:2:t1_mm": "minus three"}, coordinator)
    batch = check_batch(batch.pk)
    assert "is not a number" in batch.errors[0]["message"]
    take_over(batch, {"undo:2:t1_mm": "on"}, coordinator)
    assert "-3 is no size" in check_batch(batch.pk).errors[0]["message"]


def test_joints_of_a_model_are_known_by_their_identity(coordinator) -> None:
    job, head = make_job(), "Assembly;Joint number;Weld type;Thickness 1;Model id"
    confirm(bring(job, coordinator, "B1;1;fillet;12;idA", "B1;2;fillet;12;idB", head=head).pk, coordinator)
    first, second = (Joint.objects.get(model_id=one).pk for one in ("idA", "idB"))
    # The two swap their numbers, and a new one takes a third.
    batch = bring(job, coordinator, "B1;2;fillet;12;idA", "B1;1;fillet;12;idB", "B2;1;fillet;12;idC", head=head)
    assert counts(batch) == {"added": 1, "changed": 2, "fields": 2}
    confirm(batch.pk, coordinator)
    assert Joint.objects.get(pk=first).number == "2"
    assert Joint.objects.get(pk=second).number == "1"


def test_a_number_that_another_joint_on_file_keeps_is_refused(coordinator) -> None:
    job, head = make_job(), "Assembly;Joint number;Weld type;Thickness 1;Model id"
    confirm(bring(job, coordinator, "B1;1;fillet;12;idA", "B1;2;fillet;12;idB", head=head).pk, coordinator)
    batch = bring(job, coordinator, "B1;2;fillet;12;idA", scope="part", head=head)
    assert "is another one on file" in batch.errors[0]["message"]


def test_the_answers_of_the_day_are_kept_with_each_import(job, coordinator) -> None:
    assert AnswerOnImport.objects.count() == 3
    assert set(AnswerOnImport.objects.values_list("outcome", flat=True)) == {"outside"}
    confirm(bring(job, coordinator, row(1), row(2)).pk, coordinator)
    assert AnswerOnImport.objects.filter(joint__number="1").count() == 2
    assert AnswerOnImport.objects.filter(joint__number="3").count() == 1, "the answer before it left stays"


def test_a_run_is_whole_or_nothing_and_may_be_repeated(job, coordinator) -> None:
    batch = bring(job, coordinator, row(1, throat_a="6"), row(4), row(5))

    def stop(done: int, total: int, what: str) -> None:
        if what == "writing":
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        confirm(batch.pk, coordinator, stop)
    assert Joint.every.count() == 3 and Joint.every.get(number="1").throat_mm == 5
    told: list[tuple[int, int, str]] = []
    assert run_import(batch.pk, lambda *said: told.append(said)) == 3
    assert told[-2:] == [(3, 3, "writing"), (3, 3, "keeping today's answers")]
    assert run_import(batch.pk) == 3
    assert Joint.every.count() == 5
