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
    today = timezone.localdate()
    if not name:
        raise ValueError("Name: name the system, as the trail will.")
    if not given:
        raise ValueError("May: choose at least one thing that the system may do.")
    if not today <= expires_on <= today + timedelta(days=LONGEST):
        raise ValueError(f"Expires on: take a day from today to {(today + timedelta(days=LONGEST)).isoformat()}.")
    if SystemToken.everything.filter(name__iexact=name).exists():
        raise ValueError(f"Name: {name} is taken; a new token gets a name of its own, such as {name} 2.")
    secret = MARK + secrets.token_urlsafe(32)
    token = SystemToken(name=name, digest=digest_of(secret), hint=secret[:10], scopes=given, expires_on=expires_on)
    token.made_by = by.get_full_name() or by.get_username()
    try:
        with transaction.atomic():
            token.save()
    except IntegrityError:
        raise ValueError(f"Name: {name} was taken at this moment; choose another.") from None
    after = {"scopes": given, "expires_on": expires_on.isoformat(), SEALED: facts_of(token)}
    record_act(by, "made the token", token, after=after)
    return token, secret


@transaction.atomic
def revoke(by: Any, token: SystemToken, because: str) -> None:
    """From now on the token opens nothing. Raises ValueError without a reason, or a second time."""
    because = because.strip()[:250]
    held = SystemToken.objects.select_for_update().get(pk=token.pk)
    if held.revoked_at is not None:
        raise ValueError(f"It was revoked already, by {held.revoked_by}.")
    if not because:
        raise ValueError("Say why it is revoked.")
    held.revoked_at, held.revoked_because = timezone.now(), because
    held.revoked_by = by.get_full_name() or by.get_username()
    held.save()
    record_act(by, "revoked the token", held, after={"because": because, SEALED: moment(held.revoked_at)})


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
