"""Accounts against what was kept of them: SQL behind Django's back, and the register's own ways, which stay whole."""

import time
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.hashers import PBKDF2PasswordHasher, make_password
from django.contrib.auth.models import User
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction
from django.test import Client
from django.urls import reverse

from register.models import AccountState, Plant, PlantRole, SecondFactor
from register.plants.opening import open_plant
from register.second.acts import new_codes, set_up, take_away
from register.second.totp import code_at, step_of
from register.systems.acts import make as make_token
from register.trail.verify import verify
from register.users import accounts
from tests.conftest import PASSWORD, dropped_triggers

pytestmark = pytest.mark.django_db


def sql(statement: str, *params: Any) -> None:
    """Behind Django's back."""
    with connection.cursor() as cursor:
        cursor.execute(statement, params)


@pytest.fixture
def ute(coordinator: User) -> User:
    """An account made through the register, without a role for the whole firm."""
    return accounts.make(coordinator, User(username="ute", first_name="Ute", is_active=False), ["auditor"], PASSWORD)


def only(*words: str) -> None:
    """The one thing that is told of is of these words."""
    found = verify()
    assert not found.whole
    for word in words:
        assert word in found.differs


CHANGES = [
    ("UPDATE auth_user SET is_active = {true} WHERE id = %s", "whether it may sign in"),
    ("UPDATE auth_user SET is_staff = {true} WHERE id = %s", "whether it is staff"),
    ("UPDATE auth_user SET is_superuser = {true} WHERE id = %s", "whether it may do everything"),
    ("UPDATE auth_user SET username = 'marta' WHERE id = %s", "the name to sign in with"),
    ("UPDATE auth_user SET last_name = 'Berg' WHERE id = %s", "last name"),
    ("UPDATE auth_user SET password = 'pbkdf2_sha256$1$a$b' WHERE id = %s", "its password"),
    ("UPDATE auth_user_groups SET group_id = (SELECT id FROM auth_group WHERE name = 'coordinator') "
     "WHERE user_id = %s", "its roles"),
    ("DELETE FROM auth_user_groups WHERE user_id = %s", "its roles"),
    ("INSERT INTO auth_user_user_permissions (user_id, permission_id) "
     "SELECT %s, MIN(id) FROM auth_permission", "its permissions"),
    ("INSERT INTO register_plantrole (user_id, plant_id, role) SELECT %s, MIN(id), 'qa' FROM register_plant",
     "its roles at single plants"),
    ("INSERT INTO register_secondfactor (user_id, secret, last_step, made_at) "
     "VALUES (%s, 'JBSWY3DPEHPK3PXP', 0, '2026-01-01 00:00:00+00:00')", "its second factor"),
]  # fmt: skip


@pytest.mark.parametrize(("statement", "words"), CHANGES, ids=[words for _, words in CHANGES])
def test_a_change_past_the_register_is_told(ute: User, statement: str, words: str) -> None:
    assert verify().whole
    sql(statement.format(true="TRUE"), ute.pk)
    only("is not as it was left", words)


def test_an_account_put_in_or_taken_out_past_the_register_is_told(ute: User) -> None:
    sql(
        "INSERT INTO auth_user (username, first_name, last_name, email, password, is_active, is_staff, is_superuser, "
        "date_joined) VALUES ('mallory', '', '', '', %s, TRUE, FALSE, TRUE, '2026-01-01 00:00:00+00:00')",
        make_password(PASSWORD),
    )
    only("The account mallory is on file, and was not made through the register.")
    sql("DELETE FROM auth_user WHERE username = 'mallory'")
    assert verify().whole
    sql("DELETE FROM auth_user_groups WHERE user_id = %s", ute.pk)
    sql("DELETE FROM auth_user WHERE id = %s", ute.pk)
    only("The account ute is gone")


def test_what_was_bent_is_still_told_after_the_next_change_through_the_register(ute: User, coordinator: User) -> None:
    """Else whoever made an account a superuser would only have to wait for its next password."""
    sql("UPDATE auth_user SET is_superuser = TRUE WHERE id = %s", ute.pk)
    held = User.objects.get(pk=ute.pk)
    accounts.set_password(coordinator, held, PASSWORD + " 2")
    accounts.change(coordinator, held, ["qa"])
    held.save()
    only("whether it may do everything changed since")
    sql("UPDATE auth_user SET is_superuser = FALSE WHERE id = %s", ute.pk)
    assert verify().whole


def test_a_password_of_before_put_back_is_told(ute: User, coordinator: User) -> None:
    before = ute.password
    accounts.set_password(coordinator, ute, PASSWORD + " 2")
    assert verify().whole
    sql("UPDATE auth_user SET password = %s WHERE id = %s", before, ute.pk)
    only("its password")


