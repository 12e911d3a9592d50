"""Lists, log files, answers of an import, notices and tokens against the trail: SQL behind Django's back."""

from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from joints.imports import batch as lists
from joints.models import AnswerOnImport, ImportBatch, ImportDifference
from qualifications.calendar.digest import send
from qualifications.models import DueNotice, WeldLogBatch
from qualifications.weld_log import files
from register.models import Plant, SystemToken
from register.plants.opening import open_plant
from register.systems import acts as tokens
from register.trail.verify import verify
from tests.conftest import dropped_triggers
from tests.joints.files import csv_of, row
from tests.joints.makers import make_job
from tests.qualifications.make import certificate, person
from tests.qualifications.test_log_files import GOOD, HEAD, NOW

pytestmark = pytest.mark.django_db
DAY = "2027-03-31"
TAKEN = "is not as it was taken in"


def sql(statement: str, *params: Any) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement, params)


def told(statement: str, *params: Any) -> str:
    """What verifying says after a statement that went past the triggers; the statement is undone."""
    assert verify().whole, verify()
    with dropped_triggers(connection), transaction.atomic():
        sql(statement, *params)
        found = verify()
        transaction.set_rollback(True)
    assert not found.problem
    return found.differs


def refused(*statements: str) -> None:
    """The database itself refuses these while the triggers stand."""
    for statement in statements:
        with pytest.raises(IntegrityError), transaction.atomic():
            sql(statement)


@pytest.fixture
def taken(coordinator: User) -> ImportBatch:
    """A second list of a job, which changed a joint and no longer holds another."""
    job = make_job()
    first = lists.take_in(job, "first.csv", csv_of(), {}, coordinator)
    lists.confirm(first.pk, coordinator)
    again = csv_of(row(1, throat_a="6"), row(2), row(3))
    second = lists.take_in(job, "second.csv", again, {}, coordinator, scope=ImportBatch.WHOLE)
    lists.confirm(second.pk, coordinator)
    assert ImportDifference.objects.filter(batch=second).exists()
    assert AnswerOnImport.objects.filter(batch=second).count() == 3
    return ImportBatch.objects.get(pk=second.pk)


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE joints_importbatch SET sha256 = 'aa' WHERE id = {pk}", TAKEN),
        ("UPDATE joints_importbatch SET file_name = 'x.csv' WHERE id = {pk}", TAKEN),
        ('UPDATE joints_importbatch SET choices = \'{{"1:a": "ours"}}\' WHERE id = {pk}', TAKEN),
        ("UPDATE joints_importbatch SET rows = '[]' WHERE id = {pk}", TAKEN),
        ("UPDATE joints_importbatch SET confirmed_by = 'qa' WHERE id = {pk}", TAKEN),
        ("UPDATE joints_importbatch SET status = 'uploaded' WHERE id = {pk}", "was taken in, and is gone"),
        ("UPDATE joints_answeronimport SET outcome = 'bent' WHERE batch_id = {pk}", "the answers on that day"),
        ("UPDATE joints_answeronimport SET people = 9 WHERE batch_id = {pk}", "the answers on that day"),
        ("DELETE FROM joints_answeronimport WHERE batch_id = {pk}", "the answers on that day"),
        ("UPDATE joints_importdifference SET after = '9' WHERE batch_id = {pk}", "what it changed"),
        ("UPDATE joints_importdifference SET joint_id = 0 WHERE batch_id = {pk}", "what it changed"),
        ("DELETE FROM joints_importdifference WHERE batch_id = {pk}", "what it changed"),
    ],
)
def test_a_list_that_was_bent_after_it_was_taken_in_is_told(taken: ImportBatch, statement: str, words: str) -> None:
    assert words in told(statement.format(pk=taken.pk))


def test_a_list_put_in_past_the_register_is_told(taken: ImportBatch) -> None:
    names = ", ".join(
        connection.ops.quote_name(field.column)
        for field in ImportBatch._meta.concrete_fields
        if field.name not in {"id", "sha256"}
    )
    copied = f"SELECT {names}, 'bb' FROM joints_importbatch WHERE id = {taken.pk}"
    assert "no act in the trail took it in" in told(f"INSERT INTO joints_importbatch ({names}, sha256) {copied}")


def test_the_database_itself_keeps_a_list_that_was_taken_in(taken: ImportBatch, coordinator: User) -> None:
    refused(
        f"UPDATE joints_importbatch SET file_name = 'x' WHERE id = {taken.pk}",
        f"DELETE FROM joints_importbatch WHERE id = {taken.pk}",
    )
    shown = lists.take_in(taken.job, "third.csv", csv_of(row(1, throat_a="7")), {}, coordinator)
    sql(f"UPDATE joints_importbatch SET file_name = 'x' WHERE id = {shown.pk}")  # it is shown, and may be given up


