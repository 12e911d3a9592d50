"""A person of one plant who works at another from a day to a day."""

from datetime import date

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from register.models import Recorded
from register.plants.rows import PartOf


class Loan(PartOf, Recorded):
    """From `from_on` to `until`, both days included (None: until further notice), the person counts at `plant` only."""

    part_of = "person"

    person = models.ForeignKey("qualifications.Person", on_delete=models.PROTECT, related_name="loans")
    plant = models.ForeignKey("register.Plant", on_delete=models.PROTECT, related_name="+", verbose_name=_("lent to"))
    from_on = models.DateField(_("first day there"))
    until = models.DateField(_("last day there"), null=True, blank=True)
    reason = models.CharField(_("what for"), max_length=250, blank=True)
    by_name = models.CharField(max_length=150, editable=False)
    at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ("-from_on", "-pk")
        indexes = (models.Index(fields=("plant", "from_on"), name="loan_to_plant"),)
        constraints = (
            models.CheckConstraint(
                name="loan_ends_after_start",
                condition=models.Q(until__isnull=True) | models.Q(until__gte=models.F("from_on")),
                violation_error_message=_("The last day lies before the first."),
            ),
        )

    def __str__(self) -> str:
        end = f"to {self.until.isoformat()}" if self.until else "until further notice"
        return f"{self.person.name} at {self.plant} from {self.from_on.isoformat()} {end}"

    def stands_on(self, day: date) -> bool:
        """True on the days of the loan, the first and the last included."""
        return self.from_on <= day and (self.until is None or day <= self.until)
