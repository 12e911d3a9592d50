"""Forms: sections, and the guard against two people saving the same thing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django import forms
from django.db import models
from django.forms import BoundField
from django.forms.widgets import ChoiceWidget
from django.http import QueryDict
from django.utils.translation import gettext, gettext_lazy

from codes.parse import EARLIEST, LATEST
from codes.values import number
from register.base.figures import read_by_us
from register.base.unseen import UNSEEN

NOT_ON_FILE = frozenset({"reason"})
"""Entries that are said of a change, not of the thing."""
PUT_BACK = "put_back"
"""The entry by which kept.js asks for a form as it was sent, where the sign-in had ended: nothing is saved."""
SEEN = "seen_version"
"""Name of the hidden entry that says which version the form was opened on."""

DASHES = "---------"
REMEDIES = {
    "max_length": gettext_lazy("At most %(limit_value)d characters; this has %(show_value)d."),
    "max_decimal_places": gettext_lazy("At most %(max)s places behind the point are kept; round it."),
}
"""What an entry says that is too long, by Django's codes; it knows no remedy."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Somebody else saved in between: who, when, and the fields in which theirs and yours differ."""

    who: str
    when: datetime | None
    rows: tuple[tuple[str, str, str], ...]


def version_of(thing: models.Model | None) -> str:
    """A text that changes whenever the row is saved: its `changed_at`. Empty for a row that is not saved yet."""
    if thing is None or thing.pk is None:
        return ""
    changed: datetime | None = getattr(thing, "changed_at", None)
    return changed.isoformat() if changed else ""


def clash(form: forms.ModelForm, current: models.Model) -> Clash:
    """Both versions, field by field: what is on file now, and what the form would save.

    A form of its own kind says the differences itself: `differences(current)` gives (label, theirs, yours).
    """
    own = getattr(form, "differences", None)
    if own is not None:
        return Clash(_who(current), getattr(current, "changed_at", None), tuple(own(current)))
    rows = []
    for name, field in form.fields.items():
        if name in NOT_ON_FILE:
            continue
        # What is kept inside a column of the row, such as a test piece: the form was filled from the row on file.
        theirs = (
            form._meta.model._meta.get_field(name).value_from_object(current)
            if _stored(form, name)
            else form.get_initial_for_field(field, name)
        )
        yours = form.cleaned_data.get(name)
        if said(field, theirs) != said(field, yours):
            rows.append((str(form[name].label), said(field, theirs), said(field, yours)))
    return Clash(_who(current), getattr(current, "changed_at", None), tuple(rows))


def said(field: forms.Field, value: Any) -> str:
    """A value in the words of its field: the label of a choice, yes or no, a list with commas."""
    if value is None or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return number(value)
    if isinstance(value, dict):
        return " ".join(said(field, part) for part in value.values() if part)
    if isinstance(value, list | tuple | set | models.QuerySet):
        return ", ".join(said(field, part) for part in value)
    if isinstance(field, forms.ModelChoiceField):
        known = value if isinstance(value, models.Model) else field.queryset.filter(pk=value).first()
        return str(known or value)
    labels = dict(_flat(getattr(field, "choices", ())))
    return str(labels.get(value, labels.get(str(value), value)))


def sections(form: forms.BaseForm, plan: Sequence[tuple[str, Sequence[str]]]) -> list[tuple[str, list[BoundField]]]:
    """The fields of a form under headings. What the plan leaves out comes last, under "More".

    Example: sections(form, [("Who", ["name", "stamp"]), ("When", ["tested_on"])]).
    """
    planned = [(heading, [form[name] for name in names if name in form.fields]) for heading, names in plan]
    used = {name for _, names in plan for name in names}
    rest = [field for field in form.visible_fields() if field.name not in used]
    return [part for part in [*planned, ("More", rest)] if part[1]]


