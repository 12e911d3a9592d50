"""A procedure qualification record: what was welded and found (WPQR in ISO, PQR in AWS and ASME codes)."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import Tested, UnknownEdition
from codes.limits import LimitSet
from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from register.models import Recorded
from register.plants.rows import InPlant


class Route(models.TextChoices):
    """The five routes of qualification of ISO 15607."""

    PROCEDURE_TEST = "procedure_test", _("welding procedure test (ISO 15614-1)")
    PRE_PRODUCTION = "pre_production", _("pre-production welding test (ISO 15613)")
    STANDARD_PROCEDURE = "standard_procedure", _("standard welding procedure (ISO 15612)")
    EXPERIENCE = "experience", _("previous welding experience (ISO 15611)")
    CONSUMABLES = "consumables", _("tested consumables (ISO 15610)")


class TestRecord(InPlant, Recorded):
    """One record. `code` is the key of an edition ("ISO 15614-1:2017"); `level` its level where it has levels.

    `pieces`: one mapping of tested variables for each test piece, in the plain form of `codes.parse`.
    `runs`: what was measured run by run (process, filler, A, V, mm/min). `results`: test method -> result as printed.
    """

    __test__ = False  # the name says test, but it is no test case

    number = models.CharField(max_length=60)
    code = models.CharField(_("standard and edition"), max_length=60)
    level = models.PositiveSmallIntegerField(null=True, blank=True)
    route = models.CharField(_("route of qualification"), max_length=20, choices=Route, default=Route.PROCEDURE_TEST)
    manufacturer = models.CharField(max_length=120, blank=True)
    examiner = models.CharField(_("examiner or examining body"), max_length=120, blank=True)
    welded_on = models.DateField(_("test piece welded on"))
    issued_on = models.DateField(null=True, blank=True)
    withdrawn_on = models.DateField(_("no longer used from"), null=True, blank=True)
    last_used_on = models.DateField(_("process last used in production"), null=True, blank=True)
    pieces = models.JSONField(_("test pieces"), default=list, blank=True)
    runs = models.JSONField(_("measured run by run"), default=list, blank=True)
    results = models.JSONField(_("test results"), default=dict, blank=True)
    notes = models.TextField(blank=True)

    class Meta:
        ordering = ("number", "pk")
        indexes = (
            models.Index(fields=("code", "number"), name="record_code"),
            models.Index(fields=("number", "id"), name="record_number"),
            models.Index(fields=("welded_on", "id"), name="record_welded"),
        )
        constraints = (
            models.UniqueConstraint(fields=("plant", "number"), name="record_number_once"),
            models.CheckConstraint(name="record_has_number", condition=~models.Q(number="")),
            models.CheckConstraint(name="record_route_known", condition=models.Q(route__in=Route.values)),
            models.CheckConstraint(
                name="record_issue_after_welding",
                condition=models.Q(issued_on__isnull=True) | models.Q(issued_on__gte=models.F("welded_on")),
                violation_error_message=_("A record cannot have been issued before the test piece was welded."),
            ),
        )

    def __str__(self) -> str:
        return self.number

    @classmethod
    def also_in_reach(cls, plants: frozenset[int]) -> models.Q:
        """Records that support a procedure released to the plant."""
        from wps.releases.models import records_released_to

        return models.Q(pk__in=records_released_to(plants))

    def get_absolute_url(self) -> str:
        """The page of this record."""
        return reverse("wps:record", args=[self.pk])

    def clean(self) -> None:
        """Raises ValidationError where the edition is unknown or a test piece cannot be read."""
        try:
            self.tested()
        except (UnknownEdition, BadField) as problem:
            raise ValidationError(str(problem)) from None

    def tested(self) -> tuple[Tested, ...]:
        """The test pieces as typed values. Raises BadField naming piece and field, UnknownEdition."""
        from wps.tested import tested_pieces

        return tested_pieces(self.code, self.pieces, self.level)

    def limit_sets(self, settings: Settings = DEFAULTS) -> tuple[LimitSet, ...]:
        """The alternatives of limits that this record earns, labelled with its number. Raises as `tested`."""
        from wps.tested import earned

        return earned(self.number, self.code, self.pieces, self.level, settings)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises ValidationError where a revision that was approved rests on this record."""
        from wps.models.procedure import FROZEN

        if self.supports.filter(status__in=FROZEN).exists():
            raise ValidationError(
                gettext("%(self)s supports an approved procedure and stays on file; withdraw it instead.")
                % {"self": self}
            )
        return super().delete(*args, **kwargs)
