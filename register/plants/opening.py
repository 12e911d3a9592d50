"""Opening another plant. With the second one, what everybody could do becomes what they can do at the first."""

from collections.abc import Iterable

from django.contrib.auth.models import Group, User
from django.db import transaction

from register.apps import FIRST_PLANT
from register.audit import record_act
from register.plants.models import Plant, PlantRole
from register.roles import Capability, Role, reach_with
from register.systems.models import SystemToken
from register.trail.models import AuditHead
from register.users.witness import ROLES, keep


@transaction.atomic
def open_plant(name: str, place: str = "", first: str = "", group: Iterable[str] = ()) -> Plant:
    """A new plant. Raises ValueError with the remedy where the firm would be left without anybody who sees all of it.

    `first` names the first plant, `group` the accounts that keep their roles at all plants; both count with the second.
    """
    name, first = " ".join(name.split()), " ".join(first.split())
    if not name:
        raise ValueError("Name the new plant.")
    known = list(Plant.objects.order_by("pk"))
    if any(plant.name.casefold() == name.casefold() for plant in known):
        raise ValueError(f"There is a plant {name} already.")
    if len(known) == 1:
        _name_first(known[0], name, first)
        _narrow(known[0], set(group))
    head = AuditHead.objects.filter(pk=1).first()
    plant = Plant.objects.create(name=name, place=place.strip(), trail_from=head.number if head else 0)
    record_act(None, "opened the plant", plant, after={"name": name, "place": plant.place})
    return plant


def _name_first(plant: Plant, new: str, first: str) -> None:
    if not first and plant.name == FIRST_PLANT:
        raise ValueError("Say with --first what the plant is called that there is: people will now see its name.")
    if first.casefold() == new.casefold():
        raise ValueError("The two plants need different names.")
    if first:
        plant.name = first
        plant.save()


def _narrow(plant: Plant, kept: set[str]) -> None:
    """Roles become roles at the first plant, but for the accounts named; tokens of systems become tokens for it."""
    users = {user.username: user for user in User.objects.filter(username__in=kept)}
    if missing := kept - users.keys():
        raise ValueError(f"There is no account {', '.join(sorted(missing))}.")
    if not any(reach_with(user, Capability.MANAGE_USERS).plants is None for user in users.values()):
        raise ValueError("Name with --group at least one coordinator, who then sees all plants and manages accounts.")
    roles = Group.objects.filter(name__in=[role.value for role in Role])
    links = User.groups.through.objects.filter(group__in=roles).exclude(user__in=users.values())
    held = list(links.values_list("user_id", "group__name"))
    for user, role in held:
        PlantRole.objects.get_or_create(user_id=user, plant=plant, role=role)
    links.delete()
    keep([user for user, _ in held], ROLES)
    # A token that named no plant counted for all of them: it goes on reading what it was made for, and no more.
    for token in SystemToken.everything.filter(plant__isnull=True):
        token.plant = plant
        token.save(update_fields=["plant"])
        record_act(None, "narrowed the token", token, after={"plant": plant.pk})
