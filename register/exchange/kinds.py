"""Which tables go along, and which stay behind and why."""

from collections.abc import Mapping

from django.apps import apps
from django.db.models import Model

OWN_APPS = ("wps", "qualifications", "joints")
"""All their tables go along unless they are named below."""
TAKEN = (
    "auth.user",
    "register.accountstate",
    "register.auditentry",
    "register.plant",
    "register.plantrole",
    "register.firmgrade",
    "register.firmreading",
    "register.clausecheck",
    "register.evidencefile",
    "register.printedpaper",
    "register.versionseal",
)
LEFT_OUT: Mapping[str, str] = {
    "auth.group": "the roles are part of the program; accounts name theirs",
    "auth.user_groups": "stands in the accounts as roles",
    "auth.permission": "not used",
    "auth.group_permissions": "not used",
    "auth.user_user_permissions": "not used",
    "contenttypes.contenttype": "made by the program",
    "sessions.session": "who is signed in now",
    "register.audithead": "follows from the trail, and stands in the manifest as its end",
    "register.ownlanguage": "kept anew at the next sign-in",
    "register.ownunits": "a convenience of an account, chosen anew",
    "register.passwordattempt": "a bound of this installation",
    "register.systemtoken": "secrets of this installation; the coordinator makes new ones",
    "register.secondfactor": "secrets of this installation; their owners set up new ones",
    "register.recoverycode": "secrets of this installation; their owners get new ones",
    "register.work": "work in the background of this installation",
    "django_tasks_database.dbtaskresult": "the queue of this installation",
    "joints.showndifference": "made anew by comparing a list again",
    "qualifications.calendarfeed": "secret addresses; their owners make new ones",
}


def kinds() -> dict[str, type[Model]]:
    """Name of each kind that goes along, and its table. Example: "wps.procedure"."""
    found = {model._meta.label_lower: model for model in apps.get_models(include_auto_created=True)}
    return {label: model for label, model in sorted(found.items()) if _goes(label)}


def _goes(label: str) -> bool:
    return label not in LEFT_OUT and (label in TAKEN or label.partition(".")[0] in OWN_APPS)


def undecided() -> list[str]:
    """Tables of which nobody has said yet whether they go along: a new one may hold a secret."""
    known = set(kinds()) | set(LEFT_OUT)
    return sorted({model._meta.label_lower for model in apps.get_models(include_auto_created=True)} - known)
