"""Rows of runs: the ranges of a procedure's runs, and what was measured on a test piece."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.safestring import SafeString
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.parse import BadField
from codes.terms import both_names, tokens
from codes.values import Interval, number
from register.base.figures import sentence
from register.judged_words import told, told_term
from wps.forms.row_errors import in_words, linked
from wps.forms.us_figures import figure
from wps.forms.widgets import Number
from wps.models import ProcedureRevision, ProcedureRun
from wps.runs import RANGES, heats_of

MORE_ROWS = 3
NUMBERS = tuple(f.name for f in ProcedureRun._meta.concrete_fields if f.get_internal_type() == "DecimalField")
"""The fields of a run that hold a figure."""


class DecimalField(forms.DecimalField):
    """A figure with decimal point or comma, 0 or more; `unit`: the SI unit that a US figure is turned into."""

    widget = Number
    unit = ""

    def to_python(self, value: Any) -> Decimal | None:
        if value in self.empty_values:
            return None
        try:
            return super().to_python(self._figure(value))
        except BadField as bad:
            raise forms.ValidationError(sentence(bad.problem)) from None

    def _figure(self, value: Any) -> Decimal:
        """What was typed, a US figure in SI to as many places as are kept."""
        found, places = figure(value, self.unit), self.decimal_places
        is_typed_in_si = str(found) == str(value).strip().replace(",", ".")
        return found if places is None or is_typed_in_si else found.quantize(Decimal(1).scaleb(-places))

    def prepare_value(self, value: Any) -> Any:
        return number(value) if isinstance(value, Decimal) else value


class RunForm(forms.ModelForm):
    """One run or layer."""

    process = forms.ChoiceField(required=False)
    current_type = forms.ChoiceField(required=False)

    class Meta:
        model = ProcedureRun
        exclude = ("revision", "order")
        field_classes = dict.fromkeys(NUMBERS, DecimalField)
        widgets = dict.fromkeys(NUMBERS, Number)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["process"].choices = _terms("process")
        self.fields["current_type"].choices = _terms("current_type")
        for name, field in self.fields.items():
            if isinstance(field, DecimalField):
                field.unit = next((unit for end, unit in UNITS if name.endswith(end)), "")
            field.label = NAMES.get(name, field.label)
            field.widget.attrs["aria-label"] = told(str(field.label))

    def clean(self) -> dict[str, Any]:
        """A range must not run backwards."""
        cleaned = super().clean() or {}
        for lo, hi, label in ENDS:
            first, last = cleaned.get(lo), cleaned.get(hi)
            if first is not None and last is not None and first > last:
                self.add_error(
                    hi,
                    gettext("%(label)s %(last)s lies below %(first)s.")
                    % {"label": told(label), "last": number(last), "first": number(first)},
                )
        return cleaned

    @property
    def cells(self) -> Iterator[tuple[str, list[BoundField]]]:
        """The columns of a run as it is entered: what a phone calls them, and the two fields of each."""
        for first, second, names in CELLS:
            yield (str(first) if second == FROM_TO else f"{first}, {second}"), [self[name] for name in names]

    @property
    def columns(self) -> int:
        """How many columns a run takes."""
        return len(CELLS)

    @property
    def is_blank(self) -> bool:
        """True where nothing at all is stated."""
        return not any(self.cleaned_data.get(name) not in (None, "") for name in self.fields)


UNITS = (("_mm_min", "mm/min"), ("_m_min", "m/min"), ("_l_min", "l/min"), ("_mm", "mm"), ("_a", "A"), ("_v", "V"))
"""How the name of a field of a run ends, and its unit."""
ENDS = tuple((lo, hi, name.replace("_", " ").capitalize()) for name, lo, hi, _ in RANGES)
NAMES = {
    "layer": "run or layer", "process": "process", "filler_designation": "filler", "diameter_mm": "filler diameter, mm",
    "current_type": "current and polarity", "current_min_a": "current from, A", "current_max_a": "current to, A",
    "voltage_min_v": "voltage from, V", "voltage_max_v": "voltage to, V", "speed_min_mm_min": "speed from, mm/min",
    "speed_max_mm_min": "speed to, mm/min", "wire_feed_min_m_min": "wire feed from, m/min",
    "wire_feed_max_m_min": "wire feed to, m/min", "gas_flow_min_l_min": "gas flow from, l/min",
    "gas_flow_max_l_min": "gas flow to, l/min", "note": "note",
}  # fmt: skip
FROM_TO = _("from, to")
CELLS = (
    (_("Run or layer"), _("note"), ("layer", "note")),
    (_("Process"), _("polarity"), ("process", "current_type")),
    (_("Filler"), _("⌀, mm"), ("filler_designation", "diameter_mm")),
    (_("Current, A"), FROM_TO, ("current_min_a", "current_max_a")),
    (_("Voltage, V"), FROM_TO, ("voltage_min_v", "voltage_max_v")),
    (_("Speed, mm/min"), FROM_TO, ("speed_min_mm_min", "speed_max_mm_min")),
    (_("Wire feed, m/min"), FROM_TO, ("wire_feed_min_m_min", "wire_feed_max_m_min")),
    (_("Gas, l/min"), FROM_TO, ("gas_flow_min_l_min", "gas_flow_max_l_min")),
)
"""Two fields to a column, one below the other: their two heads and their names. Side by side they are too wide."""


def _terms(vocabulary: str) -> list[tuple[str, str]]:
    return [("", ""), *((token, told_term(both_names(vocabulary, token))) for token in tokens(vocabulary))]


class RunRows:
    """All rows of runs on a form, in their order, with some empty ones below. Blank rows are left out on saving."""

    def __init__(self, data: Mapping[str, Any] | None, revision: ProcedureRevision) -> None:
        known = list(revision.runs.all()) if revision.pk else []
        self.data = data
        count = _count(data) if data is not None else len(known) + MORE_ROWS
        self.forms = [self._form(at, known) for at in range(count)]
        self.count = count

    def _form(self, at: int, known: list[ProcedureRun]) -> RunForm:
        if self.data is not None:
            return RunForm(self.data, prefix=f"run{at}", instance=ProcedureRun())
        return RunForm(prefix=f"run{at}", instance=known[at] if at < len(known) else ProcedureRun())

    @property
    def heads(self) -> list[tuple[Any, Any]]:
        """The two lines of each head."""
        return [(first, second) for first, second, _ in CELLS]

    def is_valid(self) -> bool:
        """True where every row can be read."""
        return all(form.is_valid() for form in self.forms)

    @property
    def errors(self) -> list[str]:
        """What is wrong, row by row."""
        return in_words(self.forms)

    @property
    def links(self) -> list[SafeString]:
        """The same, each leading to its cell."""
        return linked(self.forms)

    @property
    def heats(self) -> list[tuple[ProcedureRun, Interval | None]]:
        """The runs on file with their heat input, for a form that was just opened."""
        known = [form.instance for form in self.forms if form.instance.pk]
        if not known:
            return []
        of = known[0].revision
        return heats_of(known, of.code, of.window, of.process_windows)

    def runs(self, revision: ProcedureRevision) -> list[ProcedureRun]:
        """The stated runs, numbered from 1, not saved. Rows that cannot be read are left out."""
        stated = [form for form in self.forms if form.is_valid() and not form.is_blank]
        for order, form in enumerate(stated, start=1):
            form.instance.order, form.instance.revision = order, revision
        return [form.instance for form in stated]

    def save(self, revision: ProcedureRevision) -> None:
        """Put these runs in the place of those on file."""
        runs = self.runs(revision)
        for old in revision.runs.all():
            old.delete()
        for run in runs:
            run.pk = None
            run.save(force_insert=True)


def _count(data: Mapping[str, Any]) -> int:
    """How many rows were sent; at most 60, which no joint needs."""
    text = str(data.get("run_count", "0"))
    return min(int(text), 60) if text.isdecimal() and len(text) < 4 else 0
