"""Common ground of all models: who changed what."""

from typing import Any

from django.db import models, transaction
from simple_history.models import HistoricalRecords

from register.trail.sealing import SealedVersions


class HistoryEntry(models.Model):
    """Base of every history table: the name of whoever made the change, as text.

    The account may be deleted later; the name stays.
    """

    history_user_name = models.CharField(max_length=150, blank=True)

    class Meta:
        abstract = True


class Recorded(models.Model):
    """An editable row whose every version is kept.

    `row.history.all()` lists its versions, newest first; `Model.history.as_of(instant)` is the whole table as
    it stood at that instant.
    `queryset.update()` goes past the history: change rows one by one with `save()`, or with
    `simple_history.utils.bulk_update_with_history`.
    """

    created_at = models.DateTimeField(auto_now_add=True, editable=False)
    changed_at = models.DateTimeField(auto_now=True, editable=False)
    history = HistoricalRecords(inherit=True, bases=[HistoryEntry], history_manager=SealedVersions)

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Save the row, its version and the seal of the version: all or none."""
        with transaction.atomic(savepoint=False):
            super().save(*args, **kwargs)


# Models of the parts of this app, found by Django through this module.
from register.background.models import Work  # noqa: E402
from register.evidence.models import EvidenceFile  # noqa: E402
from register.held.models import ClauseCheck, FirmGrade, FirmReading  # noqa: E402
from register.own_language import OwnLanguage  # noqa: E402
from register.own_units.models import OwnUnits  # noqa: E402
from register.papers.models import PrintedPaper  # noqa: E402
from register.plants.models import Plant, PlantRole  # noqa: E402
from register.second.models import RecoveryCode, SecondFactor  # noqa: E402
from register.systems.models import SystemToken  # noqa: E402
from register.throttle import PasswordAttempt  # noqa: E402
from register.trail.models import AuditEntry, AuditHead, VersionSeal  # noqa: E402
from register.users.models import AccountState  # noqa: E402

__all__ = [
    "AccountState",
    "AuditEntry",
    "AuditHead",
    "ClauseCheck",
    "EvidenceFile",
    "FirmGrade",
    "FirmReading",
    "HistoryEntry",
    "OwnLanguage",
    "OwnUnits",
    "PasswordAttempt",
    "Plant",
    "PlantRole",
    "PrintedPaper",
    "Recorded",
    "RecoveryCode",
    "SecondFactor",
    "SystemToken",
    "VersionSeal",
    "Work",
]
