"""Forms of the joints app. Text becomes domain values here; errors say what would be right."""

from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import UnknownEdition, edition
from joints.choices import positions, procedure_codes, processes
from joints.imports import cells
from joints.imports.table import MAX_BYTES, MAX_ROWS
from joints.models import Assembly, ImportBatch, Job, Joint, Workstation
from joints.sizes import contradict, tenths, throat_of_leg
from joints.stations import station_label, stations_for
from joints.tables import mm
from register.base.forms import DateField
from register.judged_words import told_within
from wps.languages import LANGUAGES

JOB_PLAN = (
    (_("The job"), ("number", "title", "client", "starts_on", "ends_on")),
    (_("What it asks for"), ("application_standard", "execution_class", "procedure_code", "level")),
    (_("Required of the welds"), ("impact_required", "impact_temperature_c", "hardness_required", "pwht_required")),
    (
        _("What the application standard asks about"),
        (
            "coordinator_level", "over_primer", "primer_thickness_um", "deep_penetration", "heat_controlled",
            "transverse_load",
        ),
    ),
)  # fmt: skip
JOINT_PLAN = (
    (
        _("The weld"),
        ("number", "weld_type", "joint_type", "product", "position", "weld_detail", "gouging", "preparation"),
    ),
    (
        _("The parts"),
        ("grade_1", "t1_mm", "heat_1", "grade_2", "t2_mm", "heat_2", "diameter_mm", "rotated", "branch_angle_deg"),
    ),
    (_("Its size [mm]"), ("throat_mm", "leg_mm", "penetration_mm", "length_mm")),
    (_("Where it is intermittent"), ("intermittent", "element_length_mm", "element_gap_mm")),
    (_("Final weld"), ("final_process", "final_workstation", "weld_date")),
    (_("Tacks"), ("tack_process", "tack_workstation", "tack_length_mm", "tack_throat_mm", "tack_spacing_mm")),
    (_("Remarks"), ("remarks",)),
)
STATION_PLAN = (
    (_("The workstation"), ("name", "kind", "processes", "mechanisation", "sheet_language")),
    (
        _("The machine"),
        ("unit", "arc_sensor", "joint_sensor", "joint_tracking", "arc_length_control", "multi_arc", "visual_control"),
    ),
    (_("What it holds"), ("rotator_from_deg", "rotator_to_deg", "max_length_mm", "max_mass_kg", "notes")),
)


NOT_STATED, AS_LISTED = _("not stated"), _("as the list says")


def _plain(form: forms.ModelForm) -> None:
    """Figures without idle noughts, an empty choice that says what it means, and what to do instead of nought."""
    form.initial |= {name: mm(said) for name, said in form.initial.items() if isinstance(said, Decimal)}
    for field in form.fields.values():
        if isinstance(field, forms.TypedChoiceField):
            blank = _("choose one") if field.required else NOT_STATED
            field.choices = [("", blank), *((value, said) for value, said in field.choices if value)]
        elif isinstance(field, forms.DecimalField):
            field.error_messages["min_value"] = _("Must be more than 0; leave it empty where it is not known.")


