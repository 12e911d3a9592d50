"""Welding procedures: the number that stays, its revisions, and the runs of a revision."""

from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator, RegexValidator
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.models import Recorded
from register.plants.rows import InPlant, PartOf
from wps.models.record import TestRecord


class Status(models.TextChoices):
    """The life of a revision. A draft without a supporting record is a pWPS."""

    DRAFT = "draft", _("draft")
    CHECKED = "checked", _("checked")
    APPROVED = "approved", _("approved")
    SUPERSEDED = "superseded", _("superseded")
    WITHDRAWN = "withdrawn", _("withdrawn")


class Road(models.TextChoices):
    """What a procedure rests on."""

    TESTED = "tested", _("qualified by test records")
    PREQUALIFIED = "prequalified", _("prequalified by the code, without a test")


OPEN = (Status.DRAFT, Status.CHECKED)
"""States in which a revision may be changed."""
FROZEN = (Status.APPROVED, Status.SUPERSEDED, Status.WITHDRAWN)
"""States in which it stays as it is, here and in the database (migration 0002)."""
ENDING = frozenset({"status", "ended_on", "ended_reason", "ended_by", "ended_name", "changed_at"})
"""The fields that still change when an approved revision ends."""

_ANY_STATUS = models.Q(status__in=Status.values)
_USER = settings.AUTH_USER_MODEL


class Procedure(InPlant, Recorded):
    """A procedure by its number ("WPS 014"); what it says stands in its revisions."""

    number = models.CharField(max_length=40, help_text=_("as on the sheet, for example WPS 014"))
    title = models.CharField(max_length=160, help_text=_("what it welds, in a few words"))

    class Meta:
        ordering = ("number", "pk")
        constraints = (
            models.CheckConstraint(name="procedure_has_number", condition=~models.Q(number="")),
            models.UniqueConstraint(fields=("plant", "number"), name="procedure_number_once"),
        )
        indexes = (models.Index(fields=("number", "id"), name="procedure_number"),)

    def __str__(self) -> str:
        return self.number

    @classmethod
    def also_in_reach(cls, plants: frozenset[int]) -> models.Q:
        """Procedures released to the plant: what was welded to them there stays to be read."""
        from wps.releases.models import ProcedureRelease

        return models.Q(pk__in=ProcedureRelease.everything.filter(plant__in=sorted(plants)).values("procedure"))

    def get_absolute_url(self) -> str:
        """The page of this procedure."""
        return reverse("wps:procedure", args=[self.pk])


class ProcedureRevision(PartOf, Recorded):
    """One revision of a procedure.

    `window` holds the ranges and terms of every variable in the plain form of `codes.parse` ({"min", "max"} and
    lists); `process_windows` what differs for one of several processes, by process. `preparation`: kind, angle_deg,
    gap_mm, root_face_mm and more as text. `road`: what it rests on; a prequalified one has no records. In force on a
    day with approved_on <= day < ended_on. `editors` names whoever wrote in the draft: none of them may check or
    approve it.
    """

    part_of = "procedure"

    procedure = models.ForeignKey(Procedure, on_delete=models.PROTECT, related_name="revisions")
    letter = models.CharField(max_length=3, validators=[RegexValidator(r"^[A-Z]+$", "Revisions are A, B ... Z, AA.")])
    status = models.CharField(max_length=12, choices=Status, default=Status.DRAFT, editable=False)
    code = models.CharField(_("standard and edition"), max_length=60)
    road = models.CharField(_("rests on"), max_length=12, choices=Road, default=Road.TESTED)
    serves_tack = models.BooleanField(_("tack welding"), default=False)
    serves_final = models.BooleanField(_("final welding"), default=True)
    window = models.JSONField(default=dict, blank=True)
    process_windows = models.JSONField(default=dict, blank=True)
    preparation = models.JSONField(default=dict, blank=True)
    records = models.ManyToManyField(
        TestRecord, blank=True, related_name="supports", verbose_name=_("supporting records")
    )
    workstation_note = models.CharField(_("where it is welded"), max_length=200, blank=True)
    cautions = models.TextField(blank=True)
    notes = models.TextField(blank=True)
    editors = models.JSONField(default=list, editable=False)
    author = models.ForeignKey(_USER, on_delete=models.PROTECT, related_name="+", editable=False)
    author_name = models.CharField(max_length=150, editable=False)
    checked_by = models.ForeignKey(_USER, on_delete=models.PROTECT, related_name="+", null=True, editable=False)
    checked_name = models.CharField(max_length=150, blank=True, editable=False)
    checked_on = models.DateField(null=True, editable=False)
    approved_by = models.ForeignKey(_USER, on_delete=models.PROTECT, related_name="+", null=True, editable=False)
    approved_name = models.CharField(max_length=150, blank=True, editable=False)
    approved_on = models.DateField(null=True, editable=False)
    ended_by = models.ForeignKey(_USER, on_delete=models.PROTECT, related_name="+", null=True, editable=False)
    ended_name = models.CharField(max_length=150, blank=True, editable=False)
    ended_on = models.DateField(null=True, editable=False)
    ended_reason = models.CharField(max_length=300, blank=True, editable=False)

    class Meta:
        ordering = ("procedure__number", "-pk")
        indexes = (models.Index(fields=("status", "approved_on"), name="revision_status"),)
        constraints = (
            models.UniqueConstraint(fields=("procedure", "letter"), name="revision_letter_once"),
            models.UniqueConstraint(
                fields=("procedure",), name="revision_one_approved", condition=models.Q(status="approved")
            ),
            models.UniqueConstraint(
                fields=("procedure",), name="revision_one_open", condition=models.Q(status__in=("draft", "checked"))
            ),
            models.CheckConstraint(name="revision_status_known", condition=_ANY_STATUS),
            models.CheckConstraint(name="revision_road_known", condition=models.Q(road__in=Road.values)),
            models.CheckConstraint(
                name="revision_approved_by_whom_when",
                condition=~models.Q(status__in=("approved", "superseded"))
                | models.Q(approved_on__isnull=False, approved_by__isnull=False) & ~models.Q(approved_name=""),
            ),
            models.CheckConstraint(
                name="revision_not_approved_by_author",
                condition=models.Q(approved_by__isnull=True) | ~models.Q(approved_by=models.F("author")),
                violation_error_message=_("A revision is approved by somebody other than its author."),
            ),
            models.CheckConstraint(
                name="revision_end_after_approval",
                condition=models.Q(ended_on__isnull=True)
                | models.Q(approved_on__isnull=True)
                | models.Q(ended_on__gte=models.F("approved_on")),
            ),
            models.CheckConstraint(
                name="revision_withdrawn_with_reason",
                condition=~models.Q(status="withdrawn") | ~models.Q(ended_reason="") & models.Q(ended_on__isnull=False),
            ),
        )

    def __str__(self) -> str:
        return f"{self.procedure.number} rev {self.letter}"

    def get_absolute_url(self) -> str:
        """The page of this revision."""
        return reverse("wps:revision", args=[self.pk])

    @property
    def is_prequalified(self) -> bool:
        """True where it rests on the code's own limits instead of on records."""
        return self.road == Road.PREQUALIFIED

    @property
    def is_open(self) -> bool:
        """True while it may be changed."""
        return self.status in OPEN

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Raises ValidationError where a frozen revision would change in more than its end."""
        if self.pk and not self._state.adding:
            refuse_if_changed(self)
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises ValidationError for a frozen revision."""
        refuse_if_frozen(self.pk)
        return super().delete(*args, **kwargs)


