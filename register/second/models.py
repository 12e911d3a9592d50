"""The second factor of an account, and the recovery codes that stand in for it once each."""

from django.conf import settings
from django.db import models
from django.utils import timezone


class SecondFactor(models.Model):
    """One account's secret. `last_step`: the step of the last code that was taken; earlier ones count no more."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="second_factor")
    secret = models.CharField(max_length=40, editable=False)
    last_step = models.BigIntegerField(default=0, editable=False)
    made_at = models.DateTimeField(default=timezone.now, editable=False)

    def __str__(self) -> str:
        return f"second factor of {self.user}"


class RecoveryCode(models.Model):
    """A code on paper. Only its hash is kept; it is random to 80 bits, so a plain one is enough."""

    factor = models.ForeignKey(SecondFactor, on_delete=models.CASCADE, related_name="recovery_codes")
    sha256 = models.CharField(max_length=64, editable=False)
    used_at = models.DateTimeField(null=True, editable=False)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("factor", "sha256"), name="recovery_code_once"),)

    def __str__(self) -> str:
        return f"recovery code of {self.factor.user}{', used' if self.used_at else ''}"
