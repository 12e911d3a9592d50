"""Sign-ins of the demonstration: invented people, one password, never for real data."""

from typing import NamedTuple

from django.contrib.auth.models import Group, User

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


def make_sign_ins() -> dict[str, User]:
    """Make or renew the accounts; return them by user name. Safe to repeat."""
    made = {}
    for sign_in in SIGN_INS:
        user, _ = User.objects.update_or_create(
            username=sign_in.username,
            defaults={"first_name": sign_in.first_name, "last_name": sign_in.last_name, "is_active": True},
        )
        if not user.check_password(PASSWORD):
            user.set_password(PASSWORD)
            user.save(update_fields=["password"])
        user.groups.set([Group.objects.get(name=sign_in.role.value)])
        made[sign_in.username] = user
    return made


def listing() -> str:
    """The sign-ins as lines for the terminal."""
    lines = [f"  {person.username:<8} {person.role.value:<12}" for person in SIGN_INS]
    return "\n".join([*lines, f"  password for each: {PASSWORD}"])
