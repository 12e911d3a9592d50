"""Acts on accounts, each written to the trail in the transaction of the act."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.contrib.auth.models import Group, User
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import Exists, OuterRef, Q, QuerySet
from django.utils.translation import gettext

from register.audit import record_act
from register.plants.models import Plant, PlantRole
from register.plants.reach import current
from register.roles import Capability, Role, reach_with
from register.users.witness import changing

FIELDS = ("username", "first_name", "last_name", "email", "is_active")
PlantRoles = Mapping[int, Iterable[str]]


def roles_of(user: User) -> list[str]:
    """The names of the roles that an account holds for the whole firm, in order; other groups are left out."""
    return sorted(user.groups.filter(name__in=[role.value for role in Role]).values_list("name", flat=True))


def plant_roles_of(user: User) -> dict[int, list[str]]:
    """The names of the roles that an account holds at single plants, by key of the plant."""
    found: dict[int, list[str]] = {}
    for plant, role in PlantRole.objects.filter(user=user).order_by("plant", "role").values_list("plant", "role"):
        found.setdefault(plant, []).append(role)
    return found


def in_reach() -> QuerySet[User]:
    """The accounts that may be looked after here: at a plant, those with roles at this plant and nowhere else."""
    plants = current().plants
    if plants is None:
        return User.objects.all()
    own = PlantRole.objects.filter(user=OuterRef("pk"))
    inside, outside = own.filter(plant__in=sorted(plants)), own.exclude(plant__in=sorted(plants))
    firm = User.groups.through.objects.filter(user=OuterRef("pk"))
    return User.objects.filter(Q(Exists(inside)), ~Exists(outside), ~Exists(firm), is_superuser=False)


@transaction.atomic
def make(by: Any, user: User, roles: Iterable[str], password: str, at: PlantRoles | None = None) -> User:
    """Put a new account on file, with roles for the whole firm and at single plants."""
    user.set_password(password)
    user.save()
    with changing(user, by):
        _give(user, roles, at or {})
    record_act(by, "made the account", user, after=stand(user))
    return user


@transaction.atomic
def change(by: Any, user: User, roles: Iterable[str], at: PlantRoles | None = None) -> User:
    """Save an account that a form has changed. Raises ValueError where nobody would be left to manage
    accounts, and for whoever switches off their own.
    """
    before = stand(in_reach().select_for_update(of=("self",)).get(pk=user.pk))
    with changing(user, by):
        user.save(update_fields=FIELDS)
        _give(user, roles, at or {})
    if current().plants is None and not managers():
        raise ValueError("Nobody would be left who may manage accounts: give another account that role first.")
    if user.pk == by.pk and not user.is_active:
        raise ValueError("You are signed in with this account: somebody else must switch it off.")
    record_act(by, "changed the account", user, before=before, after=stand(user))
    return user


def _give(user: User, roles: Iterable[str], at: PlantRoles) -> None:
    """Make the roles of an account those given. At a plant, only those of this plant are given and taken."""
    plants = current().plants
    if plants is not None and (list(roles) or not set(at) <= plants):
        raise PermissionDenied(gettext("Roles are given here for this plant only."))
    if plants is None:
        kept = [group for group in user.groups.all() if group.name not in set(Role)]
        user.groups.set([*Group.objects.filter(name__in=list(roles)), *kept])
    held = PlantRole.objects.filter(user=user)
    (held if plants is None else held.filter(plant__in=sorted(plants))).delete()
    PlantRole.objects.bulk_create(
        PlantRole(user=user, plant_id=plant, role=Role(name).value) for plant, names in at.items() for name in names
    )


@transaction.atomic
def set_password(by: Any, user: User, password: str) -> User:
    """Give an account a new password; whoever is signed in with the old one is signed out."""
    user.set_password(password)
    with changing(user, by):
        user.save(update_fields=["password"])
    record_act(by, "set a new password for", user)
    return user


def stand(user: User) -> dict[str, Any]:
    """An account as the trail keeps it, without its password."""
    found = {name: getattr(user, name) for name in FIELDS} | {"roles": roles_of(user)}
    own = plant_roles_of(user)
    names = dict(Plant.objects.values_list("pk", "name")) if own else {}
    return found | ({"roles_at": {names[plant]: roles for plant, roles in own.items()}} if own else {})


def managers() -> list[User]:
    """The accounts that may manage all accounts."""
    active = User.objects.filter(is_active=True)
    return [user for user in active if reach_with(user, Capability.MANAGE_USERS).plants is None]
