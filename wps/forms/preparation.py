"""The part of a procedure's form that the sketch is drawn from: how the parts meet, their edges and sizes."""

from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.parse import BadField
from codes.values import number
from register.base.figures import sentence
from wps.forms.us_figures import figure
from wps.forms.widgets import Number
from wps.preparation import KINDS, NUMBERS, TEXTS
from wps.sketch import Arrangement
from wps.sketch.preparation import WORDS

PREP = "prep_"
SIDES = (("", _("as usual for the joint")), ("1", _("one side")), ("2", _("both sides")))
ARRANGEMENTS = (("", _("as the joint type says")), *((one.value, WORDS[one]) for one in Arrangement))
THICKNESSES = (("t1_mm", _("Drawn thickness t1, mm")), ("t2_mm", _("Drawn thickness t2, mm")))
DRAWN = _("of the part that stands or is prepared; left open, the drawing takes it from the range of thickness")


class FigureField(forms.CharField):
    """A figure of the preparation, kept as text."""

    widget = Number

    def __init__(self, *args: Any, unit: str = "", **kwargs: Any) -> None:
        self.unit = unit
        super().__init__(*args, **kwargs)

    def to_python(self, value: Any) -> str:
        if value in self.empty_values:
            return ""
        try:
            return number(figure(value, self.unit))
        except BadField as bad:
            raise forms.ValidationError(sentence(bad.problem)) from None


def preparation_fields(known: dict[str, Any]) -> dict[str, forms.Field]:
    """The fields by name, each with what is on file."""
    found: dict[str, forms.Field] = {
        "arrangement": forms.ChoiceField(label=gettext("How the parts meet"), choices=ARRANGEMENTS, required=False),
        "kind": forms.ChoiceField(label=gettext("Preparation"), choices=[("", ""), *KINDS], required=False),
        "sides": forms.ChoiceField(label=gettext("Welded from"), choices=SIDES, required=False),
    }
    for name, label in (*NUMBERS, *THICKNESSES):
        found[name] = FigureField(label=label, required=False, unit="mm" if name.endswith("_mm") else "")
    found["t1_mm"].help_text = DRAWN
    for name, label, help_text in TEXTS:
        found[name] = forms.CharField(label=label, help_text=help_text, required=False, max_length=200)
    for name, field in found.items():
        field.initial = known.get(name)
    return {PREP + name: field for name, field in found.items()}


def drawn_fields(form: forms.Form) -> list[BoundField]:
    """The fields that change the drawing."""
    texts = {PREP + name for name, *_ in TEXTS}
    return [form[name] for name in form.fields if name.startswith(PREP) and name not in texts]


def written_fields(form: forms.Form) -> list[BoundField]:
    """The fields in words."""
    texts = [PREP + name for name, *_ in TEXTS]
    return [form[name] for name in form.fields if name in texts]
