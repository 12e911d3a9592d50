"""Who changed what on a record or a revision: from its kept versions and from the log of acts."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Model

from register.audit import acts_on

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
                yield Entry(newer.history_date, _who(newer.history_user_name), "put it on file")
            continue
        names = _changed(type(thing), newer, older)
        if names:
            yield Entry(newer.history_date, _who(newer.history_user_name), f"changed {', '.join(names)}")


def _changed(model: type[Model], newer: Any, older: Any) -> list[str]:
    fields = [field for field in model._meta.concrete_fields if field.name not in SILENT]
    # What an act sets (who approved, when it ended) is told by the act itself.
    editable = [field for field in fields if field.editable]
    return [str(f.verbose_name) for f in editable if getattr(newer, f.attname) != getattr(older, f.attname)]


def _acts(thing: Any) -> Iterator[Entry]:
    for act in acts_on(thing)[:AT_MOST]:
        yield Entry(act.at, _who(act.user_name), f"{act.act} it{f': {act.note}' if act.note else ''}")


def _who(name: str) -> str:
    return name or "the register"
