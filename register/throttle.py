"""A bound on guessing passwords: after some failures a name is refused from that address for a while."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TypeVar

from django.conf import settings
from django.db import models
from django.db.models import QuerySet
from django.utils import timezone

KEPT = timedelta(days=1)
SLACK = timedelta(minutes=1)
"""By how much the clocks of two processes may differ."""
Found = TypeVar("Found")


class PasswordAttempt(models.Model):
    """A password given for a name from an address, not right so far. Holds no password and no form."""

    name = models.CharField(max_length=150)
    address = models.CharField(max_length=45, blank=True)
    at = models.DateTimeField(db_index=True)

    class Meta:
        indexes = (models.Index(fields=("address", "name", "at"), name="attempt_of_whom"),)

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M} {self.name} from {self.address or 'no address'}"


class TooManyAttempts(ValueError):
    """Refused without looking at the password; the message says until when."""


def guarded(name: str, address: str, check: Callable[[], Found | None]) -> Found | None:
    """What `check` finds, and None counted as a failure. Raises TooManyAttempts where too many failed already.

    The attempt is written before the password is looked at, so that many at once are counted too.
    """
    name, now = name.strip().lower()[:150], timezone.now()
    mine = PasswordAttempt.objects.create(name=name, address=address, at=now)
    earlier = _recent(address, now).exclude(pk=mine.pk)
    left = max(
        _wait(earlier.filter(name=name), settings.PASSWORD_FAILURES, now),
        _wait(earlier, settings.PASSWORD_FAILURES_OF_ADDRESS, now),
    )
    if left:
        mine.delete()
        raise TooManyAttempts(_refusal(left))
    found = check()
    if found is not None:
        PasswordAttempt.objects.filter(name=name, address=address).delete()
    else:
        PasswordAttempt.objects.filter(at__lt=now - KEPT).delete()
    return found


def window() -> timedelta:
    """How long a failure counts."""
    return timedelta(minutes=settings.PASSWORD_LOCK_MINUTES)


def _recent(address: str, now: datetime) -> QuerySet[PasswordAttempt]:
    # What a clock wrote that ran ahead and was set right counts no more, or its lock would last until then.
    within = {"at__gt": now - window(), "at__lte": now + SLACK}
    return PasswordAttempt.objects.filter(address=address, **within).order_by("at", "pk")


def _wait(failed: QuerySet[PasswordAttempt], most: int, now: datetime) -> timedelta:
    """How long until fewer than `most` of these count; nothing where that is so now."""
    instants = list(failed.values_list("at", flat=True))
    return instants[-most] + window() - now if len(instants) >= most else timedelta(0)


def _refusal(left: timedelta) -> str:
    minutes = max(1, -int(-left.total_seconds() // 60))
    return (
        f"Too many wrong passwords from here. Try again in {minutes} minute{'s' if minutes > 1 else ''}; "
        "the welding coordinator can set a new password."
    )
