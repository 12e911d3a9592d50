"""Sheets that were issued: the very bytes that were printed from, kept for as long as the revision is."""

from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.plants.rows import PartOf
from wps.models.procedure import ProcedureRevision, Status


class IssuedSheet(PartOf):
    """One sheet of a frozen revision in one paper size and one system of units, as it was rendered once.

    `state` is that of the revision when the sheet was made: a superseded revision has sheets that say so beside the
    ones it had in force. Written once, here and in the database (migration 0003).
    """

    part_of = "revision"

    revision = models.ForeignKey(ProcedureRevision, on_delete=models.PROTECT, related_name="sheets")
    kind = models.CharField(max_length=8)
    paper = models.CharField(max_length=8)
    units = models.CharField(max_length=4)
    state = models.CharField(_("state of the revision"), max_length=12, choices=Status)
    check_code = models.CharField(max_length=10, db_index=True)
    sha256 = models.CharField(max_length=64)
    sides = models.PositiveSmallIntegerField()
    pdf = models.BinaryField()
    issued_at = models.DateTimeField(default=timezone.now)
    issued_by = models.CharField(max_length=150)

    class Meta:
        ordering = ("revision", "kind", "paper", "units", "pk")
        constraints = (
            models.UniqueConstraint(fields=("revision", "state", "kind", "paper", "units"), name="sheet_issued_once"),
            models.CheckConstraint(
                name="sheet_of_frozen_revision", condition=models.Q(state__in=("approved", "superseded", "withdrawn"))
            ),
        )

    def __str__(self) -> str:
        return f"sheet {self.check_code} of {self.revision}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write the sheet. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied(gettext("An issued sheet is written once and never changed."))
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("An issued sheet is never deleted."))
