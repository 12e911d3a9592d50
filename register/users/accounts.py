"""Acts on accounts, each written to the trail in the transaction of the act."""

from collections.abc import Iterable
from typing import Any

from django.contrib.auth.models import Group, User
from django.db import transaction

from register.audit import record_act
from register.roles import Capability, Role, can

FIELDS = ("username", "first_name", "last_name", "email", "is_active")


def roles_of(user: User) -> list[str]:
    """The names of the roles that an account holds, in order; other groups are left out."""
    return sorted(user.groups.filter(name__in=[role.value for role in Role]).values_list("name", flat=True))


@transaction.atomic
def make(by: Any, user: User, roles: Iterable[str], password: str) -> User:
    """Put a new account on file."""
    user.set_password(password)
    user.save()
    user.groups.set(Group.objects.filter(name__in=roles))
    record_act(by, "made the account", user, after=stand(user))
    return user


@transaction.atomic
def change(by: Any, user: User, roles: Iterable[str]) -> User:
    """Save an account that a form has changed. Raises ValueError where nobody would be left to manage accounts."""
    before = stand(User.objects.select_for_update().get(pk=user.pk))
    user.save()
    kept = [group for group in user.groups.all() if group.name not in set(Role)]
    user.groups.set([*Group.objects.filter(name__in=roles), *kept])
    if not managers():
        raise ValueError("Nobody would be left who may manage accounts: give another account that role first.")
    record_act(by, "changed the account", user, before=before, after=stand(user))
    return user


@transaction.atomic
def set_password(by: Any, user: User, password: str) -> User:
    """Give an account a new password; whoever is signed in with the old one is signed out."""
    user.set_password(password)
    user.save(update_fields=["password"])
    record_act(by, "set a new password for", user)
    return user


def stand(user: User) -> dict[str, Any]:
    """An account as the trail keeps it, without its password."""
    return {name: getattr(user, name) for name in FIELDS} | {"roles": roles_of(user)}


def managers() -> list[User]:
    """The accounts that may manage accounts."""
    return [user for user in User.objects.filter(is_active=True) if can(user, Capability.MANAGE_USERS)]
