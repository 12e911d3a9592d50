"""Entries for figures. They are text, read by us: a number box of a browser drops what it does not know while it is
typed, so that "1,5" turns into 15, "−5" into 5 and "12 mm" into 12 without a word.
"""

import re
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext

from codes.amounts import amount
from codes.parse import LIMIT_OF_DIGITS, LIMIT_OF_NUMBER
from codes.values import number

DECIMAL = {"inputmode": "decimal", "autocomplete": "off"}
WHOLE = {"inputmode": "numeric", "autocomplete": "off"}
BOX = frozenset({"step", "min", "max"})
"""What only a number box of the browser reads."""
_UNIT = re.compile(r"\[([^\[\]]+)\]$")


class Figure(forms.DecimalField):
    """A figure with point or comma, with or without its unit, US customary too. `unit`: the SI unit it is kept in.

    Example: with unit "mm" and three places "3/8 in" is 9.525 and "5/16 in" is 7.938.
    """

    widget = forms.TextInput(attrs=DECIMAL)

    def __init__(self, *, unit: str = "", **kwargs: Any) -> None:
        self.unit = unit
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> Decimal | None:
        """Raises ValidationError with the remedy."""
        if value in self.empty_values or not str(value).strip():
            return None
        found, places = read(value, self.unit), self.decimal_places
        is_converted = str(found) != str(value).strip().replace(",", ".")
        return found.quantize(Decimal(1).scaleb(-places)) if is_converted and _longer(found, places) else found

    def prepare_value(self, value: Any) -> Any:
        return number(value) if isinstance(value, Decimal) else value


class WholeNumber(forms.IntegerField):
    """A whole number as it is written, without a number box."""

    widget = forms.TextInput(attrs=WHOLE)

    def to_python(self, value: Any) -> int | None:
        """Raises ValidationError with the remedy."""
        if value in self.empty_values or not str(value).strip():
            return None
        found = read(value, "")
        if found != int(found):
            raise forms.ValidationError(
                gettext("%(value)s is no whole number; write for example 2.") % {"value": number(found)}
            )
        return int(found)


def read(value: object, unit: str) -> Decimal:
    """What was typed, in the SI unit. Raises ValidationError that says what would be right."""
    try:
        found = amount(value, unit)
    except ValueError as error:
        raise forms.ValidationError(sentence(str(error))) from None
    if not found.is_finite() or abs(found) >= LIMIT_OF_NUMBER:
        raise forms.ValidationError(
            gettext("“%(value)s” is no usable figure; write one below a million.") % {"value": str(value)[:40]}
        )
    # Written out, 1e-999999999 is a text of a thousand million noughts.
    if len(found.as_tuple().digits) > LIMIT_OF_DIGITS or int(found.as_tuple().exponent) < -LIMIT_OF_DIGITS:
        raise forms.ValidationError(
            gettext("“%(value)s” has more figures than can be measured; round it.") % {"value": str(value)[:40]}
        )
    return found


def read_by_us(form: forms.BaseForm) -> None:
    """Put entries of ours in place of those that Django would give a number box."""
    for name, field in form.fields.items():
        if type(field) is forms.DecimalField:
            unit = _UNIT.search(str(field.label or ""))
            own = Figure(
                unit=unit[1] if unit else "", max_digits=field.max_digits, decimal_places=field.decimal_places,
                **_as_before(field),
            )  # fmt: skip
        elif type(field) is forms.IntegerField and type(field.widget) is forms.NumberInput:
            own = WholeNumber(**_as_before(field))
        else:
            continue
        own.widget.attrs |= {key: said for key, said in field.widget.attrs.items() if key not in BOX}
        own.error_messages |= {key: said for key, said in field.error_messages.items() if key != "invalid"}
        form.fields[name] = own


def sentence(problem: str) -> str:
    """A problem as a sentence. Example: "must be a word" is "Must be a word."."""
    said = problem.strip()
    return f"{said[:1].upper()}{said[1:]}" + ("" if said.endswith((".", "!", "?", "…")) else ".")


def _as_before(field: forms.DecimalField | forms.IntegerField) -> dict[str, Any]:
    names = ("required", "label", "help_text", "initial", "disabled", "min_value", "max_value")
    return {name: getattr(field, name) for name in names}


def _longer(value: Decimal, places: int | None) -> bool:
    return places is not None and -int(value.as_tuple().exponent) > places
