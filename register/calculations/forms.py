"""The form of a calculation, made from its inputs: fields with units, and what was typed read into the answer."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext

from codes.calc.calculation import Calculation, Input, Kind
from codes.calc.inputs import arguments
from codes.calc.registry import calculate
from codes.calc.result import Refused, Result
from codes.parse import BadField, Plain
from codes.terms import both_names, tokens
from codes.units import System
from register.calculations.typed import AXES, ELEMENTS, ENDS, OF_A_COLUMN, field_names, plain_of, shown_unit
from register.judged_words import told, told_term
from register.own_units.words import sentence_in

HINTS = {
    Kind.NUMBERS: "figures parted by semicolons, such as 20; 20; 12",
    Kind.TERMS: "parted by blanks",
    Kind.PAIRS: "a pair on each line, its figures parted by a semicolon",
    Kind.LINES: "a line for each preheat, such as 100: 40 1.0; 60 1.6",
}
"""How a list is typed."""
IN_INCHES = "figures parted by semicolons, such as 0.75; 0.75; 0.5"
"""The same for a list of sizes in inches."""
PAIRED = {
    "arcs": "arc voltage [V] and welding current [A] of each",
    "segments": "thickness and length of each, the lengths together 75 mm",
    "lines": "preheat [°C], then pairs of combined thickness [mm] and heat input [kJ/mm]",
}
"""What the figures of a list are: those of a graph in the units of the standard that prints it."""
SEVERAL = ("no inches", "no millimetres", "no plate normals")
LONG = (Kind.PAIRS, Kind.LINES)
TOGETHER = (Kind.ANALYSIS, Kind.VECTOR)
"""What stands in several fields under one heading."""
CUT = 28
"""A choice of more letters is cut off in a field of half the width."""
PARTS = {"min": "least", "max": "greatest"}


class CalculationForm(forms.Form):
    """The inputs of a calculation. Once bound, `result`, or what is `missing` or `refused`, is known.

    Nothing is required by the browser: what is missing is said beside the answer, so that typing is not scolded.
    """

    use_required_attribute = False

    def __init__(self, asked: Calculation, system: System, texts: Mapping[str, str] | None = None) -> None:
        super().__init__(data=texts)
        self.asked, self.system, self.label_suffix = asked, system, ""
        for one in asked.inputs:
            for name in field_names(one):
                self.fields[name] = _field(one, name, system)
        self.result: Result | None = None
        self.missing: list[str] = []
        self.problems: dict[str, str] = {}
        self.plain: dict[str, Plain] = {}
        if texts is not None:
            self._answer(texts)

    @property
    def touched(self) -> bool:
        """True once anything is stated."""
        return bool(self.plain or self.problems)

    def _answer(self, texts: Mapping[str, str]) -> None:
        self._errors = forms.utils.ErrorDict()
        self.cleaned_data: dict[str, Any] = {}
        for one in self.asked.inputs:
            self._read(one, texts)
        self.missing = [
            told(one.label) for one in self.asked.inputs if one.needed == "always" and self.plain.get(one.name) is None
        ]
        if self.plain and not self.missing and not self.problems:
            try:
                self.result = calculate(self.asked.name, self.plain)
            except (BadField, Refused) as error:
                self._refuse(error.field, error.problem)

    def _read(self, one: Input, texts: Mapping[str, str]) -> None:
        plain = plain_of(one, texts, self.system)
        if plain is None:
            return
        self.plain[one.name] = plain
        try:
            arguments(self.asked.name, (one,), {one.name: plain})
        except BadField as error:
            self._refuse(error.field, error.problem)

    def _refuse(self, field: str, problem: str) -> None:
        """Say it at the field; what belongs to no single field is said above the form."""
        own = next((one for one in self.asked.inputs if one.name == field.partition("[")[0]), None)
        # What is typed in one unit system whoever types it (a column of a code) is refused in that.
        kept = self.system is System.SI or (own is not None and own.name.endswith(OF_A_COLUMN))
        problem = self._in_words(told(problem if kept else sentence_in(problem, System.US)))
        name = field.replace(".", "_")
        for at, part in enumerate(AXES if own is not None and own.kind is Kind.VECTOR else ENDS):
            name = name.replace(f"[{at}]", f"_{part}")
        known = next((n for n in (name, field.partition("[")[0].partition(".")[0]) if n in self.fields), None)
        if known is None and field in {one.name for one in self.asked.inputs}:
            spread = field_names(self.asked.input(field))
            known = "assumed_zero" if "assumed_zero" in self.fields and field == "analysis" else spread[0]
        self.problems[known or ""] = problem
        self._errors.setdefault(known or forms.forms.NON_FIELD_ERRORS, self.error_class()).append(problem)

    def _in_words(self, problem: str) -> str:
        """The names of inputs as people read them."""
        for one in self.asked.inputs:
            if "_" in one.name:
                problem = problem.replace(one.name, f"“{told(one.label)}”")
        return problem

    @property
    def refusals(self) -> list[tuple[str, str]]:
        """What is wrong with each entry, under the label of its field; "" for what belongs to none."""
        labels = {name: str(field.label).partition(" [")[0] for name, field in self.fields.items()}
        for one in self.asked.inputs:
            if one.kind is Kind.VECTOR:
                labels |= {name: f"{told(one.label)}, {labels[name]}" for name in field_names(one)}
        return [(labels.get(name, ""), problem) for name, problem in self.problems.items()]

    @property
    def sections(self) -> list[tuple[str, list[BoundField]]]:
        """The fields; an analysis stands under a heading of its own before them, the parts of a vector behind them."""
        loose: list[BoundField] = []
        before: list[tuple[str, list[BoundField]]] = []
        behind: list[tuple[str, list[BoundField]]] = []
        for one in self.asked.inputs:
            fields = [self[name] for name in field_names(one)]
            if one.kind is Kind.ANALYSIS:
                before.append((f"{told(one.label)}, {told('mass %')}; {told(one.help.partition(', ')[2])}", fields))
            elif one.kind is Kind.VECTOR:
                behind.append((": ".join(filter(None, (told(one.label), _said_of(one)))), fields))
            else:
                loose += fields
        return [*before, *([(gettext("Stated"), loose)] if loose else []), *behind]


def _field(one: Input, name: str, system: System) -> forms.Field:
    label, hint = _label(one, name, system), _hint(one, name)
    if system is System.US:
        hint = sentence_in(hint, system)
        if one.kind is Kind.NUMBERS and shown_unit(one, system) == "in":
            hint = hint.replace(told(HINTS[Kind.NUMBERS]), told(IN_INCHES))
    if one.kind is Kind.TERM or one.kind is Kind.YES_NO:
        choices = _choices(one)
        broad = any(len(words) > CUT for _, words in choices)
        select = forms.Select(attrs={"class": "long"} if broad else {})
        return forms.ChoiceField(label=label, help_text=hint, required=False, choices=choices, widget=select)
    widget: forms.Widget = forms.TextInput(attrs={"autocomplete": "off", **_keyboard(one)})
    if one.kind in LONG:
        widget = forms.Textarea(attrs={"rows": 4, "autocomplete": "off"})
    return forms.CharField(label=label, help_text=hint, required=False, widget=widget)


def _keyboard(one: Input) -> dict[str, str]:
    return {"inputmode": "decimal"} if one.kind in (Kind.NUMBER, Kind.RANGE, Kind.ANALYSIS) else {}


def _label(one: Input, name: str, system: System) -> str:
    part = name.removeprefix(one.name).lstrip("_")
    if one.kind in TOGETHER:
        return part
    unit = shown_unit(one, system)
    said = f"{told(one.label)}, {told(PARTS.get(part, part))}" if part else told(one.label)
    return f"{said} [{unit}]" if unit else said


def _hint(one: Input, name: str) -> str:
    return "" if one.kind in TOGETHER else _said_of(one)


def _said_of(one: Input) -> str:
    """What it is, how it is typed, and when it must be stated."""
    help_text = PAIRED.get(one.name, "" if "[" in one.help else one.help)
    help_text = "" if one.kind is Kind.RANGE else help_text
    need = "" if one.needed == "always" else _need(one.needed) if one.needed else "may stay empty"
    return "; ".join(map(told, filter(None, (help_text, HINTS.get(one.kind, ""), need))))


def _need(when: str) -> str:
    """When an input must be stated. Example: "no travel speed" is "needed where no travel speed is stated"."""
    if when.startswith("no "):
        none = when.replace(" and ", " or ")
        return f"needed where {none} {'are' if none in SEVERAL else 'is'} stated"
    return f"needed {'where' if when.endswith('ed') or when.startswith('not ') else 'for'} {when}"


def _choices(one: Input) -> list[tuple[str, str]]:
    if one.kind is Kind.YES_NO:
        return [("", gettext("not stated")), ("yes", gettext("yes")), ("no", gettext("no"))]
    if one.vocabulary:
        names = ((token, told_term(both_names(one.vocabulary, token))) for token in tokens(one.vocabulary))
        return [("", gettext("not stated")), *names]
    return [("", gettext("not stated")), *((token, told(words)) for token, words in one.options.items())]


__all__ = ["ELEMENTS", "CalculationForm"]