class ProcedureRun(PartOf):
    """One run, or one layer of like runs, with the ranges it is welded in.

    Decimals enough for figures that were stated in inches: 5/32 in is 3.96875 mm.
    """

    part_of = "revision"

    revision = models.ForeignKey(ProcedureRevision, on_delete=models.CASCADE, related_name="runs")
    order = models.PositiveSmallIntegerField(validators=[MinValueValidator(1)])
    layer = models.CharField(
        _("run or layer"), max_length=60, blank=True, help_text=_("for example root, fill 2-4, cap")
    )
    process = models.CharField(max_length=8, blank=True)
    filler_designation = models.CharField(_("filler"), max_length=80, blank=True)
    diameter_mm = models.DecimalField(max_digits=8, decimal_places=5, null=True, blank=True)
    current_type = models.CharField(max_length=4, blank=True)
    current_min_a = models.DecimalField(max_digits=6, decimal_places=1, null=True, blank=True)
    current_max_a = models.DecimalField(max_digits=6, decimal_places=1, null=True, blank=True)
    voltage_min_v = models.DecimalField(max_digits=5, decimal_places=1, null=True, blank=True)
    voltage_max_v = models.DecimalField(max_digits=5, decimal_places=1, null=True, blank=True)
    speed_min_mm_min = models.DecimalField(max_digits=9, decimal_places=3, null=True, blank=True)
    speed_max_mm_min = models.DecimalField(max_digits=9, decimal_places=3, null=True, blank=True)
    wire_feed_min_m_min = models.DecimalField(max_digits=7, decimal_places=4, null=True, blank=True)
    wire_feed_max_m_min = models.DecimalField(max_digits=7, decimal_places=4, null=True, blank=True)
    gas_flow_min_l_min = models.DecimalField(max_digits=7, decimal_places=3, null=True, blank=True)
    gas_flow_max_l_min = models.DecimalField(max_digits=7, decimal_places=3, null=True, blank=True)
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ("revision", "order", "pk")
        constraints = (models.UniqueConstraint(fields=("revision", "order"), name="run_order_once"),)

    def __str__(self) -> str:
        return f"{self.layer or f'run {self.order}'} of {self.revision}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Raises ValidationError where the revision is frozen."""
        refuse_if_frozen(self.revision_id)
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raises ValidationError where the revision is frozen."""
        refuse_if_frozen(self.revision_id)
        return super().delete(*args, **kwargs)


def refuse_if_frozen(revision_id: int | None) -> None:
    """Raises ValidationError where the revision on file was approved or has ended."""
    if ProcedureRevision.objects.filter(pk=revision_id, status__in=FROZEN).exists():
        raise ValidationError(gettext("An approved revision stays as it is; start a new revision to change it."))


def refuse_if_changed(revision: ProcedureRevision) -> None:
    """Raises ValidationError where more changes than the end of an approved revision."""
    names = [field.attname for field in revision._meta.concrete_fields if field.name not in ENDING]
    stored = ProcedureRevision.objects.filter(pk=revision.pk).values("status", *names).first()
    if stored is None or stored["status"] in OPEN:
        return
    if stored["status"] != Status.APPROVED or revision.status == Status.DRAFT or revision.status == Status.CHECKED:
        raise ValidationError(gettext("A revision that has ended, or was approved, does not go back."))
    if changed := [name for name in names if stored[name] != getattr(revision, name)]:
        raise ValidationError(
            gettext("An approved revision stays as it is; refused for %(changed)s.") % {"changed": ", ".join(changed)}
        )
