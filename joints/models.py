"""Jobs, their assemblies and joints, the workstations where they are welded, and the lists they came from.

Nothing here says whether a joint is covered: that is worked out for a date by joints.coverage.
"""

from decimal import Decimal
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from joints import choices
from joints.order import natural_key
from register.models import Recorded
from register.plants.rows import InPlant, PartOf, ReachManager
from wps.languages import LANGUAGES

MM = {"max_digits": 9, "decimal_places": 3, "null": True, "blank": True}
ABOVE_ZERO = MinValueValidator(Decimal("0.001"), "must be more than 0")


def _mm(label: str, help: str = "") -> models.DecimalField:
    return models.DecimalField(label, help_text=help, validators=[ABOVE_ZERO], **MM)


def _above_zero(*names: str) -> models.Q:
    """Each of the named sizes is more than 0 or not stated."""
    condition = models.Q()
    for name in names:
        condition &= models.Q(**{f"{name}__isnull": True}) | models.Q(**{f"{name}__gt": 0})
    return condition


class Job(InPlant, Recorded):
    """A contract: what its joints must satisfy, and when it is welded."""

    number = models.CharField(_("job number"), max_length=40, db_index=True)
    title = models.CharField(max_length=200, db_index=True)
    client = models.CharField(max_length=200, blank=True, db_index=True)
    application_standard = models.CharField(
        max_length=40, blank=True, choices=choices.APPLICATION_STANDARDS, help_text=_("empty: none agreed")
    )
    execution_class = models.CharField(max_length=4, blank=True, choices=choices.execution_classes)
    procedure_code = models.CharField(
        _("procedures qualified to"),
        max_length=40,
        blank=True,
        default="ISO 15614-1:2017",
        help_text=_("the code and edition that the contract names; a record to another one does not count"),
    )
    level = models.PositiveSmallIntegerField(
        _("test level"), null=True, blank=True, help_text=_("ISO 15614-1: 1 or 2; a level 2 record serves both")
    )
    impact_required = models.BooleanField(_("impact toughness required"), default=False)
    impact_temperature_c = models.DecimalField(
        _("impact test temperature [°C]"), max_digits=5, decimal_places=1, null=True, blank=True
    )
    hardness_required = models.BooleanField(_("hardness limit required"), default=False)
    pwht_required = models.BooleanField(_("heat treatment after welding"), default=False)
    coordinator_level = models.CharField(
        _("responsible coordinator's knowledge"), max_length=1, blank=True, choices=choices.coordinator_levels
    )
    over_primer = models.BooleanField(_("welded over shop primer"), default=False)
    primer_thickness_um = models.DecimalField(
        _("shop primer, largest thickness [µm]"), max_digits=6, decimal_places=1, null=True, blank=True
    )
    deep_penetration = models.BooleanField(_("throats count penetration"), default=False)
    heat_controlled = models.BooleanField(_("preheat, heat input or interpass specified"), default=False)
    transverse_load = models.CharField(
        _("fillets loaded across the weld"),
        max_length=3,
        blank=True,
        choices=choices.yes_no,
        help_text=_("asked for steels of high strength only"),
    )
    starts_on = models.DateField(_("welding starts on"), null=True, blank=True, db_index=True)
    ends_on = models.DateField(_("welding ends on"), null=True, blank=True, db_index=True)

    class Meta:
        ordering = ("number", "pk")
        constraints = (
            models.UniqueConstraint(fields=("plant", "number"), name="job_number_once"),
            models.CheckConstraint(
                name="job_ends_after_start",
                condition=models.Q(ends_on__isnull=True)
                | models.Q(starts_on__isnull=True)
                | models.Q(ends_on__gte=models.F("starts_on")),
                violation_error_message=_("Welding ends before it starts."),
            ),
        )

    def __str__(self) -> str:
        return f"Job {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("joints:job", args=[self.pk])


class Assembly(PartOf, Recorded):
    """A part of a job that is put together and welded as one piece."""

    part_of = "job"

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="assemblies")
    mark = models.CharField(max_length=60, db_index=True)
    title = models.CharField(max_length=200, blank=True)
    kind = models.CharField(max_length=60, blank=True, help_text=_("beam, column, bracing ..."))
    order_key = models.CharField(max_length=120, editable=False, default="", db_index=True)

    class Meta:
        ordering = ("job", "order_key", "pk")
        verbose_name_plural = _("assemblies")
        constraints = (models.UniqueConstraint(name="one_mark_per_job", fields=("job", "mark")),)

    def __str__(self) -> str:
        return f"Assembly {self.mark}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        self.order_key = natural_key(self.mark)
        super().save(*args, **kwargs)

    def get_absolute_url(self) -> str:
        return reverse("joints:assembly", args=[self.pk])


