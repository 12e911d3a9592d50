"""`manage.py setup` may be repeated, and the demonstration signs in people of every role."""

import io
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command
from django.test import Client

from register.demo import PASSWORD, SIGN_INS, listing, make_sign_ins
from register.management.commands import setup
from register.roles import Role


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch, tmp_path: Any, settings: Any) -> None:
    """Static files into a folder of the test, and no demonstration data: that has tests of its own."""
    settings.STATIC_ROOT = tmp_path
    monkeypatch.setattr(setup, "get_commands", dict)


def run(*options: str) -> str:
    out = io.StringIO()
    call_command("setup", *options, stdout=out)
    return out.getvalue()


def test_without_demo_no_account_is_made(quick: None, db: None, tmp_path: Any) -> None:
    assert "Database ready" in run()
    assert not User.objects.exists()
    assert (tmp_path / "register").is_dir()


def test_demo_twice_is_demo_once(quick: None, db: None) -> None:
    first = run("--demo")
    assert run("--demo") == first
    assert User.objects.count() == len(SIGN_INS)
    assert PASSWORD in first


def test_every_role_can_sign_in(db: None) -> None:
    make_sign_ins()
    assert {person.role for person in SIGN_INS} == set(Role)
    for person in SIGN_INS:
        assert Client().login(username=person.username, password=PASSWORD)
        assert person.username in listing()


def test_a_changed_password_and_role_are_put_back(db: None) -> None:
    marta = make_sign_ins()["marta"]
    marta.set_password("something else")
    marta.is_active = False
    marta.save()
    marta.groups.clear()
    marta = make_sign_ins()["marta"]
    assert marta.is_active
    assert marta.check_password(PASSWORD)
    assert [group.name for group in marta.groups.all()] == ["coordinator"]