def prepared(form: forms.BaseForm) -> forms.BaseForm:
    """The form as people meet it: dates with the browser's calendar, figures read by us, and messages with the remedy.

    A message or widget that the form chose itself stays.
    """
    read_by_us(form)
    if form.is_bound:
        form.data = legible(form.data)
    general = forms.Field.default_error_messages["required"]
    for field in form.fields.values():
        if field.error_messages.get("required") == general:
            field.error_messages["required"] = _missing(field)
            if isinstance(field, forms.FileField):
                field.error_messages["empty"] = gettext("The file holds nothing; save it again and send that one.")
        _say_what_empty_means(field)
        for code, remedy in REMEDIES.items():
            field.error_messages.setdefault(code, remedy)
        if isinstance(field, forms.EmailField):
            field.error_messages["invalid"] = gettext(
                "This is not an e-mail address; write for example name@firm.example."
            )
        if type(field.widget) is forms.DateInput and field.widget.input_type == "text":
            field.widget.input_type, field.widget.format = "date", "%Y-%m-%d"
    return form


def _say_what_empty_means(field: forms.Field) -> None:
    """Words in place of Django's row of dashes."""
    words = gettext_lazy("choose one") if field.required else gettext_lazy("not stated")
    if isinstance(field, forms.ModelChoiceField):
        if field.empty_label == DASHES:
            field.empty_label = words
    elif isinstance(field, forms.ChoiceField) and not callable(field.choices):
        field.choices = [(value, words if (value, label) == ("", DASHES) else label) for value, label in field.choices]


def legible(data: Any) -> Any:
    """What was typed without the signs that nobody sees: marks of direction, spaces of no width, control characters.

    They come along when text is copied, and make two names of what reads as one. Passwords stay as they are.
    """
    if not isinstance(data, QueryDict):
        return data
    found = data.copy()
    for name in found:
        if "password" not in name:
            found.setlist(
                name, [UNSEEN.sub("", typed) if isinstance(typed, str) else typed for typed in found.getlist(name)]
            )
    return found


def _missing(field: forms.Field) -> str:
    """What an entry says that must not stay empty."""
    if isinstance(field.widget, forms.CheckboxInput):
        return gettext("Missing; tick the box if it is so.")
    if isinstance(field.widget, forms.CheckboxSelectMultiple | forms.SelectMultiple):
        return gettext("Missing; tick at least one.")
    if isinstance(field.widget, ChoiceWidget):
        return gettext("Missing; choose one.")
    return gettext("Missing; choose a file.") if isinstance(field, forms.FileField) else gettext("Missing; enter it.")


NO_DATE = gettext_lazy("This is not a date: write year-month-day, such as 2026-03-01.")


class DateField(forms.DateField):
    """A date with the browser's own calendar, written and read as year-month-day, from 1900 to 2199."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("input_formats", ["%Y-%m-%d", "%d.%m.%Y"])
        super().__init__(**kwargs)
        self.error_messages["invalid"] = NO_DATE

    def to_python(self, value: Any) -> date | None:
        """Raises ValidationError for what is no date, and for a year that is a slip of the keyboard."""
        found: date | None = super().to_python(value)
        if found is not None and not EARLIEST <= found <= LATEST:
            raise forms.ValidationError(
                gettext("The year %(year)s is a slip of the keyboard; dates from 1900 to 2199 are read.")
                % {"year": f"{found.year:04}"}
            )
        return found


def _stored(form: forms.ModelForm, name: str) -> bool:
    return any(f.name == name for f in form._meta.model._meta.get_fields() if f.concrete)


def _flat(choices: Iterable[Any]) -> Iterable[tuple[Any, Any]]:
    for value, label in choices:
        if isinstance(label, list | tuple):
            yield from label
        else:
            yield value, label


def _who(current: models.Model) -> str:
    """The name of whoever saved the version on file, as its history keeps it."""
    history = getattr(current, "history", None)
    last = history.first() if history is not None else None
    return getattr(last, "history_user_name", "") if last else ""