def test_a_password_put_in_with_a_weak_hash_is_told_after_signing_in_with_it(qa: User, settings: Any) -> None:
    """Django writes a hash of fewer rounds than it asks for anew at the sign-in; that is no change by the register."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.PBKDF2PasswordHasher"]
    weak = PBKDF2PasswordHasher().encode("mallory knows it", "saltsaltsaltsalt", 10)
    sql("UPDATE auth_user SET password = %s WHERE id = %s", weak, qa.pk)
    sent = {"username": qa.username, "password": "mallory knows it"}
    assert Client().post(reverse("login"), sent).status_code == 302
    assert User.objects.get(pk=qa.pk).password != weak
    only("its password")


def test_a_password_put_in_is_told_until_somebody_else_sets_one(
    coordinator: User, qa: User, client_of: Callable[[str], Client]
) -> None:
    sql("UPDATE auth_user SET password = %s WHERE id = %s", make_password("mallory knows it"), qa.pk)
    browser, new = Client(), PASSWORD + " 4"
    assert browser.post(reverse("login"), {"username": "qa", "password": "mallory knows it"}).status_code == 302
    sent = {"old_password": "mallory knows it", "new_password1": new, "new_password2": new}
    assert browser.post(reverse("own_password"), sent).status_code == 302
    only("its password")
    accounts.set_password(coordinator, User.objects.get(pk=qa.pk), PASSWORD)
    assert verify().whole


def test_a_factor_put_in_is_told_until_somebody_else_takes_it_away(coordinator: User, ute: User) -> None:
    sql(
        "INSERT INTO register_secondfactor (user_id, secret, last_step, made_at) "
        "VALUES (%s, 'JBSWY3DPEHPK3PXP', 0, '2026-01-01 00:00:00+00:00')", ute.pk,
    )  # fmt: skip
    new_codes(User.objects.get(pk=ute.pk))
    only("its second factor")
    take_away(User.objects.get(pk=ute.pk), coordinator)
    assert verify().whole


def test_roles_and_rights_put_in_are_told_after_an_account_was_saved_as_it_was_shown(
    ute: User, coordinator: User
) -> None:
    """Whoever corrects a name saves with it what the form shows."""
    one, two = Plant.objects.first(), Plant.objects.create(name="Second works")
    assert one is not None
    accounts.change(coordinator, ute, ["auditor"], {one.pk: ["qa"]})
    PlantRole.objects.bulk_create([PlantRole(user=ute, plant=two, role="coordinator")])
    sql("UPDATE auth_user SET is_active = TRUE WHERE id = %s", ute.pk)
    shown = User.objects.get(pk=ute.pk)
    shown.last_name = "Berg"
    accounts.change(coordinator, shown, ["auditor"], {one.pk: ["qa", "supervisor"], two.pk: ["coordinator"]})
    only("whether it may sign in", "its roles at single plants")
    shown.is_active = False
    accounts.change(coordinator, shown, ["auditor"], {one.pk: ["supervisor"]})
    assert verify().whole


def test_an_account_put_in_is_told_after_it_was_changed_through_the_register(coordinator: User) -> None:
    User.objects.bulk_create([User(username="mallory", password=make_password(PASSWORD))])
    held = User.objects.get(username="mallory")
    accounts.change(coordinator, held, ["coordinator"])
    held.save()
    only("The account mallory is on file, and was not made through the register.")


def test_neither_hash_nor_secret_is_kept_beside_the_account(ute: User) -> None:
    SecondFactor.objects.create(user=ute, secret="JBSWY3DPEHPK3PXP")
    kept = str(list(AccountState.objects.filter(account=ute.pk).values()))
    assert ute.password not in kept
    assert ute.password.rsplit("$", 1)[-1] not in kept
    assert "JBSWY3DPEHPK3PXP" not in kept


def test_a_state_is_not_changed_nor_taken_back(ute: User) -> None:
    state = AccountState.objects.filter(account=ute.pk).last()
    assert state is not None
    for statement in (
        "UPDATE register_accountstate SET account = 0 WHERE id = %s",
        "DELETE FROM register_accountstate WHERE id = %s",
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            sql(statement, state.pk)
    with dropped_triggers(connection):
        sql("UPDATE auth_user SET is_superuser = TRUE WHERE id = %s", ute.pk)
        AccountState.objects.filter(pk=state.pk).update(stand=state.stand | {"is_superuser": True})
        only("was changed after it was sealed")
        AccountState.objects.filter(pk=state.pk).delete()
    assert not verify().whole


def test_all_that_the_register_does_with_accounts_stays_whole(
    ute: User, coordinator: User, client_of: Callable[[str], Client]
) -> None:
    browser = client_of("qa")
    new = PASSWORD + " 3"
    sent = {"old_password": PASSWORD, "new_password1": new, "new_password2": new}
    assert browser.post(reverse("own_password"), sent).status_code == 302
    assert Client().post(reverse("login"), {"username": "qa", "password": new}).status_code == 302
    assert verify().whole
    secret = "JBSWY3DPEHPK3PXPJBSWY3DPEHPK3PXP"
    set_up(ute, secret, code_at(secret, step_of(time.time())))
    assert verify().whole
    new_codes(ute)
    assert verify().whole
    take_away(ute, coordinator)
    make_token(coordinator, "Cell 3", ["read:due"], date.today())  # noqa: DTZ011 - the act asks the same clock
    call_command("add_user", "ute", "--role", "coordinator", verbosity=0)
    assert verify().whole
    open_plant("North works", first="Tarn works", group=["coordinator"])
    assert PlantRole.objects.filter(user=ute).exists()
    assert verify().whole
    accounts.change(coordinator, ute, [], {Plant.objects.get(name="North works").pk: ["qa", "auditor"]})
    ute.groups.clear()
    assert verify().whole
    spare = User.objects.create_superuser("spare", password=PASSWORD)
    spare.delete()
    assert verify().whole
