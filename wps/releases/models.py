"""A procedure released from the plant that qualified it to another plant of the same manufacturer.

ISO 15614-1:2017, 8.2: a qualification holds in the workshops and sites of the manufacturer that welded the test and
keeps the whole responsibility for the welding done there (confirmed; earlier editions ask for the same technical and
quality control, 8.1, from memory). AWS D1.1:2020, 6.2.1: each contractor tests its own procedures; those of a sister
firm with a control of its own count only where the Engineer accepts them (from memory). So a release states why.
"""

from datetime import date
from typing import Any

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from register.models import Recorded
from register.plants.rows import PartOf


class ProcedureRelease(PartOf, Recorded):
    """From `from_on` to `until`, both included (None: until taken back), the plant may weld to the procedure."""

    part_of = "procedure"

    procedure = models.ForeignKey("wps.Procedure", on_delete=models.PROTECT, related_name="releases")
    plant = models.ForeignKey(
        "register.Plant", on_delete=models.PROTECT, related_name="+", verbose_name=_("released to")
    )
    from_on = models.DateField(_("from"))
    until = models.DateField(_("last day"), null=True, blank=True)
    ground = models.CharField(_("why it holds there"), max_length=300)
    by_name = models.CharField(max_length=150, editable=False)
    at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ("plant__name", "-from_on", "-pk")
        indexes = (models.Index(fields=("plant", "from_on"), name="release_to_plant"),)
        constraints = (
            models.UniqueConstraint(
                fields=("procedure", "plant"),
                condition=models.Q(until__isnull=True),
                name="release_once",
                violation_error_message=_("It is released to this plant already."),
            ),
            models.CheckConstraint(name="release_states_ground", condition=~models.Q(ground="")),
            models.CheckConstraint(
                name="release_ends_after_start",
                condition=models.Q(until__isnull=True) | models.Q(until__gte=models.F("from_on")),
                violation_error_message=_("The last day lies before the first."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.procedure} released to {self.plant}"


def released_to(plant: int, on: date) -> frozenset[int]:
    """The keys of the procedures released to a plant on a day. One query."""
    rows = ProcedureRelease.everything.filter(
        models.Q(until__isnull=True) | models.Q(until__gte=on), plant=plant, from_on__lte=on
    )
    return frozenset(rows.values_list("procedure_id", flat=True))


def records_released_to(plants: frozenset[int]) -> Any:
    """The keys of the records that support a procedure which was released to one of the plants, as a query."""
    from wps.models import ProcedureRevision

    links = ProcedureRevision.records.through._default_manager
    released = ProcedureRelease.everything.filter(plant__in=sorted(plants)).values("procedure")
    return links.filter(procedurerevision__procedure__in=released).values("testrecord")
