"""Making the first account of a shop."""

import io

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command

from register.models import AuditEntry


@pytest.fixture(autouse=True)
def password(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NEW_PASSWORD", "Kehlnaht a5 in PB")


def add(*arguments: str) -> str:
    out = io.StringIO()
    call_command("add_user", *arguments, stdout=out)
    return out.getvalue().strip()


def test_an_account_with_a_role(db: None) -> None:
    assert add("anna", "--role", "coordinator", "--last-name", "Brandt") == "anna: coordinator"
    anna = User.objects.get(username="anna")
    assert anna.check_password("Kehlnaht a5 in PB")
    assert anna.last_name == "Brandt"
    assert AuditEntry.objects.get().after == {"roles": ["coordinator"]}


def test_a_second_role_for_the_same_account(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    add("anna", "--role", "qa")
    monkeypatch.setenv("NEW_PASSWORD", "another one entirely")
    assert add("anna", "--role", "supervisor") == "anna: qa, supervisor"
    assert User.objects.get().check_password("Kehlnaht a5 in PB")


def test_a_weak_password_saves_nothing(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NEW_PASSWORD", "short")
    with pytest.raises(CommandError, match="at least 10 characters"):
        add("anna", "--role", "qa")
    assert not User.objects.exists()


def test_an_unknown_role_is_refused(db: None) -> None:
    with pytest.raises(CommandError, match="foreman"):
        add("anna", "--role", "foreman")


def test_a_password_is_typed_twice(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NEW_PASSWORD")
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    typed = iter(["Kehlnaht a5 in PB", "Kehlnaht a5 in PC", "Kehlnaht a5 in PB", "Kehlnaht a5 in PB"])
    monkeypatch.setattr("getpass.getpass", lambda prompt: next(typed))
    with pytest.raises(CommandError, match="differ"):
        add("anna", "--role", "qa")
    assert not User.objects.exists()
    assert add("anna", "--role", "qa") == "anna: qa"
    assert User.objects.get().check_password("Kehlnaht a5 in PB")


def test_where_nobody_can_type_the_way_out_is_named(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NEW_PASSWORD")
    monkeypatch.setattr("sys.stdin.isatty", lambda: False)
    with pytest.raises(CommandError, match="NEW_PASSWORD"):
        add("anna", "--role", "qa")
