"""Forms of the geometry: directions as three figures, checked as directions, and the list that is sent in."""

from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.calc.position import face_normal
from codes.calc.result import Refused
from codes.calc.vectors import unit
from codes.values import number
from joints.turning.models import AssemblyGeometry, JointGeometry, Vector

JOINT_PLAN = (
    (_("Axis of the weld"), ("axis_x", "axis_y", "axis_z")),
    (_("From the root to the face"), ("face_x", "face_y", "face_z")),
    (_("Its place in the section and along the beam, for the pictures"), ("across_mm", "up_mm", "along_mm")),
    (_("The parts"), ("part_length_mm",)),
)
ASSEMBLY_PLAN = (
    (_("Axis that it is turned about"), ("beam_x", "beam_y", "beam_z")),
    (_("Its section, for the picture"), ("section", "depth_mm", "width_mm", "web_mm", "flange_mm", "length_mm")),
)
NO_DIRECTION = _("The three figures are 0 together, which is no direction. State the axis, for example 1, 0, 0.")


def refusal_of(axis: Vector, face: Vector) -> str:
    """Why these are no axis and face of a weld, or "". Example: a face along the axis has no side."""
    try:
        face_normal(unit("axis", axis), face, None, None)
    except Refused as refused:
        named = "the axis of the weld" if refused.field == "axis" else "the face"
        return f"{named} {refused.problem}"
    return ""


class _Figures(forms.ModelForm):
    """Figures as people write them: 1, not 1.000000."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial |= {k: number(v) for k, v in self.initial.items() if isinstance(v, Decimal)}
        for field in self.fields.values():
            if not field.required:
                field.error_messages["min_value"] = _("Must be more than 0; leave it empty where it is not known.")


class JointGeometryForm(_Figures):
    """Where a weld runs and which way it faces."""

    class Meta:
        model = JointGeometry
        fields = [name for _, names in JOINT_PLAN for name in names]
        # Short enough for one line beside "may stay empty".
        labels: ClassVar = {
            "across_mm": _("Across from the axis [mm]"),
            "up_mm": _("Up from the axis [mm]"),
            "along_mm": _("Along from the start [mm]"),
            "part_length_mm": _("Shorter part [mm]"),
        }
        help_texts: ClassVar = {
            "along_mm": _("to the middle of the weld; for the weld map"),
            "part_length_mm": _("its length along the weld"),
        }

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        axis, face = (tuple(data.get(f"{name}_{part}") for part in "xyz") for name in ("axis", "face"))
        if None not in (*axis, *face) and (why := refusal_of(axis, face)):  # type: ignore[arg-type]
            if any(axis):
                field, said = "face_x", gettext("%(why)s. State the direction across the weld, root to face.")
            else:
                field, said = "axis_x", gettext("%(why)s. State the direction along the weld, for example 1, 0, 0.")
            self.add_error(field, said % {"why": why[:1].upper() + why[1:]})
        if (data.get("across_mm") is None) != (data.get("up_mm") is None):
            self.add_error("up_mm", gettext("State both places, across and up, or neither."))
        return data


class AssemblyGeometryForm(_Figures):
    """What the assembly is turned about, and its section."""

    class Meta:
        model = AssemblyGeometry
        fields = [name for _, names in ASSEMBLY_PLAN for name in names]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if not any(data.get(f"beam_{part}") for part in "xyz"):
            self.add_error("beam_x", NO_DIRECTION)
        asked = needed(data.get("section", ""))
        missing = [name for name in asked if not data.get(name) and name not in self.errors]
        for name in missing:
            self.add_error(name, gettext("The picture of this section needs it."))
        return data


def needed(section: str) -> tuple[str, ...]:
    """The sizes that the picture of a section needs. Example: needed("round") gives the depth alone."""
    return {
        "": (), "i": ("depth_mm", "width_mm", "web_mm", "flange_mm"), "box": ("depth_mm", "width_mm"),
        "round": ("depth_mm",),
    }[section]  # fmt: skip


class GeometryUploadForm(forms.Form):
    """A list of geometries."""

    file = forms.FileField(
        label=_("List of geometries"), help_text=_("CSV or XLSX, up to 10 MB"), widget=forms.ClearableFileInput()
    )
