"""Test pieces on a form: a field for each variable that the edition's record states, read by the code's parser."""

import re
from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _

from codes.editions import Edition, Field
from codes.parse import BadField, Plain, parse_value, to_plain
from codes.terms import both_names, tokens
from codes.values import Value
from codes.variables import VARIABLES, Kind, Variable
from register.base.figures import sentence
from register.judged_words import told_term

PIECES_AT_MOST = 6
STEEL = re.compile(r"^(?P<group>\d{1,2}(?:\.\d)?)?\s*(?P<grade>[A-Za-z].*)?$")


class TestedField(forms.Field):
    """A tested variable. Its clean value is in the plain form of `codes.parse`, None where nothing is stated."""

    def __init__(self, stated: Field, **kwargs: Any) -> None:
        self.stated = stated
        self.variable: Variable = stated.variable
        unit = f" [{self.variable.unit}]" if self.variable.unit else ""
        kwargs.setdefault("label", f"{stated.label or self.variable.label}{unit}")
        kwargs.setdefault("help_text", hint(stated))
        # "Required" is what the label says; a certificate is kept without it, and its range then says what is missing.
        super().__init__(required=stated.needed == "always", widget=widget(stated), **kwargs)

    def clean(self, value: Any) -> Plain:
        """Raises ValidationError in the parser's own words."""
        try:
            found = parse_value(self.variable, self._parts(value))
        except BadField as bad:
            raise forms.ValidationError(sentence(bad.problem)) from None
        return None if found is None else to_plain(found)

    def prepare_value(self, value: Any) -> Any:
        """The plain form as the input shows it."""
        if self.variable.kind is Kind.STEELS:
            return steels_text(value)
        return self._separator.join(str(part) for part in value) if isinstance(value, list) else value

    def _parts(self, value: Any) -> Plain:
        text = str(value or "").strip()
        if self.variable.kind is Kind.STEELS:
            return read_steels(self.variable.name, text)
        separator = self._separator.strip()
        if self.stated.many and separator in text:
            return [part.strip() for part in text.split(separator) if part.strip()]
        return text

    @property
    def _separator(self) -> str:
        # Names of consumables hold slashes of their own.
        return "; " if self.variable.kind is Kind.TEXT else "/"


class TermsInput(forms.TextInput):
    """Several terms in their order, such as 141/111, with the known terms offered while typing."""

    def __init__(self, name: str, terms: list[tuple[str, str]]) -> None:
        self.list_id, self.terms = f"terms-{name}", terms
        super().__init__(attrs={"list": self.list_id, "autocomplete": "off"})

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        """The input and its list of terms; the list is the page's own for each input."""
        own = f"{self.list_id}-{name}"
        options = format_html_join(
            "", '<option value="{}">{}</option>', ((token, told_term(term)) for token, term in self.terms)
        )
        box = super().render(name, value, (attrs or {}) | {"list": own}, renderer)
        return format_html('{}<datalist id="{}">{}</datalist>', box, own, options)


def widget(stated: Field) -> forms.Widget:
    """A choice for one term, an input that offers the terms where several may be stated, an input for the rest."""
    variable = stated.variable
    if variable.kind is Kind.TERM:
        terms = [(token, both_names(variable.vocabulary, token)) for token in tokens(variable.vocabulary)]
        if stated.many:
            return TermsInput(stated.name, terms)
        return forms.Select(choices=[("", _("not stated")), *terms])
    if variable.kind is Kind.DATE:
        return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    return forms.TextInput(attrs={"inputmode": "decimal"} if variable.kind is Kind.NUMBER else {})


def hint(stated: Field) -> str:
    """What stands below the entry: how it is written, when it is needed, and the clause."""
    condition = stated.needed if stated.needed not in ("always", "") else ""
    parts = [stated.help or stated.variable.help, f"needed for: {condition}" if condition else ""]
    if stated.variable.kind is Kind.STEELS:
        parts.insert(0, "group and grade, such as 1.2 S355J2; two different ones with a plus")
    elif stated.many:
        parts.append("several: with a semicolon" if stated.variable.kind is Kind.TEXT else "several: with a slash")
    # A table, an annex or a paragraph of ASME names itself.
    parts.append(f"clause {stated.clause}" if stated.clause[:1].isdigit() else stated.clause)
    return " ".join(f"{part[:1].upper()}{part[1:].rstrip('.')}." for part in parts if part)


def read_steels(name: str, text: str) -> Plain:
    """Parent materials as typed. Raises BadField. Example: "1.2 S355J2 + 8.1" is a pair."""
    if not text:
        return None
    found: list[Plain] = []
    for part in text.split("+"):
        match = STEEL.match(part.strip())
        if match is None or not part.strip():
            raise BadField(name, f'"{part.strip()}" is not a steel; write group and grade, such as 1.2 S355J2')
        found.append({"group": match["group"] or "", "grade": (match["grade"] or "").strip()})
    if len(found) > 2:
        raise BadField(name, "a joint has one or two parent materials")
    return found


def steels_text(plain: Any) -> str:
    """The plain form of a pair as it is typed."""
    if not isinstance(plain, list):
        return str(plain or "")
    sides = [" ".join(filter(None, (s.get("group"), s.get("grade")))) for s in plain if isinstance(s, Mapping)]
    return " + ".join(dict.fromkeys(side for side in sides if side))


def field_name(index: int, name: str) -> str:
    """The name of a variable of a test piece on the form. Example: field_name(0, "process") is "piece1_process"."""
    return f"piece{index + 1}_{name}"


def piece_fields(known: Edition, index: int) -> dict[str, TestedField]:
    """The form fields of one test piece."""
    return {field_name(index, stated.name): TestedField(stated) for stated in known.fields}


def piece_initial(known: Edition, index: int, piece: Mapping[str, Plain]) -> dict[str, Plain]:
    """What the fields of one test piece show at first."""
    return {field_name(index, stated.name): piece[stated.name] for stated in known.fields if stated.name in piece}


def piece_of(known: Edition, index: int, data: Mapping[str, Any], before: Mapping[str, Plain]) -> dict[str, Plain]:
    """The plain form of one test piece; what was on file and has no field on the form is kept."""
    fields = {stated.name for stated in known.fields}
    kept = {name: value for name, value in before.items() if name not in fields}
    said = {name: data.get(field_name(index, name)) for name in fields}
    return kept | {stated.name: said[stated.name] for stated in known.fields if said[stated.name] is not None}


def plain_piece(values: Mapping[str, Value]) -> dict[str, Plain]:
    """Typed values to the plain form that is kept."""
    return {name: to_plain(value) for name, value in values.items() if name in VARIABLES}
