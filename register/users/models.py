"""How each account stood when it was changed: written once and sealed, so that a change past the register is told."""

from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _


class AccountState(models.Model):
    """One account as the register left it: names, roles, whether it may sign in, and digests of what it signs in with.

    `account`: its key, which outlives it. `stand`: see register.users.stand; empty once the account is deleted.
    """

    sealed_rows = True

    account = models.PositiveBigIntegerField(editable=False, db_index=True)
    at = models.DateTimeField(default=timezone.now, editable=False)
    stand = models.JSONField(default=dict, editable=False)

    class Meta:
        ordering = ("pk",)
        verbose_name = _("state of an account")
        verbose_name_plural = _("states of accounts")

    def __str__(self) -> str:
        return f"{self.stand.get('username', self.account)}, {self.at:%Y-%m-%d %H:%M}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write it. Raises PermissionDenied if it is written already."""
        if not self._state.adding:
            raise PermissionDenied(gettext("The state of an account is written once and never changed."))
        super().save(*args, **kwargs)
