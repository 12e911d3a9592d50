"""`manage.py add_user NAME --role coordinator`: make an account, or give a role to one that is there."""

import getpass
import os
import sys
from argparse import ArgumentParser
from typing import Any

from django.contrib.auth.models import Group, User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import CommandError
from django.db import transaction

from register.audit import record_act
from register.management.base import RegisterCommand
from register.plants.models import Plant, PlantRole
from register.roles import Role
from register.users.witness import changing


class Command(RegisterCommand):
    """The password is asked for, or taken from NEW_PASSWORD; an account that is there keeps the one it has."""

    help = (
        "Make an account with roles, or add roles to an account that is there. "
        "The password is asked for, or taken from NEW_PASSWORD."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")
        parser.add_argument("--role", action="append", required=True, choices=[role.value for role in Role])
        parser.add_argument("--plant", help="name of the plant where the roles count; without it, at all plants")
        parser.add_argument("--first-name", default="")
        parser.add_argument("--last-name", default="")
        parser.add_argument("--new-password", action="store_true", help="also for an account that is there")

    @transaction.atomic
    def handle(self, *args: Any, name: str, role: list[str], first_name: str, last_name: str, **options: Any) -> None:
        plant = plant_named(options["plant"]) if options["plant"] else None
        user = User.objects.filter(username=name).first()
        if user is not None and options["new_password"]:
            user.set_password(new_password(user))
            with changing(user, None):
                user.save(update_fields=["password"])
            record_act(None, "set a new password for", user)
        if user is None:
            user = User(username=name, first_name=first_name, last_name=last_name)
            user.set_password(new_password(user))
            user.save()
        before = held(user, plant)
        with changing(user, None):
            if plant is None:
                user.groups.add(*Group.objects.filter(name__in=role))
            for one in role if plant is not None else []:
                PlantRole.objects.get_or_create(user=user, plant=plant, role=one)
        after = held(user, plant)
        record_act(None, "gave roles to", user, before=before, after=after)
        self.stdout.write(f"{name}: {', '.join(after['roles'])}{f' at {plant}' if plant else ''}")


def held(user: User, plant: Plant | None) -> dict[str, Any]:
    """The roles for the whole firm, or at a plant, as the trail keeps them."""
    if plant is None:
        return {"roles": sorted(user.groups.values_list("name", flat=True))}
    names = PlantRole.objects.filter(user=user, plant=plant).values_list("role", flat=True)
    return {"roles": sorted(names), "plant": str(plant)}


def plant_named(name: str) -> Plant:
    """The plant of a name. Raises CommandError that lists those there are."""
    found = Plant.objects.filter(name__iexact=name.strip()).first()
    if found is None:
        raise CommandError(f"There is no plant “{name}”; there are: {', '.join(map(str, Plant.objects.all()))}.")
    return found


def new_password(user: User) -> str:
    """The password, held to the rules of the settings. Raises CommandError if it breaks one."""
    password = os.environ.get("NEW_PASSWORD") or _asked()
    try:
        validate_password(password, user)
    except ValidationError as refusal:
        raise CommandError(" ".join(refusal.messages)) from refusal
    return password


def _asked() -> str:
    """The password as typed, twice, since nobody sees what is typed. Raises CommandError where nobody can type."""
    if not sys.stdin.isatty():
        raise CommandError("Nobody can type a password here: set NEW_PASSWORD to it for this one command.")
    password = getpass.getpass("Password, at least 10 characters: ")
    if getpass.getpass("The same once more: ") != password:
        raise CommandError("The two passwords differ. Nothing was saved; give the command again.")
    return password
