"""The columns of the lists of jobs, joints, workstations, and of the answers of an assembly."""

from decimal import Decimal
from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.safestring import SafeString
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.position_names import position_of
from codes.terms import both_names
from codes.units import System, figure_in, unit_in
from codes.words import value_words
from joints.models import Job, Joint, Workstation
from register.base.tables import LeanTable, link


def mm(value: Any) -> str:
    """A size without trailing zeros. Example: 12.500 gives "12.5"."""
    return f"{value:f}".rstrip("0").rstrip(".") if value is not None else ""


def size_in(value: Decimal | None, system: System) -> str:
    """A size in mm or in, without its unit. Example: 12.500 mm is "12.5", or "0.492" in inches."""
    return "" if value is None else figure_in(value, "mm", system)


def thicknesses(joint: Joint, system: System = System.SI) -> str:
    """Both thicknesses. Example: "12 / 20"."""
    first, second = size_in(joint.t1_mm, system), size_in(joint.t2_mm, system)
    return first if first == second else f"{first or '?'} / {second or '?'}"


def stated_size(joint: Joint) -> tuple[str, Decimal | None]:
    """The size that the joint states, after its letter: throat a, leg z, penetration s. Example: ("z", Decimal(6))."""
    stated = {"a": joint.throat_mm, "z": joint.leg_mm, "s": joint.penetration_mm}
    return next(((letter, size) for letter, size in stated.items() if size), ("", None))


class JobTable(LeanTable):
    """Jobs, the newest number first."""

    number = tables.Column(verbose_name=_("Job"))
    title = tables.Column()
    client = tables.Column()
    execution_class = tables.Column(verbose_name=_("Class"), orderable=False)
    procedure_code = tables.Column(verbose_name=_("Procedures to"), orderable=False)
    starts_on = tables.Column(verbose_name=_("From"))
    ends_on = tables.Column(verbose_name=_("To"))
    joints = tables.Column(accessor="joint_count", verbose_name=_("Joints"), orderable=False)

    caption = _("Jobs")
    named = True
    numeric = ("joints",)
    unbroken = ("number", "procedure_code", "starts_on", "ends_on")

    class Meta(LeanTable.Meta):
        order_by = ("-number",)

    def render_number(self, record: Job) -> SafeString:
        return link(record.get_absolute_url(), record.number)

    def value_number(self, record: Job) -> str:
        return record.number

    def render_execution_class(self, record: Job) -> str:
        return record.execution_class

    def render_starts_on(self, value: Any) -> str:
        return value.isoformat()

    def render_ends_on(self, value: Any) -> str:
        return value.isoformat()

    def value_starts_on(self, value: Any) -> Any:
        return value

    def value_ends_on(self, value: Any) -> Any:
        return value


class JointTable(LeanTable):
    """Joints as the lists state them."""

    number = tables.Column(verbose_name=_("Joint"), order_by=("order_key", "pk"))
    assembly = tables.Column(orderable=False)
    job = tables.Column(accessor="assembly__job__number", verbose_name=_("Job"), orderable=False)
    weld_type = tables.Column(verbose_name=_("Weld"), order_by=("weld_type", "pk"))
    parts = tables.Column(order_by=("t1_mm", "pk"), empty_values=())
    throat = tables.Column(accessor="pk", verbose_name=_("Size"), order_by=("throat_mm", "pk"))
    a = tables.Column(accessor="throat_mm", verbose_name="a [mm]", orderable=False)
    z = tables.Column(accessor="leg_mm", verbose_name="z [mm]", orderable=False)
    s = tables.Column(accessor="penetration_mm", verbose_name="s [mm]", orderable=False)
    steel = tables.Column(accessor="grade_1", verbose_name=_("Steel"), order_by=("grade_1", "pk"))
    position = tables.Column(order_by=("position", "pk"))
    process = tables.Column(accessor="final_process", verbose_name=_("Process"), order_by=("final_process", "pk"))
    weld_date = tables.Column(verbose_name=_("Weld date"), order_by=("weld_date", "pk"))

    caption = _("Joints")
    numeric = ("parts", "throat")
    unbroken = ("job", "position", "process", "weld_date")
    off_page, off_file = ("a", "z", "s"), ("throat",)
    many = True
    named = True

    class Meta(LeanTable.Meta):
        # The order of the model: assembly, number, key; an index holds it.
        pass

    def __init__(self, *args: Any, system: System = System.SI, **kwargs: Any) -> None:
        self.system = system
        super().__init__(*args, **kwargs)
        unit = unit_in("mm", system)
        self.columns["parts"].column.verbose_name = gettext("Parts [%(unit)s]") % {"unit": unit}
        self.columns["throat"].column.verbose_name = gettext("Size [%(unit)s]") % {"unit": unit}

    def render_number(self, record: Joint) -> SafeString:
        return link(record.get_absolute_url(), record.number)

    def value_number(self, record: Joint) -> str:
        return record.number

    def render_assembly(self, record: Joint) -> SafeString:
        return link(record.assembly.get_absolute_url(), record.assembly.mark)

    def value_assembly(self, record: Joint) -> str:
        return record.assembly.mark

    def render_weld_type(self, record: Joint) -> str:
        return value_words("weld_type", record.weld_type)

    def value_weld_type(self, record: Joint) -> str:
        return record.weld_type

    def render_parts(self, record: Joint) -> str:
        return thicknesses(record, self.system)

    def render_throat(self, record: Joint) -> str:
        letter, size = stated_size(record)
        return f"{letter} {size_in(size, self.system)}" if size else self.default

    def render_position(self, record: Joint) -> str:
        return position_of(record.position, record.weld_type)

    def value_position(self, record: Joint) -> str:
        return record.position

    def render_process(self, value: str) -> str:
        return " + ".join(both_names("process", part) for part in value.split("+"))

    def value_process(self, value: str) -> str:
        return value

    def render_weld_date(self, value: Any) -> str:
        return value.isoformat()

    def value_weld_date(self, value: Any) -> Any:
        return value


class WorkstationTable(LeanTable):
    """Where welding is done."""

    name = tables.Column()
    kind = tables.Column(accessor="get_kind_display", order_by=("kind", "pk"))
    processes = tables.Column(orderable=False)
    mechanisation = tables.Column()
    unit = tables.Column(verbose_name=_("Machine"), orderable=False)

    caption = _("Workstations")

    class Meta(LeanTable.Meta):
        order_by = ("name",)

    def render_name(self, record: Workstation) -> SafeString:
        return link(reverse("joints:workstation", args=[record.pk]), record.name)

    def value_name(self, record: Workstation) -> str:
        return record.name

    def render_processes(self, value: list[str]) -> str:
        return self.value_processes(value)

    def value_processes(self, value: list[str]) -> str:
        return ", ".join(both_names("process", process) for process in value)

    def render_mechanisation(self, record: Workstation) -> str:
        return value_words("mechanisation", record.mechanisation)