def test_a_log_file_stays_as_it_was_taken_in(people: dict[str, Any]) -> None:
    person("Ada Krol", identification="W07", supervisor=people["supervisor"])
    held = files.take_in("cell.csv", "\n".join([HEAD, GOOD]).encode(), people["supervisor"], NOW)
    files.confirm(held.pk, people["supervisor"])
    table = WeldLogBatch._meta.db_table
    for change in ("sha256 = 'aa'", "rows = '[]'", "file_name = 'x.csv'", "confirmed_by = 'qa'"):
        assert "is not as it was taken in" in told(f"UPDATE {table} SET {change}")
    assert "is gone" in told(f"UPDATE {table} SET status = 'uploaded'")
    refused(f"UPDATE {table} SET sha256 = 'aa'", f"UPDATE {table} SET status = 'uploaded'")


def test_a_notice_stays_as_it_was_sent(people: dict[str, Any]) -> None:
    people["coordinator"].email = "coordinator@example.org"
    people["coordinator"].save()
    today = timezone.localdate()
    certificate(person("Ada Krol"), welded_on=today - timedelta(days=165))
    assert send(today, (30, 7)).announced == 1
    table = DueNotice._meta.db_table
    for change in ("sent_to = 'else@example.org'", "sent_at = '2020-01-01 00:00:00+00:00'"):
        assert "was changed after it was sealed" in told(f"UPDATE {table} SET {change}")
    assert "was sealed, and is gone" in told(f"DELETE FROM {table}")
    refused(f"UPDATE {table} SET sent_to = 'x'", f"DELETE FROM {table}")


def token(by: User, name: str = "Cell 3") -> SystemToken:
    made, _ = tokens.make(by, name, ["read:due"], timezone.localdate() + timedelta(days=90))
    return made


@pytest.mark.parametrize(
    "change",
    ["scopes = '[\"write:log\"]'", "expires_on = '2030-01-01'", "digest = 'aa'", "name = 'Cell 4'", "made_by = 'qa'"],
)
def test_a_token_that_was_bent_is_told(coordinator: User, change: str) -> None:
    token(coordinator)
    assert "is not as it was made" in told(f"UPDATE register_systemtoken SET {change}")


def test_a_token_put_in_revoked_or_brought_back_past_the_register_is_told(coordinator: User) -> None:
    held = token(coordinator)
    assert "no act in the trail says so" in told(
        f"UPDATE register_systemtoken SET revoked_at = '2026-01-01 00:00:00+00:00', revoked_because = 'x' "
        f"WHERE id = {held.pk}"
    )
    assert "no act in the trail made it" in told(
        "INSERT INTO register_systemtoken (name, digest, hint, scopes, expires_on, made_by, made_at, revoked_by, "
        f"revoked_because) VALUES ('Cell 9', 'cc', 'wreg_', '[]', '{DAY}', '', '2026-01-01 00:00:00+00:00', '', '')"
    )
    tokens.revoke(coordinator, held, "laptop lost")
    assert "counts on file" in told("UPDATE register_systemtoken SET revoked_at = NULL, revoked_because = ''")
    assert "revoked otherwise" in told("UPDATE register_systemtoken SET revoked_because = 'not lost'")
    refused(
        "UPDATE register_systemtoken SET revoked_at = NULL, revoked_because = ''",
        "UPDATE register_systemtoken SET revoked_because = 'not lost'",
        "UPDATE register_systemtoken SET revoked_by = 'qa'",
        "UPDATE register_systemtoken SET revoked_at = '2026-01-01 00:00:00+00:00'",
        "UPDATE register_systemtoken SET expires_on = '2099-01-01'",
        "UPDATE register_systemtoken SET scopes = '[]'",
        "DELETE FROM register_systemtoken",
    )


def test_a_token_stays_with_its_plant(coordinator: User) -> None:
    held = token(coordinator)
    open_plant("North works", first="Tarn works", group=["coordinator"])
    north = Plant.objects.get(name="North works")
    for plant in (north.pk, "NULL"):
        changed = told(f"UPDATE register_systemtoken SET plant_id = {plant} WHERE id = {held.pk}")
        assert "is not as it was made" in changed
        refused(f"UPDATE register_systemtoken SET plant_id = {plant} WHERE id = {held.pk}")
