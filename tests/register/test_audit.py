"""The log of acts is written once, in Python and in the database."""

from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.core.exceptions import PermissionDenied
from django.db import DatabaseError, transaction
from django.utils import timezone
from django.utils.functional import lazy
from django.utils.translation import get_language, override

from register.audit import acts_on, record_act
from register.models import AuditEntry


def test_an_act_is_written_with_before_and_after(coordinator: User, qa: User) -> None:
    entry = record_act(coordinator, "renamed", qa, before={"name": "A"}, after={"name": "B"}, note="typing error")
    entry.refresh_from_db()
    assert (entry.user_name, entry.act, entry.subject_type) == ("coordinator", "renamed", "auth.user")
    assert (entry.before, entry.after, entry.note) == ({"name": "A"}, {"name": "B"}, "typing error")
    assert list(acts_on(qa)) == [entry]
    assert list(acts_on(coordinator)) == []


def test_the_trail_speaks_the_registers_own_language(coordinator: User, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(User, "__str__", lambda _: f"account, {get_language()}")
    with override("de"):
        record_act(coordinator, lazy(get_language, str)(), coordinator)
    entry = AuditEntry.objects.get()
    assert (entry.act, entry.subject) == ("en-gb", "account, en-gb")


def test_newest_first_and_in_order_of_writing_within_an_instant(coordinator: User) -> None:
    now = timezone.now()
    first = AuditEntry.objects.create(act="first", at=now)
    second = AuditEntry.objects.create(act="second", at=now)
    old = AuditEntry.objects.create(act="old", at=now - timedelta(days=1))
    assert list(AuditEntry.objects.all()) == [second, first, old]


def test_the_name_outlives_the_account(coordinator: User) -> None:
    entry = record_act(coordinator, "left")
    coordinator.delete()
    entry.refresh_from_db()
    assert entry.user_name == "coordinator"


def test_the_register_itself_may_act(db: None) -> None:
    assert "the register: tidied" in str(record_act(None, "tidied"))


def test_the_model_refuses_change_and_deletion(coordinator: User) -> None:
    entry = record_act(coordinator, "approved")
    entry.act = "never happened"
    with pytest.raises(PermissionDenied):
        entry.save()
    with pytest.raises(PermissionDenied):
        entry.delete()


def test_the_database_refuses_change_and_deletion(coordinator: User) -> None:
    record_act(coordinator, "approved")
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        AuditEntry.objects.update(act="never happened")
    with pytest.raises(DatabaseError, match="never deleted"), transaction.atomic():
        AuditEntry.objects.all()._raw_delete("default")
    assert AuditEntry.objects.get().act == "approved"
