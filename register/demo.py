"""Sign-ins of the demonstration: invented people, one password, never for real data."""

from typing import Any, NamedTuple

from django.contrib.auth.models import Group, User

from register.plants.models import Plant, PlantRole
from register.roles import Role

PASSWORD = "show me the welds"


class SignIn(NamedTuple):
    """One account of the demonstration."""

    username: str
    role: Role
    first_name: str
    last_name: str


SIGN_INS = (
    SignIn("marta", Role.COORDINATOR, "Marta", "Lindqvist"),
    SignIn("henrik", Role.COORDINATOR, "Henrik", "Obermaier"),
    SignIn("petra", Role.QA, "Petra", "Vasko"),
    SignIn("tomas", Role.SUPERVISOR, "Tomás", "Arrieta"),
    SignIn("ines", Role.AUDITOR, "Ines", "Calloway"),
)


GROUP_SIGN_INS = (SignIn("gunnar", Role.COORDINATOR, "Gunnar", "Hesselby"),)
"""Who sees all plants of the demonstration."""
PLANT_SIGN_INS = (SignIn("sofie", Role.COORDINATOR, "Sofie", "Aldermark"),)
"""Who sees the second plant only."""


def make_sign_ins() -> dict[str, User]:
    """Make or renew the accounts; return them by user name. Safe to repeat.

    Whoever has a role at one plant keeps it, and gets none for the whole group.
    """
    made = _accounts(SIGN_INS)
    for sign_in in SIGN_INS:
        if not made[sign_in.username].plant_roles.exists():  # type: ignore[attr-defined]
            made[sign_in.username].groups.set([Group.objects.get(name=sign_in.role.value)])
    return made


def make_group_sign_ins() -> dict[str, User]:
    """The accounts that see all plants."""
    made = _accounts(GROUP_SIGN_INS)
    for sign_in in GROUP_SIGN_INS:
        made[sign_in.username].groups.set([Group.objects.get(name=sign_in.role.value)])
    return made


def make_plant_sign_ins(plant: Plant) -> dict[str, User]:
    """The accounts of one plant."""
    made = _accounts(PLANT_SIGN_INS)
    for sign_in in PLANT_SIGN_INS:
        PlantRole.objects.get_or_create(user=made[sign_in.username], plant=plant, role=sign_in.role.value)
    return made


def _accounts(sign_ins: tuple[SignIn, ...]) -> dict[str, User]:
    made = {}
    for sign_in in sign_ins:
        user, _ = User.objects.update_or_create(
            username=sign_in.username,
            defaults={"first_name": sign_in.first_name, "last_name": sign_in.last_name, "is_active": True},
        )
        if not user.check_password(PASSWORD):
            user.set_password(PASSWORD)
            user.save(update_fields=["password"])
        made[sign_in.username] = user
    return made


def listing() -> str:
    """The sign-ins as lines for the terminal: each with its role, and where it counts once there are several plants."""
    plants = Plant.objects.count() > 1
    made = User.objects.filter(username__in=[one.username for one in (*SIGN_INS, *GROUP_SIGN_INS, *PLANT_SIGN_INS)])
    where = {user.username: _where(user) for user in made.prefetch_related("plant_roles__plant")} if plants else {}
    every = (*SIGN_INS, *GROUP_SIGN_INS, *PLANT_SIGN_INS) if plants else SIGN_INS
    lines = [f"  {one.username:<8} {one.role.value:<12} {where.get(one.username, '')}".rstrip() for one in every]
    return "\n".join([*lines, f"  password for each: {PASSWORD}"])


def _where(user: Any) -> str:
    return ", ".join(sorted({str(role.plant) for role in user.plant_roles.all()})) or "all plants"
