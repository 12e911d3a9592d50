"""The list of workstations, one workstation, and its form."""

from decimal import ROUND_FLOOR, Decimal
from typing import Any, ClassVar

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names
from codes.units import System
from codes.values import number
from codes.variables import label_of
from codes.words import value_words
from joints.forms import STATION_PLAN, WorkstationForm
from joints.models import Workstation
from joints.tables import WorkstationTable, mm
from joints.trail import trail
from register.base.views import Act, DetailPage, FormPage, ListPage
from register.own_units.reader import units_of
from register.roles import Capability

FOOT_MM, POUND_KG = Decimal("304.8"), Decimal("0.45359237")
"""Exact by definition."""
SENSORS = ("arc_sensor", "joint_sensor", "joint_tracking", "arc_length_control", "multi_arc", "visual_control")


class WorkstationList(ListPage):
    """Everywhere that welding is done."""

    required_capability = Capability.VIEW
    page_title = _("Workstations")
    table_class = WorkstationTable
    create_label = _("Add a workstation")
    empty: ClassVar[dict[str, str]] = {
        "title": _("No workstation is on file yet."),
        "teach": _(
            "A workstation says how the torch is carried: by hand, by a rig or by a robot. That decides "
            "whether a welder or an operator is asked for."
        ),
    }

    def get_queryset(self) -> QuerySet[Workstation]:
        return Workstation.objects.all()

    def get_create_url(self) -> str:
        return reverse("joints:workstation_new") if self.may(Capability.EDIT_JOBS) else ""


def holds(station: Workstation, system: System) -> str:
    """The longest and heaviest work, rounded down. Example: "30 m, 25 t"; in US units "98.4 ft, 55,110 lb"."""
    length, mass, us = station.max_length_mm, station.max_mass_kg, system is System.US
    said = []
    if length:
        feet = (length / FOOT_MM).quantize(Decimal("0.1"), ROUND_FLOOR)
        said.append(f"{number(feet)} ft" if us else f"{mm(length / 1000)} m")
    if mass:
        said.append(f"{int(mass / POUND_KG / 10) * 10:,} lb" if us else f"{mm(mass / 1000)} t")
    return ", ".join(said)


class WorkstationPage(DetailPage):
    """One workstation."""

    required_capability = Capability.VIEW
    template_name = "joints/workstation.html"
    queryset = Workstation.objects.all()

    def get_lead(self) -> str:
        return self.object.get_kind_display()

    def get_facts(self) -> list[tuple[str, ...]]:
        station = self.object
        arc = station.rotator_from_deg, station.rotator_to_deg
        turns = f"{mm(arc[0])}° to {mm(arc[1])}°" if arc[0] is not None else gettext("no rotator")
        sensors = [
            (label_of(name), both_names("visual_control" if name == "visual_control" else "yes_no", value))
            for name in SENSORS
            if (value := getattr(station, name))
        ]
        processes = ", ".join(both_names("process", process) for process in station.processes)
        no_machine = gettext("not asked of a manual bay") if station.kind == "manual_bay" else ""
        return [
            (gettext("Processes"), processes),
            (
                gettext("Mechanisation"),
                value_words("mechanisation", station.mechanisation) if station.mechanisation else "",
            ),
            (gettext("Machine"), station.unit or no_machine),
            *sensors,
            (gettext("Turns the work"), turns),
            (gettext("Holds up to"), holds(station, units_of(self.request))),
            (gettext("Sheets in"), station.get_sheet_language_display()),
        ]

    def get_acts(self) -> list[Act]:
        edit = reverse("joints:workstation_edit", args=[self.object.pk])
        return [Act(gettext("Change"), edit)] if self.may(Capability.EDIT_JOBS) else []

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return super().get_context_data(
            finals=self.object.final_joints.count(),
            tacks=self.object.tack_joints.count(),
            joints_url=f"{reverse('joints:joint_list')}?final_workstation={self.object.pk}",
            tacks_url=f"{reverse('joints:joint_list')}?tack_workstation={self.object.pk}",
            history=trail(self.object),
            **kwargs,
        )


class WorkstationNew(FormPage):
    """The form for a new workstation."""

    required_capability = Capability.EDIT_JOBS
    model = Workstation
    form_class = WorkstationForm
    plan = STATION_PLAN
    page_title = _("A new workstation")
    saved_message = _("{0} is on file.")

    def get_cancel_url(self) -> str:
        return self.object.get_absolute_url() if self.object else reverse("joints:workstation_list")


class WorkstationEdit(WorkstationNew):
    """The form for a workstation on file."""

    saved_message = _("Saved: {0}.")

    def get_page_title(self) -> str:
        return gettext("Change %(object)s") % {"object": self.object}
