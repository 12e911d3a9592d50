"""People, their certificates, the dated events of a certificate, and the log of who welded what.

Nothing here stores whether a certificate is valid: that is worked out for any day by `qualifications.periods`.
"""

from typing import Any

from django.conf import settings
from django.core.exceptions import PermissionDenied, ValidationError
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.models import Recorded
from register.plants.rows import InPlant, PartOf

# The kinds that the codes' clocks know (codes.confirmations, codes.continuity), and the correction, our own.
EVENT_KINDS = (
    "confirmation",
    "use",
    "renewal",
    "failed_renewal",
    "prolongation",
    "revocation",
    "manufacturer_changed",
    "iso_3834_lost",
    "quality_not_shown",
    "correction",
)
CERTIFICATE_KINDS = ("welder", "operator", "tack_welder")
WITHOUT_REASON = ("confirmation", "use", "renewal", "prolongation")


class Person(InPlant, Recorded):
    """A welder, tack welder, operator or weld setter. `identification` is the stamp or payroll number.

    `supervisor` is the user who may confirm this person's certificates as "own people". Whoever is no longer active
    has a last day; certificates count up to that day, included.
    """

    name = models.CharField(max_length=120)
    identification = models.CharField(_("stamp or payroll number"), max_length=40)
    born_on = models.DateField(_("date of birth"), null=True, blank=True)
    born_in = models.CharField(_("place of birth"), max_length=120, blank=True)
    employer = models.CharField(max_length=120, blank=True)
    site = models.CharField(_("place of work"), max_length=120, blank=True)
    supervisor = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="welding_people"
    )
    active = models.BooleanField(default=True)
    left_on = models.DateField(_("last day of work"), null=True, blank=True)
    notes = models.TextField(blank=True)

    class Meta:
        ordering = ("name", "pk")
        verbose_name_plural = _("people")
        constraints = (
            models.CheckConstraint(
                name="person_inactive_has_last_day",
                condition=models.Q(active=True) | models.Q(left_on__isnull=False),
                violation_error_message=_("Whoever is no longer active needs a last day of work."),
            ),
            models.UniqueConstraint(fields=("plant", "identification"), name="person_identification_once"),
            models.CheckConstraint(name="person_has_name", condition=~models.Q(name="")),
        )

    def __str__(self) -> str:
        return f"{self.name} ({self.identification})"

    def get_absolute_url(self) -> str:
        """The page of this person."""
        return reverse("qualifications:person", args=[self.pk])

    @classmethod
    def also_in_reach(cls, plants: frozenset[int]) -> models.Q:
        """People who were lent to the plant: what they welded there stays to be read."""
        return models.Q(pk__in=Loan.everything.filter(plant__in=sorted(plants)).values("person"))

    @property
    def label(self) -> str:
        """What the page is headed by."""
        return self.name


class Certificate(PartOf, Recorded):
    """One certificate of a welder or an operator, as issued.

    `code` is the key of an edition ("ISO 9606-1:2012"), or, where the register does not hold the edition, its name
    as printed. `pieces` is a list of tested variables in the plain form of `codes.parse`, one mapping for each test
    piece. `facts` are the conditions of the revalidation option as text. `results`: test method -> result as printed.
    """

    class Kind(models.TextChoices):
        WELDER = "welder", _("welder")
        OPERATOR = "operator", _("operator or weld setter")
        TACK_WELDER = "tack_welder", _("tack welder")

    class Option(models.TextChoices):
        A = "a", _("a: new test")
        B = "b", _("b: two tested welds")
        C = "c", _("c: confirmation under ISO 3834-2 or -3")

    part_of = "person"

    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="certificates")
    code = models.CharField(_("standard and edition"), max_length=60)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    number = models.CharField(_("certificate number"), max_length=60)
    designation = models.CharField(max_length=200, blank=True)
    pieces = models.JSONField(_("test pieces"), default=list, blank=True)
    wps = models.CharField(_("WPS of the test"), max_length=80, blank=True)
    examiner = models.CharField(max_length=120, blank=True)
    examining_body = models.CharField(max_length=120, blank=True)
    employer_then = models.CharField(_("employer at the test"), max_length=120, blank=True)
    welded_on = models.DateField(_("test piece welded on"))
    results_on = models.DateField(_("all results accepted on"), null=True, blank=True)
    issued_on = models.DateField(null=True, blank=True)
    option = models.CharField(_("revalidation option"), max_length=1, choices=Option.choices, blank=True)
    printed_until = models.DateField(_("valid until, as printed"), null=True, blank=True)
    job_knowledge = models.CharField(max_length=60, blank=True)
    facts = models.JSONField(_("conditions of the option"), default=dict, blank=True)
    results = models.JSONField(_("test results"), default=dict, blank=True)
    notes = models.TextField(blank=True)

    class Meta:
        ordering = ("person__name", "code", "number", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("number", "examining_body"),
                name="certificate_number_once",
                violation_error_message=_("This examining body has already issued a certificate of this number."),
            ),
            models.CheckConstraint(name="certificate_kind_known", condition=models.Q(kind__in=CERTIFICATE_KINDS)),
            models.CheckConstraint(name="certificate_option_known", condition=models.Q(option__in=("", "a", "b", "c"))),
            models.CheckConstraint(
                name="certificate_results_after_welding",
                condition=models.Q(results_on__isnull=True) | models.Q(results_on__gte=models.F("welded_on")),
                violation_error_message=_("The results cannot have been accepted before the test piece was welded."),
            ),
            models.CheckConstraint(
                name="certificate_issue_after_welding",
                condition=models.Q(issued_on__isnull=True) | models.Q(issued_on__gte=models.F("welded_on")),
                violation_error_message=_("A certificate cannot have been issued before the test piece was welded."),
            ),
        )

    def __str__(self) -> str:
        return f"{self.number} ({self.code})"

    @property
    def standard_and_kind(self) -> str:
        """The standard and what it qualifies, said once: "ISO 9606-1:2012, welder", "AWS D1.1:2020 tack welder"."""
        said = self.code.endswith(f" {self.kind.replace('_', ' ')}")
        return self.code if said else f"{self.code}, {self.get_kind_display()}"

    def get_absolute_url(self) -> str:
        """The page of this certificate."""
        return reverse("qualifications:certificate", args=[self.pk])


