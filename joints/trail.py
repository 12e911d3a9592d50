"""Who changed what on a job, an assembly, a joint or a workstation, in sentences from its kept versions."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.translation import gettext

from register.audit import acts_on
from register.judged_words import told, told_term
from register.trail.changed import what_changed

SILENT = frozenset({"changed_at", "created_at", "order_key"})
AT_MOST = 40


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the trail."""

    when: datetime
    who: str
    what: str


def trail(thing: Any) -> list[Entry]:
    """Changes and acts, newest first, the latest forty."""
    acts = (Entry(act.at, act.user_name or gettext("the register"), told(act.act)) for act in acts_on(thing)[:AT_MOST])
    return sorted([*_versions(thing), *acts], key=lambda entry: entry.when, reverse=True)[:AT_MOST]


def _versions(thing: Any) -> Iterator[Entry]:
    rows = list(thing.history.all()[: AT_MOST + 1])
    for newer, older in zip(rows, [*rows[1:], None], strict=True):
        if what := _said(thing, newer, older):
            yield Entry(newer.history_date, newer.history_user_name or gettext("the register"), what)


def _said(thing: Any, newer: Any, older: Any) -> str:
    if older is None:
        if newer.history_type != "+":
            return ""
        why = told_term(getattr(newer, "history_change_reason", "") or "")
        return gettext("put it on file (%(reason)s)") % {"reason": why} if why else gettext("put it on file")
    fields = [field for field in thing._meta.concrete_fields if field.name not in SILENT]
    changed = what_changed(fields, newer, older)
    return gettext("changed %(fields)s") % {"fields": changed} if changed else ""
