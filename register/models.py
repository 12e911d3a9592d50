"""Common ground of all models: who changed what, and the log of acts."""

from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils import timezone
from simple_history.models import HistoricalRecords


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
    history = HistoricalRecords(inherit=True, bases=[HistoryEntry])

    class Meta:
        abstract = True


class AuditEntry(models.Model):
    """One act, written once: who did what to which thing, and how it stood before and after.

    The table is append-only, here and in the database (migration 0002). Names are text, so an entry outlives
    the account and the thing that it speaks of.
    """

    at = models.DateTimeField(default=timezone.now, editable=False, db_index=True)
    user_name = models.CharField(max_length=150, blank=True, db_index=True)
    act = models.CharField(max_length=60, db_index=True)
    subject_type = models.CharField(max_length=100, blank=True)
    subject_id = models.CharField(max_length=64, blank=True)
    subject = models.CharField(max_length=250, blank=True)
    before = models.JSONField(null=True, blank=True)
    after = models.JSONField(null=True, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ("-at", "-pk")
        indexes = (models.Index(fields=("subject_type", "subject_id"), name="audit_subject"),)
        verbose_name_plural = "audit entries"

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M} {self.user_name or 'the register'}: {self.act} {self.subject}".rstrip()

    def save(self, *args: object, **kwargs: object) -> None:
        """Write the entry. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied("An audit entry is written once and never changed.")
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def delete(self, *args: object, **kwargs: object) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied("An audit entry is never deleted.")


# Models of the parts of this app, found by Django through this module.
from register.held.models import ClauseCheck, FirmReading  # noqa: E402

__all__ = ["AuditEntry", "ClauseCheck", "FirmReading", "HistoryEntry", "Recorded"]