class CertificateEvent(PartOf):
    """Something dated that happened to a certificate, written once.

    `on` is the day of the signature; `recorded_at` the moment it was entered here. The name stays as text. An entry
    made by mistake is countered by an event of kind "correction" that voids it and says why; both stay on file.
    `details`: what the kind needs, as text, in the words of the code's package.
    """

    class Kind(models.TextChoices):
        CONFIRMATION = "confirmation", _("confirmation")
        USE = "use", _("weld made")
        RENEWAL = "renewal", _("renewal test passed")
        FAILED_RENEWAL = "failed_renewal", _("renewal test failed")
        PROLONGATION = "prolongation", _("prolongation")
        REVOCATION = "revocation", _("revocation")
        MANUFACTURER_CHANGED = "manufacturer_changed", _("left the manufacturer of the test")
        ISO_3834_LOST = "iso_3834_lost", _("no longer verified to ISO 3834-2 or -3")
        QUALITY_NOT_SHOWN = "quality_not_shown", _("acceptable quality no longer documented")
        CORRECTION = "correction", _("correction")

    part_of = "certificate"

    certificate = models.ForeignKey(Certificate, on_delete=models.PROTECT, related_name="events")
    kind = models.CharField(max_length=24, choices=Kind.choices)
    on = models.DateField()
    by_name = models.CharField(_("signed by"), max_length=150)
    by_role = models.CharField(_("in the position of"), max_length=120, blank=True)
    by_user = models.ForeignKey(
        # An account that has signed is switched off, never deleted: the row below cannot be changed to let it go.
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
    )
    evidence = models.TextField(blank=True)
    reason = models.TextField(blank=True)
    details = models.JSONField(default=dict, blank=True)
    voids = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="voided_by", editable=False
    )
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ("on", "recorded_at", "pk")
        indexes = (models.Index(fields=("certificate", "on"), name="event_of_certificate"),)
        constraints = (
            models.CheckConstraint(
                name="event_kind_known",
                condition=models.Q(kind__in=EVENT_KINDS),
            ),
            models.CheckConstraint(
                name="event_correction_voids_one",
                condition=models.Q(kind="correction", voids__isnull=False)
                | (~models.Q(kind="correction") & models.Q(voids__isnull=True)),
            ),
            models.CheckConstraint(name="event_signed_by_somebody", condition=~models.Q(by_name="")),
            models.CheckConstraint(
                name="event_reason_given",
                condition=models.Q(kind__in=WITHOUT_REASON) | ~models.Q(reason=""),
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of {self.on} by {self.by_name}"

    def clean(self) -> None:
        """Raises ValidationError where a correction points at another certificate or at a correction."""
        if self.voids is not None and self.voids.certificate_id != self.certificate_id:
            raise ValidationError(gettext("A correction can only void an entry of the same certificate."))
        if self.voids is not None and self.voids.kind == self.Kind.CORRECTION:
            raise ValidationError(gettext("A correction cannot be voided; enter what is right anew."))

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write the event. Raises PermissionDenied if it is written already, ValidationError as `clean` does."""
        if not self._state.adding:
            raise PermissionDenied(gettext("An event is written once and never changed; enter a correction."))
        self.clean()
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises PermissionDenied, always."""
        raise PermissionDenied(gettext("An event is never deleted; enter a correction."))


# Models of the parts of this app, found by Django through this module.
from qualifications.calendar.models import CalendarFeed, DueNotice  # noqa: E402
from qualifications.lending.models import Loan  # noqa: E402
from qualifications.weld_log.models import WeldLogBatch, WeldLogEntry  # noqa: E402

__all__ = [
    "CalendarFeed",
    "Certificate",
    "CertificateEvent",
    "DueNotice",
    "Loan",
    "Person",
    "WeldLogBatch",
    "WeldLogEntry",
]
