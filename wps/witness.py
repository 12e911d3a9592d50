"""Approved revisions and issued sheets against what the trail says of them: a change made past the refusals is named.

Whoever may drop a trigger can change a revision; its content was noted with the approval, in the chain.
"""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal, InvalidOperation
from hashlib import sha256
from typing import Any

from django.db.models import Q

from register.models import AuditEntry
from wps.content import content
from wps.models import FROZEN, IssuedSheet, ProcedureRevision, Status

REVISION = ProcedureRevision._meta.label_lower
ENDS = {"superseded": Status.SUPERSEDED, "withdrew": Status.WITHDRAWN}
SHEET_FACTS = ("check_code", "sha256", "kind", "paper", "units", "state")
LATER_FACTS = ("issued_by", "sides")
"""What acts of earlier versions did not note."""
AT_ONCE = timedelta(minutes=1)
"""A sheet and its act are written together."""
IDENTITY = ("procedure_id", "letter", "author_name", "checked_name", "checked_on", "approved_name")
"""What an approval notes besides the content: whose revision of what it is. A revision keeps it for good."""


def unlike() -> Iterator[str]:
    """In a sentence each: what is on file otherwise than it was approved, ended or issued."""
    approvals, again = _acts("approved")
    ends, ended_again = _acts(*ENDS)
    yield from (f"{act.subject} was approved already, and entry {act.number} does so again." for act in again)
    yield from (f"{act.subject} had ended already, and entry {act.number} ends it again." for act in ended_again)
    was_approved = ProcedureRevision.objects.filter(status__in=FROZEN, approved_on__isnull=False)
    known = set()
    for revision in was_approved.select_related("procedure").prefetch_related("runs", "records").iterator(500):
        known.add(str(revision.pk))
        if problem := _unlike(revision, approvals.get(str(revision.pk)), ends.get(str(revision.pk))):
            yield problem
    gone = (act for key, act in approvals.items() if key not in known)
    yield from (f"{act.subject} was approved, and is not on file as such." for act in gone)
    yield from _checked()
    yield from _sheets()


def as_checked(revision: ProcedureRevision) -> dict[str, Any]:
    """What was laid before whoever checked it. Its records by key: one may get another number before the approval."""
    said = {name: value for name, value in content(revision).items() if name != "records"}
    return said | {"record_keys": sorted(record.pk for record in revision.records.all())}


def _checked() -> Iterator[str]:
    """Revisions that are not as they were checked last; a draft may be written in. Earlier acts note no content."""
    last = {
        act.subject_id: act
        for act in AuditEntry.objects.filter(subject_type=REVISION, act="checked").order_by("number")
    }
    rows = ProcedureRevision.objects.filter(Q(status=Status.CHECKED) | Q(status__in=FROZEN, approved_on__isnull=False))
    for revision in rows.select_related("procedure").prefetch_related("runs", "records").iterator(500):
        act = last.get(str(revision.pk))
        was = (act.after or {}).get("checked") if act is not None else None
        now = as_checked(revision) if was else {}
        if changed := [name for name in now if name in (was or {}) and _plain(now[name]) != _plain(was[name])]:
            yield f"{revision} is not as it was checked: {', '.join(changed)} changed since."


def identity(revision: ProcedureRevision) -> dict[str, str | None]:
    """Whose revision of what it is, as text."""
    found = {name: getattr(revision, name) for name in IDENTITY}
    found |= {"number": revision.procedure.number, "title": revision.procedure.title}
    return {name: None if value is None else str(value) for name, value in found.items()}


def _acts(*names: str) -> tuple[dict[str, AuditEntry], list[AuditEntry]]:
    """The act of these names on each revision, and those that came after it.

    It happens once to a revision; a second one can only have been written past the register, and never counts.
    """
    first: dict[str, AuditEntry] = {}
    acts = AuditEntry.objects.filter(subject_type=REVISION, act__in=names).order_by("number")
    return first, [act for act in acts.iterator() if first.setdefault(act.subject_id, act) is not act]


def _unlike(revision: ProcedureRevision, approval: AuditEntry | None, end: AuditEntry | None) -> str:
    """Why a revision is not as the trail has it, or ""."""
    if approval is None or revision.approved_on is None:
        return f"{revision} is {revision.get_status_display()}, and no act in the trail approved it."
    noted = approval.after or {}
    if noted.get("approved_on") != revision.approved_on.isoformat():
        return f"{revision} was approved on {noted.get('approved_on')}, and is on file with {revision.approved_on}."
    own = identity(revision)
    if moved := [name for name, value in (noted.get("identity") or own).items() if own.get(name) != value]:
        return f"{revision} is not as it was approved: {', '.join(moved)} changed since."
    now = content(revision)
    # What a later version of the register no longer keeps cannot be compared.
    was = {name: value for name, value in (noted.get("content") or {}).items() if name in now}
    if changed := [name for name, value in was.items() if _plain(now[name]) != _plain(value)]:
        return f"{revision} is not as it was approved: {', '.join(changed)} changed since."
    return _unlike_end(revision, end)


def _unlike_end(revision: ProcedureRevision, end: AuditEntry | None) -> str:
    said = ENDS[end.act] if end is not None else Status.APPROVED
    if revision.status != said:
        return f"{revision} is {revision.get_status_display()}; by the trail it is {said.label}."
    day = (end.after or {}).get("ended_on") if end is not None else None
    if day != (revision.ended_on.isoformat() if revision.ended_on else None):
        return f"{revision} ended on {day or 'no day'} by the trail, and on {revision.ended_on or 'no day'} on file."
    return ""


def _sheets() -> Iterator[str]:
    """Issued sheets whose bytes or facts are not those that were noted."""
    acts = AuditEntry.objects.filter(subject_type=REVISION, act="issued a sheet").order_by("number")
    noted = {_sheet_key(act.subject_id, act.after or {}): act for act in acts.iterator()}
    for sheet in IssuedSheet.objects.select_related("revision__procedure").iterator(50):
        facts = {name: str(getattr(sheet, name)) for name in (*SHEET_FACTS, *LATER_FACTS)}
        act = noted.pop(_sheet_key(str(sheet.revision_id), facts), None)
        if act is None or any((act.after or {}).get(name, facts[name]) != facts[name] for name in LATER_FACTS):
            yield f"A sheet of {sheet.revision} is on file, and no act in the trail issued it so."
        elif abs(act.at - sheet.issued_at) > AT_ONCE:
            yield f"The sheet {sheet.check_code} of {sheet.revision} is on file with another moment than it was issued."
        elif sha256(bytes(sheet.pdf)).hexdigest() != sheet.sha256:
            yield f"The sheet {sheet.check_code} of {sheet.revision} is not what was issued."
    yield from (f"A sheet of {act.subject} was issued, and is not on file so." for act in noted.values())


def _sheet_key(revision: str, facts: dict[str, Any]) -> tuple[str, ...]:
    return revision, *(str(facts.get(name)) for name in SHEET_FACTS)


def _plain(value: Any) -> Any:
    """As JSON holds it, figures without trailing zeros: a column may have got more decimals since."""
    if isinstance(value, dict):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if not isinstance(value, str):
        return value
    try:
        figure = Decimal(value)
    except InvalidOperation:
        return value
    return str(figure.normalize()) if figure.is_finite() else value
