"""Who changed what on a job, an assembly, a joint or a workstation, in sentences from its kept versions."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.translation import gettext

from register.audit import acts_on

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
    acts = (Entry(act.at, act.user_name or gettext("the register"), act.act) for act in acts_on(thing)[:AT_MOST])
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
        reason = getattr(newer, "history_change_reason", "") or ""
        return gettext("put it on file (%(reason)s)") % {"reason": reason} if reason else gettext("put it on file")
    fields = [field for field in thing._meta.concrete_fields if field.name not in SILENT]
    changed = [
        f"{field.verbose_name} from {_text(getattr(older, field.attname))} to {_text(getattr(newer, field.attname))}"
        for field in fields
        if getattr(newer, field.attname, None) != getattr(older, field.attname, None)
    ]
    return f"changed {'; '.join(changed)}" if changed else ""


def _text(value: Any) -> str:
    if value in (None, "", []):
        return "nothing"
    said = str(value)
    return f"“{said[:80]}…”" if len(said) > 80 else f"“{said}”"
