"""What is attached to what. The bytes lie beside the database, under their hash (register.evidence.store)."""

from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.evidence.kinds import KINDS
from register.plants.things import OfThing


class EvidenceFile(OfThing):
    """One scan attached to one thing of any app: `subject_type` ("qualifications.certificate") and `subject_id`.

    Nothing is ever removed: a scan attached by mistake is withdrawn with a reason and stays on file. The database
    itself refuses any other change (migration 0006).
    """

    subject_type = models.CharField(max_length=100)
    subject_id = models.CharField(max_length=64)
    file_name = models.CharField(max_length=150)
    kind = models.CharField(max_length=8, choices=[(kind.token, kind.words) for kind in KINDS])
    sha256 = models.CharField(max_length=64, db_index=True)
    size = models.PositiveIntegerField(_("size [bytes]"))
    note = models.CharField(_("what it shows"), max_length=250, blank=True)
    added_by = models.CharField(max_length=150)
    added_at = models.DateTimeField(default=timezone.now, editable=False)
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)
    withdrawn_by = models.CharField(max_length=150, blank=True, editable=False)
    withdrawn_because = models.TextField(blank=True, editable=False)

    class Meta:
        ordering = ("added_at", "pk")
        verbose_name = _("evidence file")
        indexes = (models.Index(fields=("subject_type", "subject_id"), name="evidence_subject"),)
        constraints = (
            models.UniqueConstraint(
                fields=("subject_type", "subject_id", "sha256"),
                condition=models.Q(withdrawn_at__isnull=True),
                name="evidence_attached_once",
            ),
            models.CheckConstraint(
                name="evidence_withdrawn_with_reason",
                condition=models.Q(withdrawn_at__isnull=True) | ~models.Q(withdrawn_because=""),
            ),
        )

    def __str__(self) -> str:
        return self.file_name

    def get_absolute_url(self) -> str:
        """The address that gives the file out."""
        return reverse("evidence:file", args=[self.pk])

    @property
    def size_words(self) -> str:
        """Example: "1.4 MB", "312 kB"."""
        return f"{self.size / 1024**2:.1f} MB" if self.size >= 1024**2 else f"{max(1, self.size // 1024)} kB"

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("Evidence is never deleted; withdraw it with a reason."))
