"""Private addresses of the calendar, and the notices that were sent."""

from typing import Any

from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.plants.rows import PartOf


class CalendarFeed(models.Model):
    """A private address under which a calendar program reads what falls due, without signing in.

    Only the hash of the token is kept, so the address can be shown once and never again. `own_people`: only those who
    report to the owner.
    """

    token_sha256 = models.CharField(max_length=64, unique=True, editable=False)
    label = models.CharField(max_length=80, blank=True)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="calendar_feeds")
    own_people = models.BooleanField(_("only people who report to me"), default=False)
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    revoked_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ("-created_at", "-pk")
        verbose_name = _("calendar address")
        verbose_name_plural = _("calendar addresses")

    def __str__(self) -> str:
        return self.label or f"calendar address {self.pk}"


class DueNotice(PartOf):
    """One deadline of one certificate that was announced by mail, once for each horizon [days]."""

    part_of = "certificate"
    sealed_rows = True

    certificate = models.ForeignKey("qualifications.Certificate", on_delete=models.PROTECT, related_name="notices")
    act = models.CharField(max_length=120)
    by = models.DateField()
    horizon = models.PositiveSmallIntegerField()
    sent_at = models.DateTimeField(default=timezone.now, editable=False)
    sent_to = models.TextField(editable=False, blank=True)

    class Meta:
        ordering = ("-sent_at", "-pk")
        constraints = (
            models.UniqueConstraint(fields=("certificate", "act", "by", "horizon"), name="due_announced_once"),
        )

    def __str__(self) -> str:
        return f"{self.act} by {self.by}, {self.horizon} days ahead"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write the notice. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied(gettext("A notice is written once and never changed."))
        super().save(*args, **kwargs)
