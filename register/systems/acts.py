"""Acts on tokens: made, revoked, recognised. The first two stand in the trail."""

import logging
import secrets
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from hashlib import sha256
from typing import Any

from django.db import DatabaseError, IntegrityError, transaction
from django.utils import timezone

from register.audit import record_act
from register.systems.models import System, SystemToken
from register.systems.scopes import Scope
from register.systems.witness import SEALED, facts_of, moment

log = logging.getLogger("register.systems")
MARK = "wreg_"
"""What every token begins with, so that one that went astray is known for what it is."""
LONGEST = 800
"""Days from the making after which no token counts."""
NOTED_EVERY = timedelta(minutes=1)
"""How exact "last used" is; a write for each question would be dear."""


@transaction.atomic
def make(by: Any, name: str, scopes: Iterable[str], expires_on: date) -> tuple[SystemToken, str]:
    """A new token and its text, which is given back this once. Raises ValueError naming field and remedy."""
    name, given = " ".join(name.split()), sorted({Scope(scope).value for scope in scopes})
    if not name:
        raise ValueError("System: name it, as the trail will.")
    if not given:
        raise ValueError("It may: choose at least one thing that the system may do.")
    if reason := why_not_until(expires_on):
        raise ValueError(f"Counts until: {reason}")
    if reason := why_not_named(name):
        raise ValueError(f"System: {reason}")
    secret = MARK + secrets.token_urlsafe(32)
    token = SystemToken(name=name, digest=digest_of(secret), hint=secret[:10], scopes=given, expires_on=expires_on)
    token.made_by = by.get_full_name() or by.get_username()
    try:
        with transaction.atomic():
            token.save()
    except IntegrityError:
        raise ValueError(f"System: {name} was taken at this moment; choose another.") from None
    after = {"scopes": given, "expires_on": expires_on.isoformat(), SEALED: facts_of(token)}
    record_act(by, "made the token", token, after=after)
    return token, secret


def why_not_until(day: date) -> str:
    """Why no token counts until that day, or ""."""
    today = timezone.localdate()
    last = today + timedelta(days=LONGEST)
    if day < today:
        return f"{day.isoformat()} is past; take a day from today to {last.isoformat()}."
    return "" if day <= last else f"That is too long; take a day from today to {last.isoformat()}."


def why_not_named(name: str) -> str:
    """Why no new token gets that name, or ""."""
    taken = SystemToken.everything.filter(name__iexact=name).exists()
    return f"{name} is taken; a new token gets a name of its own, such as {name} 2." if taken else ""


@transaction.atomic
def revoke(by: Any, token: SystemToken, because: str) -> None:
    """From now on the token opens nothing. Raises ValueError without a reason, or a second time."""
    because = because.strip()[:250]
    held = SystemToken.objects.select_for_update().get(pk=token.pk)
    if reason := why_not_revoked(held):
        raise ValueError(reason)
    if not because:
        raise ValueError("Say why it is revoked.")
    held.revoked_at, held.revoked_because = timezone.now(), because
    held.revoked_by = by.get_full_name() or by.get_username()
    held.save()
    record_act(by, "revoked the token", held, after={"because": because, SEALED: moment(held.revoked_at)})


def why_not_revoked(token: SystemToken) -> str:
    """That it was revoked already, or ""."""
    if token.revoked_at is None:
        return ""
    when = f"{timezone.localtime(token.revoked_at):%Y-%m-%d %H:%M}"
    return f"It was revoked already, by {token.revoked_by} on {when}."


def digest_of(secret: str) -> str:
    """What is kept of a token. It is random to 256 bits, so a plain hash is enough."""
    return sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


def recognised(secret: str, now: datetime) -> System | None:
    """The system that a token belongs to, or None. One query, and a write at most once a minute."""
    if not secret.startswith(MARK):
        return None
    token = SystemToken.everything.filter(digest=digest_of(secret)).first()
    if token is None or not token.stands_on(timezone.localtime(now).date()):
        return None
    if token.last_used_at is None or now - token.last_used_at >= NOTED_EVERY:
        _note_use(token, now)
    return System(token)


def _note_use(token: SystemToken, now: datetime) -> None:
    """A question is answered although it cannot be noted: the disk is full, or somebody writes for long."""
    try:
        with transaction.atomic():
            SystemToken.everything.filter(pk=token.pk).update(last_used_at=now)
    except DatabaseError as fault:
        log.warning("the use of the token %s was not noted: %s", token.pk, fault)
