"""Where somebody works and what they are there: the plants they may choose from, and the roles that count at one.

A role is held for the whole group (the account's own groups) or at one plant. Whoever holds one for the whole group
sees all plants and may look at one alone; anybody else works at one plant at a time.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import Group, User
from django.db.models import Count, Exists, IntegerField, OuterRef, Q, Subquery, Value
from django.db.models.functions import Coalesce

from register.plants.models import Plant, PlantRole
from register.plants.reach import NOTHING, Reach, alone

SESSION_KEY = "plant"
KNOWN = ("coordinator", "qa", "supervisor", "auditor")
"""The roles of the shop by name (register.roles.Role, which stands on this module); a test holds the two together."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One account in one register. `plants`: key -> name of those to choose from, by name; empty where there is one.

    `at`: the plant chosen, None for all of them. `roles`: the names of the roles that count there; `firm_roles`: those
    of them that are held for the whole firm.
    """

    plants: Mapping[int, str]
    at: int | None
    roles: frozenset[str]
    reach: Reach
    is_group: bool = True
    firm_roles: frozenset[str] = frozenset()

    @property
    def chooses(self) -> bool:
        """True where there is more than one plant to look at."""
        return len(self.plants) > 1 or (self.is_group and bool(self.plants))

    @property
    def name(self) -> str:
        """Where the work at hand is, in words; "" in a register of one plant."""
        if not self.plants:
            return ""
        return self.plants[self.at] if self.at is not None else "all plants"


def standing(user: Any) -> Standing:
    """The standing of an account, kept on it. Its `plant_chosen` is the key of the plant that it looks at, or None."""
    known: Standing | None = getattr(user, "_standing", None)
    if known is None:
        known = user._standing = _asked(user, getattr(user, "plant_chosen", None))
    return known


def _asked(user: Any, chosen: int | None) -> Standing:
    if getattr(user, "pk", None) is None or not user.is_active:
        return Standing({}, None, frozenset(), NOTHING)
    groups, plants = _groups(user)
    if plants < 2:
        held = groups | _at(_plant_roles(user) if not groups else (), None)
        return Standing({}, None, held, alone(), firm_roles=held)
    own = _plant_roles(user)
    if groups or getattr(user, "is_superuser", False):
        every = dict(Plant.objects.values_list("pk", "name"))
        if chosen not in every:
            return Standing(every, None, groups, Reach(None), firm_roles=groups)
        return Standing(every, chosen, groups | _at(own, chosen), Reach(frozenset({chosen})), firm_roles=groups)
    every = {pk: name for pk, name, _ in own}
    if not every:
        return Standing({}, None, frozenset(), NOTHING, False)
    at = chosen if chosen in every else next(iter(every))
    return Standing(every, at, _at(own, at), Reach(frozenset({at})), False)


def every_role(user: Any) -> dict[int | None, frozenset[str]]:
    """The roles of an account by the key of the plant; None stands for the whole group."""
    groups, plants = _groups(user)
    own = _plant_roles(user)
    if plants < 2:
        return {None: groups | _at(own, None)}
    found: dict[int | None, frozenset[str]] = {pk: _at(own, pk) for pk, _, _ in own}
    return {None: groups, **found}


def _groups(user: Any) -> tuple[frozenset[str], int]:
    """The roles for the whole group, and how many plants there are. One query where there is such a role."""
    counted = Plant.objects.order_by().annotate(same=Value(1)).values("same").annotate(many=Count("pk")).values("many")
    plants = Coalesce(Subquery(counted, output_field=IntegerField()), 0)
    found = list(Group.objects.filter(user=user, name__in=KNOWN).annotate(plants=plants).values_list("name", "plants"))
    return frozenset(name for name, _ in found), found[0][1] if found else Plant.objects.count()


def _plant_roles(user: Any) -> list[tuple[int, str, str]]:
    """(plant, its name, role) by name of the plant."""
    rows = PlantRole.objects.filter(user=user).order_by("plant__name", "plant_id")
    return list(rows.values_list("plant_id", "plant__name", "role"))


def _at(own: Iterable[tuple[int, str, str]], plant: int | None) -> frozenset[str]:
    return frozenset(role for pk, _, role in own if plant is None or pk == plant)


def holders(role: str, plants: frozenset[int] | None = None) -> Any:
    """The active accounts that hold a role for the whole group, or at one of the plants (None: at any). A queryset."""
    own = PlantRole.objects.filter(user=OuterRef("pk"), role=role)
    own = own if plants is None else own.filter(plant__in=sorted(plants))
    whole = User.groups.through.objects.filter(user=OuterRef("pk"), group__name=role)
    return User.objects.filter(Q(Exists(whole)) | Q(Exists(own)), is_active=True)
