"""The units that an account reads in. Without a row they are SI."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from codes.units import System

CHOICES = ((System.SI.value, _("SI units")), (System.US.value, _("US customary units")))


class OwnUnits(models.Model):
    """One account's choice."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="own_units")
    units = models.CharField(_("units"), max_length=4, choices=CHOICES, default=System.SI.value)

    def __str__(self) -> str:
        return f"{self.user}: {self.get_units_display()}"
