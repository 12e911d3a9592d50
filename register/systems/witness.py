"""Tokens of systems against the acts that made, narrowed and revoked them."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from typing import Any

from django.db.models import Max

from register.models import AuditEntry
from register.systems.models import SystemToken

TOKEN = SystemToken._meta.label_lower
MADE, REVOKED, NARROWED = "made the token", "revoked the token", "narrowed the token"
SEALED = "sealed"
"""Under this name an act notes what opens and where; acts of earlier versions did not."""
AT_ONCE = timedelta(minutes=1)
"""A token is revoked when its act is written."""


def facts_of(token: SystemToken) -> dict[str, Any]:
    """What the act notes besides: the plant, by whom, and the digest of what is kept of the token."""
    opens = sha256(token.digest.encode("ascii", "replace")).hexdigest()
    return {"plant": token.plant_id, "by": token.made_by, "opens": opens}


def unlike() -> Iterator[str]:
    """In a sentence each: tokens that are not as they were made, and such as no act made or revoked.

    One that is gone opens nothing. Tokens do not come along in an export: acts of before are of another register.
    """
    own = AuditEntry.objects.filter(act="took in an export").aggregate(last=Max("number"))["last"] or 0
    acts = AuditEntry.objects.filter(subject_type=TOKEN, number__gt=own).order_by("number")
    made: dict[str, AuditEntry] = {}
    revoked: dict[str, AuditEntry] = {}
    narrowed: dict[str, Any] = {}
    for act in acts.iterator():
        if act.act == MADE and made.setdefault(act.subject_id, act) is not act:
            yield f"The token {act.subject} was made already, and entry {act.number} makes it again."
        elif act.act == REVOKED:
            revoked.setdefault(act.subject_id, act)
        elif act.act == NARROWED:
            narrowed[act.subject_id] = (act.after or {}).get("plant")
    for token in SystemToken.everything.order_by("pk"):
        key = str(token.pk)
        found = made.pop(key, None)
        if found is None:
            yield f"The token {token} is on file, and no act in the trail made it."
        elif _differs(token, found, narrowed):
            yield f"The token {token} is not as it was made in entry {found.number}: {found.subject}."
        yield from _ended(token, revoked.get(key))


def _differs(token: SystemToken, act: AuditEntry, narrowed: dict[str, Any]) -> bool:
    after = dict(act.after or {})
    now: dict[str, Any] = {"scopes": token.scopes, "expires_on": token.expires_on.isoformat()}
    sealed = dict(after.pop(SEALED, None) or {})
    if sealed and str(token.pk) in narrowed:
        sealed["plant"] = narrowed[str(token.pk)]
    return now != after or act.subject != token.name or (bool(sealed) and sealed != facts_of(token))


def moment(at: datetime) -> str:
    """From when on a token counts no more, as the trail notes it."""
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def _then(at: datetime, act: AuditEntry) -> bool:
    said = (act.after or {}).get(SEALED)
    return said == moment(at) if said is not None else abs(act.at - at) <= AT_ONCE


def _ended(token: SystemToken, act: AuditEntry | None) -> Iterator[str]:
    if act is None and token.revoked_at is None and not token.revoked_because:
        return
    if act is None:
        yield f"The token {token} is revoked on file, and no act in the trail says so."
    elif token.revoked_at is None:
        yield f"The token {token} was revoked in entry {act.number}, and counts on file."
    elif (act.after or {}).get("because") != token.revoked_because or not _then(token.revoked_at, act):
        yield f"The token {token} was revoked otherwise in entry {act.number}."
