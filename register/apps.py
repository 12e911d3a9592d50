"""Common ground of the apps: settings, roles, health."""

from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_migrate
from django.utils.translation import gettext_lazy as _

FIRST_PLANT = "First plant"
"""Shown nowhere before there is a second one, and named anew then."""


class RegisterConfig(AppConfig):
    """The `register` app as Django knows it."""

    name = "register"
    verbose_name = _("Register")
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Make the groups and the first plant after every migration, and put the user's name into history rows."""
        from register import audit  # noqa: F401  (its receiver registers itself)
        from register.own_units import reader  # noqa: F401  (so does its receiver)
        from register.users import witness  # noqa: F401  (so do these)

        post_migrate.connect(make_groups, dispatch_uid="register.make_groups")
        post_migrate.connect(make_plant, dispatch_uid="register.make_plant")


def make_groups(using: str = "default", **kwargs: Any) -> None:
    """Make sure that each role has its group. Runs after each app; the table may not be there yet."""
    from django.contrib.auth.models import Group
    from django.db import connections

    from register.roles import Role

    if Group._meta.db_table not in connections[using].introspection.table_names():
        return
    held = set(Group.objects.using(using).values_list("name", flat=True))
    Group.objects.using(using).bulk_create(Group(name=role.value) for role in Role if role.value not in held)


def make_plant(using: str = "default", **kwargs: Any) -> None:
    """Make sure that there is a first plant. Runs after each app; the table may not be there yet."""
    from django.db import connections

    from register.models import Plant

    if Plant._meta.db_table not in connections[using].introspection.table_names():
        return
    if not Plant.objects.using(using).exists():
        Plant.objects.using(using).create(name=FIRST_PLANT)
