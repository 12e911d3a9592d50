"""Rows written without instances are the rows that the models would have written."""

from datetime import UTC, date, datetime
from decimal import Decimal as D

import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction

from joints.imports.batch import confirm, take_in
from joints.imports.compare import Comparer
from joints.imports.fields import STATED_FIELDS, plain_of
from joints.imports.many import Many
from joints.imports.on_file import JointsOnFile
from joints.imports.write import Writer
from joints.models import Assembly, ImportBatch, ImportDifference, Joint, JointAsSent
from register.plants.reach import Reach, within
from tests.joints.files import HEAD, csv_of, row
from tests.joints.makers import make_job, make_joint, make_station

pytestmark = pytest.mark.django_db
NAMES = ("assembly", "number", "t1_mm", "weld_date", "final_workstation", "created_at", "changed_at")
NOW = datetime(2028, 2, 29, 23, 59, tzinfo=UTC)


def plain(joint: Joint) -> dict[str, object]:
    """Every column but the key and the number."""
    return {f.attname: getattr(joint, f.attname) for f in Joint._meta.concrete_fields if f.name not in ("id", "number")}


def test_a_row_is_what_the_model_would_have_saved() -> None:
    assembly, station = Assembly.objects.create(job=make_job(), mark="B1"), make_station()
    said = {"assembly": assembly, "t1_mm": D("12.5"), "weld_date": date(2028, 2, 29), "final_workstation": station}
    Joint.every.bulk_create([Joint(number="1", created_at=NOW, changed_at=NOW, **said)])
    Joint.every.update(created_at=NOW, changed_at=NOW)
    rows = [(assembly.pk, number, D("12.5"), date(2028, 2, 29), station.pk, NOW, NOW) for number in ("2", "3")]
    Many(Joint, NAMES).insert(rows)
    first, *others = Joint.every.order_by("number")
    assert [plain(one) for one in others] == [plain(first)] * 2


def test_a_change_reaches_the_row_that_is_named_and_no_other() -> None:
    one, other = make_joint(number="1"), make_joint(number="2")
    Many(Joint, ("throat_mm", "remarks")).update([(D("6.5"), "50 % sure", one.pk)])
    assert list(Joint.every.order_by("pk").values_list("throat_mm", "remarks")) == [
        (D("6.5"), "50 % sure"),
        (other.throat_mm, ""),
    ]


def test_what_the_database_refuses_is_refused() -> None:
    assembly = Assembly.objects.create(job=make_job(), mark="B1")
    for size, numbers in ((D(0), "1"), (D(5), "11")):
        with pytest.raises(IntegrityError), transaction.atomic():
            Many(Joint, NAMES).insert([(assembly.pk, n, size, None, None, NOW, NOW) for n in numbers])
    assert not Joint.every.exists()


def test_joints_are_read_in_the_words_of_a_list(coordinator) -> None:
    make_station()
    rows = (f"{row(1, throat_a='5.25')};2028-02-29;Bay 1", f"{row(2, throat_a='')};;")
    job = make_job()
    data = csv_of(*rows, head=f"{HEAD};Weld date;Workstation")
    confirm(take_in(job, "list.csv", data, {}, coordinator).pk, coordinator)
    by_hand = make_joint(job, number="3")
    found = JointsOnFile().by_key(Joint.every.values_list("pk", flat=True))
    for joint in Joint.every.all():
        one = found[joint.pk]
        assert {name: one.values[name] for name in STATED_FIELDS} == {n: plain_of(joint, n) for n in STATED_FIELDS}
        assert (one.mark, one.named) == (joint.assembly.mark, joint.named)
    assert found[by_hand.pk].sent is None
    assert {pk: one.sent for pk, one in found.items() if one.sent is not None} == dict(
        JointAsSent.objects.values_list("joint_id", "values")
    )


def test_every_change_has_one_version_of_what_stands_on_file_after_it(coordinator) -> None:
    job = make_job()
    confirm(take_in(job, "a.csv", csv_of(row(1), row(2), row(3)), {}, coordinator).pk, coordinator)
    again = csv_of(row(1), row(2, throat_a="6", position="PA"))
    confirm(take_in(job, "b.csv", again, {}, coordinator, scope=ImportBatch.WHOLE).pk, coordinator)
    versions = Joint.history.order_by("number", "history_id")
    assert list(versions.values_list("number", "history_type", "history_change_reason", "throat_mm", "position")) == [
        ("1", "+", "list a.csv", 5, "PB"),
        ("2", "+", "list a.csv", 5, "PB"),
        ("2", "~", "list b.csv", 6, "PA"),
        ("3", "+", "list a.csv", 5, "PB"),
        ("3", "~", "list b.csv", 5, "PB"),
    ]
    assert versions.last().left_model_at is not None
    assert set(versions.values_list("history_user_name", "history_user")) == {("coordinator", coordinator.pk)}
    changed = Joint.every.get(number="2")
    assert versions.get(number="2", history_type="~").changed_at == changed.changed_at > changed.created_at
    assert ImportDifference.objects.count() == 3


def test_a_job_of_another_plant_is_not_written(coordinator) -> None:
    batch = take_in(make_job(), "list.csv", csv_of(), {}, coordinator)
    with within(Reach(frozenset({0}))), pytest.raises(PermissionDenied):
        Writer(batch, Comparer(batch.job, batch, ()), coordinator)
    assert not Joint.everything.exists()
