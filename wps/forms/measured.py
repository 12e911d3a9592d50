"""What was measured run by run on a test piece, and the results of its tests, as plain text in JSON."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from codes.parse import BadField
from codes.values import number
from register.judged_words import told
from wps.forms.row_errors import in_words, linked
from wps.forms.us_figures import figure
from wps.forms.widgets import Number

FIGURES = (
    ("filler_diameter_mm", "filler, mm"),
    ("current_a", "current, A"),
    ("voltage_v", "voltage, V"),
    ("speed_mm_min", "speed, mm/min"),
    ("wire_feed_m_min", "wire feed, m/min"),
    ("gas_flow_l_min", "gas flow, l/min"),
    ("heat_kj_mm", "heat, kJ/mm"),
)
WORDS = (("run", "run"), ("process", "process"))
COLUMNS = (*WORDS, *FIGURES)
"""Key in the JSON and heading; a figure is one number or a range such as 180-200."""

UNITS = {key: head.rpartition(", ")[2] for key, head in FIGURES}


def unit_of_head(key: str) -> str:
    """The SI unit of a column, "" for words. Example: "speed_mm_min" is in "mm/min"."""
    return UNITS.get(key, "")


METHODS = (
    ("visual", "Visual (VT)"),
    ("surface", "Surface cracks (PT or MT)"),
    ("volume", "Volume (RT or UT)"),
    ("tensile", "Transverse tensile"),
    ("bend", "Transverse bend"),
    ("impact", "Impact"),
    ("hardness", "Hardness HV10"),
    ("macro", "Macro"),
    ("fracture", "Fracture"),
    ("micro", "Micro section"),
    ("cruciform", "Cruciform tensile (ISO 9018)"),
)
"""Key in the JSON and what the record calls the test."""

MORE_ROWS = 3
THOUSANDTH = Decimal("0.001")
_RANGE = re.compile(r"\s*([\d.,]+)\s*(?:[-–−]|to)\s*([\d.,]+)\s*([^\d\s/].*)?")
"""Not "1-1/2 in": there the hyphen joins a whole number to its fraction."""


class MeasuredField(forms.CharField):
    """A figure or a range of two in the SI unit of its column, kept as text; a US figure with its unit is turned."""

    widget = Number

    def __init__(self, *, unit: str = "", **kwargs: Any) -> None:
        self.unit = unit
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> str:
        if value in self.empty_values:
            return ""
        parts = _RANGE.fullmatch(str(value))
        lo, hi, written = parts.groups("") if parts else (str(value), "", "")
        try:
            found = [_in_si(f"{part} {written}", self.unit) for part in (lo, hi) if part]
        except BadField as bad:
            raise forms.ValidationError(
                gettext("%(problem)s, or a range such as 180-200.") % {"problem": bad.problem}
            ) from None
        if len(found) == 2 and found[0] > found[1]:
            raise forms.ValidationError(
                gettext("%(found)s lies below %(found2)s.") % {"found": number(found[1]), "found2": number(found[0])}
            )
        return " to ".join(number(figure) for figure in found)


class MeasuredForm(forms.Form):
    """One run of a test piece."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, label in WORDS:
            self.fields[name] = forms.CharField(label=label, required=False, max_length=60)
        for name, label in FIGURES:
            self.fields[name] = MeasuredField(label=label, required=False, unit=unit_of_head(name))
        for field in self.fields.values():
            field.widget.attrs["aria-label"] = told(str(field.label))

    @property
    def columns(self) -> int:
        """How many columns a run takes."""
        return len(COLUMNS)

    @property
    def stated(self) -> dict[str, str]:
        """What the row states."""
        return {name: value for name, value in self.cleaned_data.items() if value}


class MeasuredRows:
    """All rows, with some empty ones below."""

    def __init__(self, data: Mapping[str, Any] | None, known: list[dict[str, str]]) -> None:
        count = _count(data) if data is not None else len(known) + MORE_ROWS
        self.count = count
        self.forms = [
            MeasuredForm(data, prefix=f"run{at}", initial=known[at] if at < len(known) else None) for at in range(count)
        ]

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

    def rows(self) -> list[dict[str, str]]:
        """The stated rows in order."""
        return [form.stated for form in self.forms if form.is_valid() and form.stated]


def _in_si(typed: str, unit: str) -> Decimal:
    """A figure of a column, what was turned from a US unit to the thousandth."""
    found = figure(typed, unit)
    return found if int(found.as_tuple().exponent) >= -9 else found.quantize(THOUSANDTH)


def _count(data: Mapping[str, Any]) -> int:
    text = str(data.get("run_count", "0"))
    return min(int(text), 60) if text.isdecimal() and len(text) < 4 else 0
