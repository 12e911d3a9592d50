"""Private addresses of the calendar: made, found by their token, revoked."""

import secrets
from datetime import date
from hashlib import sha256
from typing import Any

from django.db import transaction
from django.utils import timezone

from qualifications.calendar.models import CalendarFeed
from qualifications.due import DueItem, falls_due
from qualifications.offers import certificate_offers
from register.audit import record_act
from register.held.firm import firm_settings
from register.plants.reach import NOTHING, within
from register.roles import Capability, reach_with

AHEAD_DAYS = 365
AT_MOST = 10
"""Addresses in use that one person may hold."""


@transaction.atomic
def create(owner: Any, label: str, own_people: bool) -> tuple[CalendarFeed, str]:
    """A new address and its token, which is shown once and kept nowhere. Raises ValueError beyond ten in use."""
    if CalendarFeed.objects.filter(owner=owner, revoked_at__isnull=True).count() >= AT_MOST:
        raise ValueError(f"You hold {AT_MOST} addresses in use; revoke one first.")
    token = secrets.token_urlsafe(32)
    feed = CalendarFeed.objects.create(
        token_sha256=digest(token), label=label.strip(), owner=owner, own_people=own_people
    )
    record_act(owner, "made a calendar address", feed, after={"label": feed.label, "own_people": own_people})
    return feed, token


@transaction.atomic
def revoke(feed: CalendarFeed, by: Any) -> None:
    """From now on the address answers nothing. Raises ValueError where it is revoked already."""
    held = CalendarFeed.objects.select_for_update().get(pk=feed.pk)
    if held.revoked_at is not None:
        raise ValueError("This address is revoked already.")
    held.revoked_at = timezone.now()
    held.save()
    record_act(by, "revoked a calendar address", held)


def find(token: str) -> CalendarFeed | None:
    """The address in use that a token opens, while its owner has an account that may look."""
    feed = CalendarFeed.objects.filter(token_sha256=digest(token), revoked_at__isnull=True).select_related("owner")
    found = feed.first()
    if found is None or not found.owner.is_active or reach_with(found.owner, Capability.CONFIRM_OWN_PEOPLE) == NOTHING:
        return None
    return found


def digest(token: str) -> str:
    """What is kept of a token."""
    return sha256(token.encode()).hexdigest()


def items_of(feed: CalendarFeed, on: date) -> tuple[DueItem, ...]:
    """What the address shows: the deadlines of the next year and the open decisions, lapses left out."""
    settings = firm_settings()
    with within(reach_with(feed.owner, Capability.CONFIRM_OWN_PEOPLE)):
        items = falls_due(certificate_offers(settings), on, (AHEAD_DAYS,), back=0, settings=settings)
    return tuple(item for item in items if not feed.own_people or item.supervisor_id == feed.owner_id)
