"""Tokens of systems: shown once, kept as a hash, counted to the last day, revoked with a reason, all in the trail."""

import re
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.exceptions import PermissionDenied
from django.db import OperationalError
from django.db.models import QuerySet
from django.test import Client
from django.urls import reverse

from register.models import AuditEntry, SystemToken
from register.roles import Capability, capabilities
from register.systems import acts
from register.systems.models import System
from register.systems.scopes import WORDS, Scope
from register.trail.verify import verify
from tests.conftest import SIGNED

As = Callable[[str], Client]
TODAY = datetime(2026, 11, 25, 12, tzinfo=UTC)
SENT = {"name": "Cell 3 controller", "scopes": ["write:log", "read:due"], "expires_on": "2027-03-31"}


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: TODAY)


def made(by: User, **changes: Any) -> tuple[SystemToken, str]:
    given = {"name": "Cell 3", "scopes": ["read:due"], "expires_on": date(2026, 11, 30)} | changes
    return acts.make(by, **given)


def test_a_token_is_shown_once_and_kept_as_a_hash(client_of: As) -> None:
    browser = client_of("coordinator")
    response = browser.post(reverse("systems:new"), SIGNED | SENT)
    assert response.status_code == 200
    assert response.headers["Cache-Control"] == "no-store"
    shown = re.search(r"wreg_[\w-]{43}", response.content.decode())
    assert shown is not None
    # Whoever sets the system up is told both: what it may do and what the interface calls that.
    assert "read what falls due, by name (<code>read:due</code>)" in response.content.decode()
    token = SystemToken.objects.get()
    assert token.digest == acts.digest_of(shown[0])
    assert shown[0] not in str(SystemToken.objects.values()) + str(AuditEntry.objects.values())
    for name in ("systems:list", "systems:system"):
        page = browser.get(reverse(name, args=[token.pk] if name == "systems:system" else [])).content.decode()
        assert "Cell 3 controller" in page
        assert "read what falls due, by name; write entries of the weld log" in page and "read:due" not in page
        assert shown[0] not in page
    entry = AuditEntry.objects.get()
    assert (entry.user_name, entry.act, entry.subject) == ("coordinator", "made the token", "Cell 3 controller")
    after = dict(entry.after or {})
    assert after.pop("sealed")["by"] == token.made_by
    assert after == {"scopes": ["read:due", "write:log"], "expires_on": "2027-03-31"}
    assert token.digest not in str(entry.after)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"signing_password": "guess"}, "not your password"),
        ({"scopes": []}, "Choose at least one"),
        ({"scopes": ["approve:all"]}, "approve:all"),
        ({"name": " "}, "Missing; enter it."),
        ({"expires_on": "2026-11-24"}, "2026-11-24 is past; take a day from today to 2029-02-02."),
        ({"expires_on": "2029-02-03"}, "That is too long; take a day from today to 2029-02-02."),
        ({"expires_on": "2026-11-24", "signing_password": "guess"}, "2026-11-24 is past"),
        ({"name": "Old CELL"}, "is taken"),
    ],
)
def test_what_is_refused_makes_no_token(client_of: As, coordinator: User, change: dict[str, Any], said: str) -> None:
    made(coordinator, name="Old cell")
    response = client_of("coordinator").post(reverse("systems:new"), SIGNED | SENT | change)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not response.context["form"].non_field_errors()
    assert SystemToken.objects.count() == 1


@pytest.mark.parametrize("day", ["2026-11-25", "2029-02-02"])
def test_today_and_the_furthest_day_are_taken(client_of: As, day: str) -> None:
    assert client_of("coordinator").post(reverse("systems:new"), SIGNED | SENT | {"expires_on": day}).status_code == 200
    assert SystemToken.objects.count() == 1


def test_it_counts_to_its_last_day(coordinator: User) -> None:
    _, secret = made(coordinator)
    last = datetime(2026, 11, 30, 22, 59, tzinfo=UTC)  # 23:59 in Berlin
    assert acts.recognised(secret, last) is not None
    assert acts.recognised(secret, last + timedelta(minutes=2)) is None
    assert acts.recognised(secret + "x", TODAY) is None
    assert acts.recognised("", TODAY) is None


def test_revoked_it_opens_nothing(client_of: As, coordinator: User) -> None:
    token, secret = made(coordinator)
    address = reverse("systems:revoke", args=[token.pk])
    assert client_of("coordinator").post(address, SIGNED | {"because": ""}).status_code == 422
    assert client_of("coordinator").post(address, {"because": "lost"}).status_code == 422
    assert acts.recognised(secret, TODAY) is not None
    assert client_of("coordinator").post(address, SIGNED | {"because": "laptop lost"}).status_code == 302
    assert acts.recognised(secret, TODAY) is None
    entry = AuditEntry.objects.order_by("number").last()
    assert (entry.act, (entry.after or {})["because"]) == ("revoked the token", "laptop lost")
    assert client_of("coordinator").post(address, SIGNED | {"because": "again"}).status_code == 409
    assert verify().whole
    with pytest.raises(PermissionDenied):
        token.delete()


def test_last_used_is_noted_once_a_minute(coordinator: User) -> None:
    token, secret = made(coordinator)
    for seconds, noted in ((0, 0), (59, 0), (60, 60), (90, 60)):
        acts.recognised(secret, TODAY + timedelta(seconds=seconds))
        token.refresh_from_db()
        assert token.last_used_at == TODAY + timedelta(seconds=noted)


def test_a_question_is_answered_although_its_use_cannot_be_noted(
    coordinator: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, secret = made(coordinator)

    def full(self: Any, **values: Any) -> int:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(QuerySet, "update", full)
    assert acts.recognised(secret, TODAY) is not None


def test_a_system_holds_what_its_token_says_and_is_no_account(coordinator: User) -> None:
    token, _ = made(coordinator, scopes=["write:log"])
    token.scopes = ["write:log", "approve:all"]
    system = System(token)
    assert token.granted == (Scope.WRITE_LOG,)
    assert capabilities(system) == {Capability.LOG_ANYBODY}  # type: ignore[arg-type]
    assert system.get_username() == "system: Cell 3"
    assert set(WORDS) == set(Scope)
