"""A plant of the firm, and the roles that people hold there."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _


class Plant(models.Model):
    """A works of the manufacturer. The first one is made with the register; nothing is shown of it while it is alone.

    `trail_from`: the number of the last entry of the trail when it was opened. Entries up to that of the second plant
    that name no plant are the first one's.
    """

    name = models.CharField(max_length=80, unique=True)
    place = models.CharField(_("town or address"), max_length=120, blank=True)
    trail_from = models.PositiveBigIntegerField(default=0, editable=False)

    class Meta:
        ordering = ("name", "pk")
        constraints = (models.CheckConstraint(name="plant_has_name", condition=~models.Q(name="")),)

    def __str__(self) -> str:
        return self.name


class PlantRole(models.Model):
    """One role of one account at one plant. Roles for the whole group are the account's own groups."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="plant_roles")
    plant = models.ForeignKey(Plant, on_delete=models.PROTECT, related_name="+")
    role = models.CharField(max_length=40, help_text=_("by name (register.roles.Role)"))

    class Meta:
        constraints = (models.UniqueConstraint(fields=("user", "plant", "role"), name="plant_role_once"),)

    def __str__(self) -> str:
        return f"{self.user}: {self.role} at {self.plant}"
