"""The systems that may ask by the API. Nothing here opens a page: a token is no account and cannot sign."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.plants.rows import ForPlantOrGroup, PlantField, ReachManager
from register.roles import Capability
from register.systems.scopes import Scope


class SystemToken(ForPlantOrGroup, models.Model):
    """One system's way in. `digest`: SHA-256 of the token, which is shown once and kept nowhere.

    `scopes`: what it may do (register.systems.scopes), at `plant`
    or, without one, at all plants of the firm. It counts up to and including `expires_on`, unless revoked.
    """

    name = models.CharField(max_length=80, unique=True, help_text=_("as the trail names it: Cell 3 controller"))
    digest = models.CharField(max_length=64, unique=True, editable=False)
    hint = models.CharField(_("begins with"), max_length=16, editable=False)
    scopes = models.JSONField(default=list)
    expires_on = models.DateField(_("expires on"))
    plant = PlantField(null=True, verbose_name=_("for the plant"))
    made_by = models.CharField(max_length=150, editable=False)
    made_at = models.DateTimeField(auto_now_add=True)
    last_used_at = models.DateTimeField(_("last used"), null=True, editable=False)
    revoked_at = models.DateTimeField(null=True, editable=False)
    revoked_by = models.CharField(max_length=150, blank=True, editable=False)
    revoked_because = models.CharField(max_length=250, blank=True, editable=False)

    objects = ReachManager()
    everything = models.Manager()

    class Meta:
        ordering = ("name", "pk")
        verbose_name = _("token of a system")
        verbose_name_plural = _("tokens of systems")
        constraints = (
            models.CheckConstraint(
                name="token_revoked_with_reason",
                condition=models.Q(revoked_at__isnull=True) | ~models.Q(revoked_because=""),
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """The page of this system."""
        return reverse("systems:system", args=[self.pk])

    def stands_on(self, day: date) -> bool:
        """True where it counts on a day: not revoked, not past its last day."""
        return self.revoked_at is None and day <= self.expires_on

    @property
    def granted(self) -> tuple[Scope, ...]:
        """The scopes in their own order; a word that is no scope grants nothing."""
        held = set(self.scopes) if isinstance(self.scopes, list) else set()
        return tuple(scope for scope in Scope if scope.value in held)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("A token is revoked, never deleted: the trail names it."))


@dataclass(frozen=True, slots=True)
class System:
    """Whoever asks by a token, where the register asks who did something. It is nobody's account.

    The colon in its name is in no account's, so that the trail never takes one for the other.
    """

    token: SystemToken

    pk = None
    is_authenticated = True
    is_active = True
    is_superuser = False

    @property
    def _capabilities(self) -> frozenset[Capability]:
        """What register.roles finds of it: a system that writes the log logs whom its files name, and no more."""
        return frozenset({Capability.LOG_ANYBODY}) if self.holds(Scope.WRITE_LOG) else frozenset()

    def get_username(self) -> str:
        """Example: "system: Cell 3 controller"."""
        return f"system: {self.token.name}"

    def get_full_name(self) -> str:
        """The same name: it has no other."""
        return self.get_username()

    def holds(self, scope: Scope) -> bool:
        """True where the token was given the scope."""
        return scope in self.token.granted
