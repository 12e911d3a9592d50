"""Who changed what, in sentences: from the kept versions of a row and the log of acts."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Model
from django.utils.translation import gettext

from qualifications.models import Certificate, Person
from register.judged_words import told
from register.models import AuditEntry
from register.trail.changed import what_changed

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
    own = _versions(person.history.all(), Person, gettext("this person"))
    held = _versions(
        Certificate.history.filter(id__in=numbers).order_by("id", "-history_date", "-history_id"), Certificate
    )
    return _newest([*own, *held, *_acts(certificates)])


def changes_of_certificate(certificate: Certificate) -> list[Change]:
    """All changes to one certificate and all acts on it, newest first."""
    return _newest(
        [*_versions(certificate.history.all(), Certificate, gettext("this certificate")), *_acts([certificate])]
    )


def _newest(found: Iterable[Change]) -> list[Change]:
    return sorted(found, key=lambda change: change.when, reverse=True)[:AT_MOST]


def _versions(history: Any, model: type[Model], subject: str = "") -> Iterator[Change]:
    """Each version against the one before it; the versions come newest first within one row.

    `subject`: what the row is called; without one, a certificate and its number.
    """
    rows = list(history)
    for i, row in enumerate(rows):
        older = rows[i + 1] if i + 1 < len(rows) and rows[i + 1].id == row.id else None
        what = _said(row, older, subject or gettext("certificate %(number)s") % {"number": row.number}, model)
        if what:
            yield Change(row.history_date, getattr(row, "history_user_name", "") or gettext("the register"), what)


def _said(row: Any, older: Any, subject: str, model: type[Model]) -> str:
    if row.history_type == "+" or older is None:
        return gettext("put %(thing)s on file") % {"thing": subject}
    changed = what_changed([f for f in model._meta.concrete_fields if f.name not in SILENT], row, older)
    return gettext("changed %(thing)s: %(fields)s") % {"thing": subject, "fields": changed} if changed else ""


def _acts(certificates: list[Certificate]) -> Iterator[Change]:
    keys = [str(c.pk) for c in certificates]
    found = AuditEntry.everything.filter(subject_type=Certificate._meta.label_lower, subject_id__in=keys)
    for entry in found[:AT_MOST]:
        on = (entry.after or {}).get("on", "")
        facts = {"act": told(entry.act), "subject": entry.subject, "day": on}
        what = (gettext("%(act)s of %(subject)s, dated %(day)s") if on else gettext("%(act)s of %(subject)s")) % facts
        yield Change(entry.at, entry.user_name or gettext("the register"), what)
