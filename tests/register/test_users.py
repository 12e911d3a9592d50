"""Accounts are made, given roles and switched off by the coordinator; never deleted; each act is in the trail."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import Group, User
from django.test import Client
from django.urls import reverse

from register.models import AuditEntry
from register.users.accounts import roles_of
from tests.conftest import PASSWORD, SIGNED

As = Callable[[str], Client]
ANNA = {"username": "anna", "last_name": "Brandt", "roles": ["qa"], "is_active": "on"}
NEW = SIGNED | ANNA | {"password": "Kehlnaht a5 PB"}


def stated(user: User, *roles: str, active: bool = True) -> dict[str, Any]:
    return SIGNED | {"username": user.username, "roles": roles} | ({"is_active": "on"} if active else {})


def test_a_new_account(client_of: As) -> None:
    assert client_of("coordinator").post(reverse("users:new"), NEW).status_code == 302
    anna = User.objects.get(username="anna")
    assert anna.check_password("Kehlnaht a5 PB")
    assert roles_of(anna) == ["qa"]
    entry = AuditEntry.objects.get()
    assert (entry.user_name, entry.act, entry.subject) == ("coordinator", "made the account", "anna")
    assert "Kehlnaht" not in str(entry.after)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"password": "short"}, "at least 10 characters"),
        ({"username": "qa"}, "Somebody signs in with this name already; choose another."),
        ({"username": ""}, "Missing; enter it."),
        ({"roles": ["foreman"]}, "foreman"),
        ({"signing_password": "guess"}, "not your password"),
    ],
)
def test_what_is_refused_is_not_saved(client_of: As, change: dict[str, Any], said: str) -> None:
    response = client_of("coordinator").post(reverse("users:new"), NEW | change)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not User.objects.filter(username="anna").exists()


def test_roles_are_changed_and_an_account_is_switched_off(client_of: As, qa: User) -> None:
    qa.groups.add(Group.objects.create(name="of another program"))
    browser, address = client_of("coordinator"), reverse("users:change", args=[qa.pk])
    theirs = client_of("qa")
    assert re.search('value="qa"[^>]* checked', browser.get(address).content.decode())
    assert browser.post(address, stated(qa, "supervisor", "auditor")).status_code == 302
    assert roles_of(qa) == ["auditor", "supervisor"]
    assert qa.groups.filter(name="of another program").exists()
    assert AuditEntry.objects.get().before["roles"] == ["qa"]
    assert browser.post(address, stated(qa, active=False)).status_code == 302
    assert theirs.get("/").status_code == 302
    assert not Client().login(username="qa", password=PASSWORD)


def test_the_name_stays_what_records_were_signed_with(client_of: As, qa: User) -> None:
    given = stated(qa, "qa") | {"username": "renamed"}
    assert client_of("coordinator").post(reverse("users:change", args=[qa.pk]), given).status_code == 302
    qa.refresh_from_db()
    assert qa.username == "qa"


def test_somebody_is_left_to_manage_accounts(client_of: As, coordinator: User, second_coordinator: User) -> None:
    browser = client_of("coordinator")
    off = browser.post(reverse("users:change", args=[second_coordinator.pk]), stated(second_coordinator, active=False))
    assert off.status_code == 302
    address = reverse("users:change", args=[coordinator.pk])
    for given in (stated(coordinator, "qa"), stated(coordinator, "coordinator", active=False)):
        refused = browser.post(address, given)
        assert refused.status_code == 422
        assert "Nobody would be left" in refused.content.decode()
    coordinator.refresh_from_db()
    assert coordinator.is_active
    assert roles_of(coordinator) == ["coordinator"]


def test_nobody_switches_off_the_account_they_are_signed_in_with(
    client_of: As, coordinator: User, second_coordinator: User
) -> None:
    address = reverse("users:change", args=[coordinator.pk])
    refused = client_of("coordinator").post(address, stated(coordinator, "coordinator", active=False))
    assert refused.status_code == 422
    assert "somebody else must switch it off" in refused.content.decode()
    coordinator.refresh_from_db()
    assert coordinator.is_active


def test_a_name_that_stays_is_not_marked_as_needed(client_of: As, qa: User) -> None:
    page = client_of("coordinator").get(reverse("users:change", args=[qa.pk])).content.decode()
    label = page.split('<label for="id_username">')[1].split("</label>")[0]
    assert "needed" not in label


def test_a_new_password_ends_what_was_open(client_of: As, qa: User) -> None:
    theirs = client_of("qa")
    assert theirs.get("/").status_code == 200
    given = SIGNED | {"password": "Kehlnaht a5 PB"}
    assert client_of("coordinator").post(reverse("users:password", args=[qa.pk]), given).status_code == 302
    assert theirs.get("/").status_code == 302
    assert Client().login(username="qa", password="Kehlnaht a5 PB")
    assert AuditEntry.objects.get().act == "set a new password for"


def test_the_list(client_of: As, django_assert_max_num_queries: Any) -> None:
    browser = client_of("coordinator")
    with django_assert_max_num_queries(8):
        page = browser.get(reverse("users:list"), {"role": "qa"}).content.decode()
    assert "quality assurance" in page
    assert ">supervisor</a>" not in page
    csv = browser.get(reverse("users:list"), {"export": "csv"}).getvalue().decode()
    assert "supervisor,Supervisor,welding supervisor,yes" in csv.replace('"', "")


def test_no_way_to_delete(client_of: As, qa: User) -> None:
    browser = client_of("coordinator")
    for method in ("delete", "put", "patch"):
        assert getattr(browser, method)(reverse("users:change", args=[qa.pk])).status_code in {405, 422}
    assert User.objects.filter(pk=qa.pk).exists()
