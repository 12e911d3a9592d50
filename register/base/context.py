"""What every page gets: the places, the date asked about, the units, and the role of whoever is signed in."""

from typing import Any

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject
from django.utils.translation import get_language, gettext
from django.utils.translation import gettext_lazy as _

from register.base.asof import asked
from register.base.nav import nav
from register.own_units.reader import usual_units
from register.plants.standing import standing
from register.roles import Role, User

ROLE_NAMES = {
    Role.COORDINATOR: _("welding coordinator"),
    Role.QA: _("quality assurance"),
    Role.SUPERVISOR: _("welding supervisor"),
    Role.AUDITOR: _("auditor"),
}


def page(request: HttpRequest) -> dict[str, Any]:
    """Context processor. Nothing is read before a template asks; signed out, there are no places and no date."""
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return {"nav": [], "asof": None, "role_name": "", "where": None, "LANGUAGE_CODE": language()}
    return {
        "LANGUAGE_CODE": language(),
        "nav": SimpleLazyObject(lambda: nav(request)),
        "asof": SimpleLazyObject(lambda: asked(request)),
        "system": usual_units(request),
        "role_name": SimpleLazyObject(lambda: role_name(user)),
        "where": SimpleLazyObject(lambda: standing(user)),
    }


def language() -> str:
    """The language of the page as its head names it. Example: "en"."""
    return (get_language() or "en").partition("-")[0]


def role_name(user: User) -> str:
    """The roles of a user in words. Example: "welding coordinator"."""
    names = standing(user).roles
    said = [str(text) for role, text in ROLE_NAMES.items() if role in names]
    if getattr(user, "is_superuser", False):
        said.append(gettext("account administrator"))
    return f" {gettext('and')} ".join(said) or gettext("no role yet")
