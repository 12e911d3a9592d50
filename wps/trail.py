"""Who changed what on a record or a revision: from its kept versions and from the log of acts."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Model
from django.utils.translation import gettext

from register.audit import acts_on
from register.judged_words import told, told_term
from register.models import AuditEntry

SILENT = frozenset({"changed_at", "created_at", "editors", "status"})
AT_MOST = 40


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the trail."""

    when: datetime
    who: str
    what: str


def trail(thing: Any) -> list[Entry]:
    """Changes and acts, newest first, the latest forty."""
    found = [*_versions(thing), *_acts(thing)]
    return sorted(found, key=lambda entry: entry.when, reverse=True)[:AT_MOST]


def _versions(thing: Any) -> Iterator[Entry]:
    """Each version against the one before it."""
    rows = list(thing.history.all()[: AT_MOST + 1])
    for newer, older in zip(rows, [*rows[1:], None], strict=True):
        if older is None:
            if newer.history_type == "+":
                yield Entry(newer.history_date, _who(newer.history_user_name), gettext("put it on file"))
            continue
        names = _changed(type(thing), newer, older)
        if names:
            what = gettext("changed %(fields)s") % {"fields": ", ".join(names)}
            yield Entry(newer.history_date, _who(newer.history_user_name), what)


def _changed(model: type[Model], newer: Any, older: Any) -> list[str]:
    fields = [field for field in model._meta.concrete_fields if field.name not in SILENT]
    # What an act sets (who approved, when it ended) is told by the act itself.
    editable = [field for field in fields if field.editable]
    return [gettext(str(f.verbose_name)) for f in editable if getattr(newer, f.attname) != getattr(older, f.attname)]


def _acts(thing: Any) -> Iterator[Entry]:
    for act in acts_on(thing)[:AT_MOST]:
        yield Entry(act.at, _who(act.user_name), act_on_it(act))


def act_on_it(entry: AuditEntry) -> str:
    """An act on the page of its thing. Example: "checked it", "attached evidence", "withdrew it: new wire"."""
    act = told(entry.act.removesuffix(" of"))
    what = act if " " in entry.act else gettext("%(act)s it") % {"act": act}
    return f"{what}: {told_term(entry.note)}" if entry.note else what


def _who(name: str) -> str:
    return name or gettext("the register")