class JobForm(forms.ModelForm):
    """A job; the application standard's gates cannot be asked without an execution class."""

    starts_on = DateField(label=_("Welding starts on"), required=False)
    ends_on = DateField(label=_("Welding ends on"), required=False)

    class Meta:
        model = Job
        fields = [name for _, names in JOB_PLAN for name in names]
        # A list to choose from; what is sent is read as any code that somebody writes (clean_procedure_code).
        widgets: ClassVar = {
            "procedure_code": forms.Select(choices=procedure_codes, attrs={"class": "long"}),
            "title": forms.TextInput(attrs={"class": "long"}),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _plain(self)

    def clean_procedure_code(self) -> str:
        """The edition's own key. An edition the register does not hold would cover nothing."""
        code = self.cleaned_data["procedure_code"].strip()
        try:
            return edition(code).key if code else ""
        except UnknownEdition as unknown:
            raise forms.ValidationError(str(unknown)) from None

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("application_standard") and not data.get("execution_class"):
            self.add_error(
                "execution_class", gettext("EN 1090-2 cannot be asked without an execution class; choose one.")
            )
        if data.get("impact_required") and data.get("impact_temperature_c") is None:
            self.add_error("impact_temperature_c", gettext("State the temperature at which toughness is required."))
        starts, ends = data.get("starts_on"), data.get("ends_on")
        if starts and ends and ends < starts:
            said = gettext("Welding ends before it starts; enter %(day)s or later.")
            self.add_error("ends_on", said % {"day": starts.isoformat()})
        if data.get("level") not in (None, "", 1, 2, "1", "2"):
            self.add_error("level", gettext("ISO 15614-1 has levels 1 and 2 only; enter one of them, or nothing."))
        return data


class AssemblyForm(forms.ModelForm):
    """An assembly of a job."""

    class Meta:
        model = Assembly
        fields = ("mark", "title", "kind")
        widgets: ClassVar = {"title": forms.TextInput(attrs={"class": "long"})}

    def clean_mark(self) -> str:
        """The mark, once in its job."""
        mark = self.cleaned_data["mark"]
        twin = Assembly.objects.filter(job=self.instance.job, mark=mark).exclude(pk=self.instance.pk).first()
        if twin is not None:
            raise forms.ValidationError(
                gettext("%(job)s has an assembly %(mark)s already.") % {"job": self.instance.job, "mark": mark}
            )
        return mark


STATIONS = ("final_workstation", "tack_workstation")


class JointFields(forms.ModelForm):
    """What all forms about a joint check; an empty choice says what it means."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _plain(self)
        for name, field in self.fields.items():
            if isinstance(field, forms.ModelChoiceField):
                field.empty_label = field.empty_label if name == "job" else NOT_STATED
        self._bound(self.instance.assembly.job if self.instance.assembly_id else None)

    def _bound(self, job: Job | None) -> None:
        for name in STATIONS:
            field = self.fields[name]
            field.queryset = stations_for(job)
            if job is None:
                field.label_from_instance = station_label

    def clean_grade_1(self) -> str:
        """A grade that the register knows."""
        return self._read("grade_1", cells.grade)

    def clean_grade_2(self) -> str:
        """A grade that the register knows."""
        return self._read("grade_2", cells.grade)

    def clean_final_process(self) -> str:
        """One process, or several joined by "+"."""
        return self._read("final_process", cells.processes)

    def clean_tack_process(self) -> str:
        """One process."""
        return self._read("tack_process", cells.processes)

    def _read(self, name: str, reader: Any) -> str:
        said = self.cleaned_data[name].strip()
        try:
            return reader(said) if said else ""
        except cells.BadCell as bad:
            raise forms.ValidationError(f"{bad}.") from None

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        throat, leg = data.get("throat_mm"), data.get("leg_mm")
        if throat and leg and contradict(throat, leg):
            self.add_error(
                "leg_mm",
                gettext("This leg gives a = %(leg)s mm, not %(throat)s mm. Keep one of the two.")
                % {"leg": mm(tenths(throat_of_leg(leg))), "throat": mm(throat)},
            )
        return data


class JointForm(JointFields):
    """A joint on file."""

    weld_date = DateField(label=_("To be welded on"), required=False)

    class Meta:
        model = Joint
        fields = [name for _, names in JOINT_PLAN for name in names]

    def clean_number(self) -> str:
        """The number, once in its assembly."""
        number = self.cleaned_data["number"]
        twins = Joint.every.filter(assembly=self.instance.assembly, number=number).exclude(pk=self.instance.pk)
        if twins.exists():
            raise forms.ValidationError(
                gettext("%(assembly)s has a joint %(number)s already.")
                % {"assembly": self.instance.assembly, "number": number}
            )
        return number


NOT_ASKED = (
    "number", "weld_date", "remarks", "length_mm", "preparation", "intermittent", "element_length_mm",
    "element_gap_mm", "tack_spacing_mm", "heat_1", "heat_2",
)  # fmt: skip
"""Fields of a joint that no procedure and no person is judged by."""


class AskForm(JointFields):
    """A joint that is not on file: only what is asked about it."""

    job = forms.ModelChoiceField(
        Job.objects.all(),
        required=False,
        empty_label=_("no job: ISO 15614-1:2017"),
        help_text=_("its requirements count"),
    )

    class Meta:
        model = Joint
        fields = [name for _, names in JOINT_PLAN for name in names if name not in NOT_ASKED]

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        job = data.get("job")
        for name in STATIONS if job is not None else ():
            station = data.get(name)
            if station is not None and station.plant_id != job.plant_id:
                self.add_error(
                    name,
                    gettext("%(station)s belongs to %(plant)s; %(job)s is welded at %(own)s. Choose one there.")
                    % {"station": station, "plant": station.plant, "job": told_within(str(job)), "own": job.plant},
                )
        return data


class WorkstationForm(forms.ModelForm):
    """A workstation."""

    processes = forms.MultipleChoiceField(
        choices=processes,
        widget=forms.CheckboxSelectMultiple(attrs={"class": "broad"}),
        label=_("Processes it runs"),
        required=False,
    )

    sheet_language = forms.ChoiceField(
        label=_("Sheets in"),
        required=False,
        choices=tuple(LANGUAGES.items()),
        help_text=_("the language at the machine"),
    )

    class Meta:
        model = Workstation
        fields = [name for _, names in STATION_PLAN for name in names]
        widgets: ClassVar = {"unit": forms.TextInput(attrs={"class": "long"})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _plain(self)

    def clean_sheet_language(self) -> str:
        """English where nothing is said."""
        return self.cleaned_data["sheet_language"] or "en"

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("kind") == "robotic_cell" and data.get("mechanisation") not in ("", None, "automatic"):
            self.add_error(
                "mechanisation", gettext("A robot welds automatically; a torch moved by hand belongs to another kind.")
            )
        first, last = data.get("rotator_from_deg"), data.get("rotator_to_deg")
        if (first is None) != (last is None):
            self.add_error(
                "rotator_to_deg" if last is None else "rotator_from_deg",
                gettext("State both ends of the rotator, or none where there is no rotator."),
            )
        elif first is not None and last is not None and last < first:
            self.add_error("rotator_to_deg", gettext("Less than where it turns from: state the lower end first."))
        return data


class UploadForm(forms.Form):
    """A list of welds, who sent it, what it claims to hold, and values for cells that it leaves empty."""

    file = forms.FileField(
        label=_("List or model"),
        help_text=format_lazy(
            _("CSV or XLSX up to {size} MB and {rows} rows; IFC4 or IFC4.3 up to 40 MB"),
            size=MAX_BYTES // 1024**2,
            rows=f"{MAX_ROWS:,}",
        ),
        widget=forms.ClearableFileInput(),
    )
    sender = forms.CharField(
        label=_("Sent by"),
        max_length=120,
        required=False,
        help_text=_("the firm: its headings are named once and known again"),
        widget=forms.TextInput(attrs={"list": "senders", "autocomplete": "off"}),
    )
    scope = forms.ChoiceField(
        label=_("It holds"),
        choices=ImportBatch.SCOPES,
        required=False,
        help_text=_("joints on file that it should hold and does not are marked as removed, never deleted"),
        widget=forms.Select(attrs={"class": "long"}),
    )
    final_process = forms.ChoiceField(label=_("Process"), choices=lambda: _blank(processes()), required=False)
    final_workstation = forms.ModelChoiceField(
        Workstation.objects.none(), label=_("Workstation"), required=False, to_field_name="name", empty_label=AS_LISTED
    )
    tack_process = forms.ChoiceField(choices=lambda: _blank(processes()), required=False)
    tack_workstation = forms.ModelChoiceField(
        Workstation.objects.none(), required=False, to_field_name="name", empty_label=AS_LISTED
    )
    position = forms.ChoiceField(choices=lambda: _blank(positions()), required=False)
    weld_date = DateField(label=_("To be welded on"), required=False)

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in STATIONS:
            self.fields[name].queryset = stations_for(job)  # type: ignore[attr-defined]

    def defaults(self) -> dict[str, str]:
        """What counts where a cell is empty, in plain form."""
        data = self.cleaned_data
        found = {name: data[name] for name in ("final_process", "tack_process", "position")}
        found |= {n: data[n].name for n in ("final_workstation", "tack_workstation") if data[n]}
        if data["weld_date"]:
            found["weld_date"] = data["weld_date"].isoformat()
        return {name: value for name, value in found.items() if value}


def _blank(choices: list[tuple[str, str]]) -> list[tuple[str, str]]:
    return [("", AS_LISTED), *choices]


UPLOAD_PLAN = (
    (_("What is sent in"), ("file", "sender", "scope")),
    (
        _("Where the list leaves a cell empty"),
        ("final_process", "final_workstation", "tack_process", "tack_workstation", "position", "weld_date"),
    ),
)
