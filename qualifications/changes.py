"""Who changed what, in sentences: from the kept versions of a row and the log of acts."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Model

from qualifications.models import Certificate, Person
from register.models import AuditEntry

SILENT = frozenset({"changed_at", "created_at"})
AT_MOST = 50


@dataclass(frozen=True, slots=True)
class Change:
    """One line of the trail."""

    when: datetime
    who: str
    what: str


def changes_of_person(person: Person) -> list[Change]:
    """All changes to a person and to the person's certificates, newest first, the latest fifty."""
    certificates = list(person.certificates.all())
    numbers = {c.pk: c.number for c in certificates}
    own = _versions(person.history.all(), Person, "this person")
    held = _versions(
        Certificate.history.filter(id__in=numbers).order_by("id", "-history_date", "-history_id"), Certificate
    )
    return _newest([*own, *held, *_acts(certificates)])


def changes_of_certificate(certificate: Certificate) -> list[Change]:
    """All changes to one certificate and all acts on it, newest first."""
    return _newest([*_versions(certificate.history.all(), Certificate, "this certificate"), *_acts([certificate])])


def _newest(found: Iterable[Change]) -> list[Change]:
    return sorted(found, key=lambda change: change.when, reverse=True)[:AT_MOST]


def _versions(history: Any, model: type[Model], subject: str = "") -> Iterator[Change]:
    """Each version against the one before it; the versions come newest first within one row.

    `subject`: what the row is called; without one, a certificate and its number.
    """
    rows = list(history)
    for i, row in enumerate(rows):
        older = rows[i + 1] if i + 1 < len(rows) and rows[i + 1].id == row.id else None
        what = _said(row, older, subject or f"certificate {row.number}", model)
        if what:
            yield Change(row.history_date, getattr(row, "history_user_name", "") or "the register", what)


def _said(row: Any, older: Any, subject: str, model: type[Model]) -> str:
    if row.history_type == "+" or older is None:
        return f"put {subject} on file"
    fields = [f for f in model._meta.concrete_fields if f.name not in SILENT]
    differing = [f for f in fields if getattr(row, f.attname, None) != getattr(older, f.attname, None)]
    changed = [
        f"{f.verbose_name} from {text_of(getattr(older, f.attname))} to {text_of(getattr(row, f.attname))}"
        for f in differing
    ]
    return f"changed {subject}: {'; '.join(changed)}" if changed else ""


def text_of(value: Any) -> str:
    """A stored value in quotes, cut to eighty characters; nothing where it is empty."""
    if value in (None, "", [], {}):
        return "nothing"
    text = str(value)
    return f"“{text[:80]}…”" if len(text) > 80 else f"“{text}”"


def _acts(certificates: list[Certificate]) -> Iterator[Change]:
    keys = [str(c.pk) for c in certificates]
    found = AuditEntry.everything.filter(subject_type=Certificate._meta.label_lower, subject_id__in=keys)
    for entry in found[:AT_MOST]:
        on = (entry.after or {}).get("on", "")
        what = f"{entry.act} of {entry.subject}{f', dated {on}' if on else ''}"
        yield Change(entry.at, entry.user_name or "the register", what)