class Workstation(InPlant, Recorded):
    """A place where welding is done, what it can run, and how far it can turn the work."""

    name = models.CharField(max_length=80, db_index=True)
    kind = models.CharField(max_length=20, choices=choices.WORKSTATION_KINDS, db_index=True)
    processes = models.JSONField(default=list, help_text=_("ISO 4063 numbers"))
    mechanisation = models.CharField(max_length=20, blank=True, choices=choices.mechanisations, db_index=True)
    unit = models.CharField(
        _("welding unit"), max_length=120, blank=True, help_text=_("robot or machine type with its control")
    )
    arc_sensor = models.CharField(max_length=3, blank=True, choices=choices.yes_no)
    joint_sensor = models.CharField(max_length=3, blank=True, choices=choices.yes_no)
    joint_tracking = models.CharField(max_length=3, blank=True, choices=choices.yes_no)
    arc_length_control = models.CharField(
        _("automatic arc-length control"), max_length=3, blank=True, choices=choices.yes_no
    )
    multi_arc = models.CharField(_("several arcs"), max_length=3, blank=True, choices=choices.yes_no)
    visual_control = models.CharField(max_length=10, blank=True, choices=choices.visual_controls)
    rotator_from_deg = models.DecimalField(
        _("rotator turns from [°]"),
        max_digits=5,
        decimal_places=1,
        null=True,
        blank=True,
        help_text=_("empty: no rotator"),
    )
    rotator_to_deg = models.DecimalField(
        _("rotator turns to [°]"), max_digits=5, decimal_places=1, null=True, blank=True
    )
    max_length_mm = _mm(_("longest assembly [mm]"))
    max_mass_kg = models.DecimalField(
        _("heaviest assembly [kg]"), max_digits=9, decimal_places=1, null=True, blank=True, validators=[ABOVE_ZERO]
    )
    sheet_language = models.CharField(
        _("sheets in"),
        max_length=2,
        default="en",
        choices=tuple(LANGUAGES.items()),
        help_text=_("the language at the machine"),
    )
    notes = models.TextField(blank=True)

    class Meta:
        ordering = ("name", "pk")
        constraints = (
            models.UniqueConstraint(fields=("plant", "name"), name="workstation_name_once"),
            models.CheckConstraint(
                name="rotator_arc_has_two_ends",
                condition=models.Q(rotator_from_deg__isnull=True, rotator_to_deg__isnull=True)
                | models.Q(rotator_from_deg__isnull=False, rotator_to_deg__isnull=False)
                & models.Q(rotator_to_deg__gte=models.F("rotator_from_deg")),
                violation_error_message=_("State both ends of the rotator, the lower one first."),
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("joints:workstation", args=[self.pk])


class StillWelded(ReachManager):
    """The joints that are welded: those that left the model stay on file and are counted nowhere."""

    def get_queryset(self) -> Any:
        return super().get_queryset().filter(left_model_at__isnull=True)


class Joint(PartOf, Recorded):
    """One weld of an assembly, as the list or the drawing states it; blank means not stated.

    Lengths in mm, angles in degrees. `t1_mm` and `grade_1` are one part, `t2_mm` and `grade_2` the other.
    `final_process` may name several processes of one weld, joined by "+" ("141+135").
    """

    part_of = "assembly"

    assembly = models.ForeignKey(Assembly, on_delete=models.CASCADE, related_name="joints")
    number = models.CharField(_("joint number"), max_length=40, db_index=True)
    order_key = models.CharField(max_length=120, editable=False, default="")
    weld_type = models.CharField(max_length=12, blank=True, choices=choices.weld_types, db_index=True)
    joint_type = models.CharField(max_length=12, blank=True, choices=choices.joint_types)
    product = models.CharField(max_length=8, blank=True, choices=choices.products)
    grade_1 = models.CharField(_("steel, part 1"), max_length=40, blank=True, db_index=True)
    grade_2 = models.CharField(_("steel, part 2"), max_length=40, blank=True)
    heat_1 = models.CharField(_("heat, part 1"), max_length=40, blank=True, help_text=_("number on its certificate"))
    heat_2 = models.CharField(_("heat, part 2"), max_length=40, blank=True, help_text=_("number on its certificate"))
    t1_mm = _mm(_("thickness, part 1 [mm]"))
    t2_mm = _mm(_("thickness, part 2 [mm]"))
    throat_mm = _mm(_("fillet throat a [mm]"))
    leg_mm = _mm(_("fillet leg z [mm]"))
    penetration_mm = _mm(_("weld depth [mm]"), _("partial penetration"))
    length_mm = _mm(_("weld length [mm]"))
    intermittent = models.CharField(_("intermittent"), max_length=3, blank=True, choices=choices.yes_no)
    element_length_mm = _mm(_("length of each element [mm]"), _("intermittent weld"))
    element_gap_mm = _mm(_("clear gap between elements [mm]"), _("intermittent weld: from end to end, not the pitch"))
    diameter_mm = _mm(_("outside diameter [mm]"), _("rectangular hollow section: the smaller side"))
    rotated = models.CharField(_("pipe turned while welding"), max_length=3, blank=True, choices=choices.yes_no)
    branch_angle_deg = models.DecimalField(
        _("branch angle [°]"),
        max_digits=5,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[ABOVE_ZERO, MaxValueValidator(Decimal(180))],
    )
    position = models.CharField(max_length=8, blank=True, choices=choices.positions, db_index=True)
    weld_detail = models.CharField(_("sides and backing"), max_length=8, blank=True, choices=choices.weld_details)
    gouging = models.CharField(_("root gouging"), max_length=12, blank=True, choices=choices.gougings)
    preparation = models.CharField(_("joint preparation"), max_length=16, blank=True, choices=choices.preparations)
    final_process = models.CharField(
        max_length=30, blank=True, help_text=_("ISO 4063 number such as 135; several of one weld: 141+135")
    )
    final_workstation = models.ForeignKey(
        Workstation, on_delete=models.PROTECT, null=True, blank=True, related_name="final_joints"
    )
    tack_process = models.CharField(max_length=30, blank=True, help_text=_("ISO 4063 number such as 135"))
    tack_workstation = models.ForeignKey(
        Workstation, on_delete=models.PROTECT, null=True, blank=True, related_name="tack_joints"
    )
    tack_length_mm = _mm(_("tack length [mm]"))
    tack_throat_mm = _mm(_("tack throat or thickness [mm]"))
    tack_spacing_mm = _mm(_("tack spacing, centre to centre [mm]"))
    weld_date = models.DateField(_("to be welded on"), null=True, blank=True, db_index=True)
    remarks = models.CharField(max_length=500, blank=True)
    model_id = models.CharField(_("identity in the model"), max_length=64, blank=True, editable=False, db_index=True)
    left_model_at = models.DateTimeField(_("no longer in the model since"), null=True, blank=True, editable=False)
    source_row = models.PositiveIntegerField(null=True, blank=True, editable=False)
    source = models.ForeignKey(
        "ImportBatch", on_delete=models.SET_NULL, null=True, blank=True, editable=False, related_name="joints"
    )

    # All joints for whoever asks the model itself (forms, constraints, relations); `objects` are those still welded.
    every = ReachManager()
    objects = StillWelded()

    class Meta:
        # By the key of the assembly, not by its own order, so that an index holds it.
        ordering = ("assembly_id", "order_key", "pk")
        constraints = (
            models.UniqueConstraint(name="one_number_per_assembly", fields=("assembly", "number")),
            models.CheckConstraint(
                name="joint_sizes_above_zero",
                condition=_above_zero("t1_mm", "t2_mm", "throat_mm", "leg_mm", "penetration_mm", "length_mm")
                & _above_zero("diameter_mm", "branch_angle_deg", "tack_length_mm", "tack_throat_mm")
                & _above_zero("element_length_mm", "element_gap_mm", "tack_spacing_mm"),
                violation_error_message=_("A size of a joint is more than 0, or not stated."),
            ),
        )
        indexes = (
            models.Index(fields=("assembly", "order_key"), name="joint_in_order"),
            models.Index(fields=("order_key",), name="joint_order"),
            models.Index(fields=("t1_mm",), name="joint_t1"),
            models.Index(fields=("throat_mm",), name="joint_throat"),
            models.Index(fields=("final_process",), name="joint_process"),
        )

    def __str__(self) -> str:
        return f"Joint {self.number}"

    @property
    def named(self) -> str:
        """With its assembly, which numbers start afresh in. Example: "Joint 39 of B102"."""
        return f"Joint {self.number} of {self.assembly.mark}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        self.order_key = natural_key(self.number)
        super().save(*args, **kwargs)

    def get_absolute_url(self) -> str:
        return reverse("joints:joint", args=[self.pk])


# Models of the parts of this app, found by Django through this module.
from joints.imports.models import (  # noqa: E402
    AnswerOnImport,
    ImportBatch,
    ImportDifference,
    JointAsSent,
    ListSender,
    SenderColumns,
    ShownDifference,
)
from joints.turning.models import AssemblyGeometry, JointGeometry  # noqa: E402
from joints.weld_data.models import WeldDataChange  # noqa: E402
from joints.weld_values.models import WeldRunFinding  # noqa: E402

__all__ = [
    "AnswerOnImport",
    "Assembly",
    "AssemblyGeometry",
    "ImportBatch",
    "ImportDifference",
    "Job",
    "Joint",
    "JointAsSent",
    "JointGeometry",
    "ListSender",
    "SenderColumns",
    "ShownDifference",
    "WeldDataChange",
    "WeldRunFinding",
    "Workstation",
]
