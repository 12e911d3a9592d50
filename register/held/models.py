"""The firm's choice of readings, and its ticks against its own copies of the standards: both append-only."""

from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _


class AppendOnly(models.Model):
    """A dated statement by a named person, written once; the latest of its kind counts."""

    at = models.DateTimeField(default=timezone.now, editable=False, db_index=True)
    by_name = models.CharField(max_length=150)

    class Meta:
        abstract = True
        ordering = ("at", "pk")

    def save(self, *args: object, **kwargs: object) -> None:
        """Write it. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied(gettext("This is written once and never changed; make a new entry."))
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def delete(self, *args: object, **kwargs: object) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("This is never deleted; make a new entry."))


class FirmReading(AppendOnly):
    """From this moment on the firm reads a doubtful rule in the way of `option`."""

    switch = models.CharField(max_length=80, db_index=True)
    option = models.CharField(max_length=60)
    why = models.TextField()

    class Meta(AppendOnly.Meta):
        verbose_name = _("reading of the firm")

    def __str__(self) -> str:
        return f"{self.switch}: {self.option}"


class ClauseCheck(AppendOnly):
    """Somebody laid a clause or table beside the firm's own copy of the standard: it agrees, or no longer counts."""

    clause = models.CharField(max_length=250, db_index=True)
    agrees = models.BooleanField()
    note = models.CharField(max_length=250, blank=True)

    class Meta(AppendOnly.Meta):
        verbose_name = _("check against the standard")

    def __str__(self) -> str:
        return f"{self.clause}: {'checked' if self.agrees else 'not checked'}"
