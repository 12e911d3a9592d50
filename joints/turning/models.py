"""Where a weld runs and which way it faces; the axis about which its assembly is turned, and its section.

Coordinates are the assembly's own, z upwards as it lies at turn 0. Lengths in mm.
"""

from decimal import Decimal
from typing import Any

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from register.models import Recorded
from register.plants.rows import PartOf

Vector = tuple[Decimal, Decimal, Decimal]
BEAM: Vector = (Decimal(1), Decimal(0), Decimal(0))
"""The axis of an assembly that states none."""
DIRECTION: dict[str, Any] = {"max_digits": 9, "decimal_places": 6}
PLACE: dict[str, Any] = {"max_digits": 9, "decimal_places": 2, "null": True, "blank": True}
SIZE: dict[str, Any] = {
    **PLACE,
    "validators": [MinValueValidator(Decimal("0.01"), "must be more than 0")],
}
SECTIONS = (
    ("i", _("I or H section")),
    ("box", _("rectangular hollow or box section")),
    ("round", _("round hollow section")),
)


class AssemblyGeometry(PartOf, Recorded):
    """The axis of the beam and, for the picture, its section: depth upwards and width across at turn 0."""

    part_of = "assembly"

    assembly = models.OneToOneField("joints.Assembly", on_delete=models.CASCADE, related_name="geometry")
    beam_x = models.DecimalField(_("beam axis, x"), default=BEAM[0], **DIRECTION)
    beam_y = models.DecimalField(_("beam axis, y"), default=BEAM[1], **DIRECTION)
    beam_z = models.DecimalField(_("beam axis, z"), default=BEAM[2], **DIRECTION)
    section = models.CharField(max_length=8, blank=True, choices=SECTIONS, help_text=_("for the picture of the stops"))
    depth_mm = models.DecimalField(_("depth [mm]"), **SIZE)
    width_mm = models.DecimalField(_("width [mm]"), **SIZE)
    web_mm = models.DecimalField(_("web or wall [mm]"), **SIZE)
    flange_mm = models.DecimalField(_("flange [mm]"), **SIZE)
    length_mm = models.DecimalField(_("length along the axis [mm]"), help_text=_("for the weld map"), **SIZE)

    class Meta:
        app_label = "joints"
        verbose_name_plural = _("assembly geometries")

    def __str__(self) -> str:
        return f"Geometry of {self.assembly}"

    def get_absolute_url(self) -> str:
        return self.assembly.get_absolute_url()

    @property
    def beam(self) -> Vector:
        """The axis of the beam, of any length."""
        return self.beam_x, self.beam_y, self.beam_z


class JointGeometry(PartOf, Recorded):
    """The axis of a weld, the direction from its root to its face, and for the pictures its place in the section and
    along the beam.
    """

    part_of = "joint"

    joint = models.OneToOneField("joints.Joint", on_delete=models.CASCADE, related_name="geometry")
    axis_x = models.DecimalField(_("weld axis, x"), **DIRECTION)
    axis_y = models.DecimalField(_("weld axis, y"), **DIRECTION)
    axis_z = models.DecimalField(_("weld axis, z"), **DIRECTION)
    face_x = models.DecimalField(_("face, x"), **DIRECTION)
    face_y = models.DecimalField(_("face, y"), **DIRECTION)
    face_z = models.DecimalField(_("face, z"), **DIRECTION)
    across_mm = models.DecimalField(_("across, from the beam's axis [mm]"), **PLACE)
    up_mm = models.DecimalField(_("up, from the beam's axis [mm]"), **PLACE)
    along_mm = models.DecimalField(
        _("along, from the beam's start to the weld's middle [mm]"), help_text=_("for the weld map"), **PLACE
    )
    part_length_mm = models.DecimalField(_("shorter part along the weld [mm]"), **SIZE)

    class Meta:
        app_label = "joints"
        verbose_name_plural = _("joint geometries")

    def __str__(self) -> str:
        return f"Geometry of {self.joint}"

    def get_absolute_url(self) -> str:
        return self.joint.get_absolute_url()

    @property
    def axis(self) -> Vector:
        """The axis of the weld, of any length."""
        return self.axis_x, self.axis_y, self.axis_z

    @property
    def face(self) -> Vector:
        """From root to face, of any length."""
        return self.face_x, self.face_y, self.face_z
