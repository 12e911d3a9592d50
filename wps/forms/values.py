"""A form field for a variable of the codes. It keeps the plain form, and says in words what it cannot read."""

import re
from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext

from codes.editions import Field
from codes.parse import BadField, parse_value, to_plain
from codes.steels import UnknownGrade
from codes.terms import said_words, term, tokens
from codes.values import number
from codes.variables import VARIABLES, Kind, Variable
from register.base.figures import sentence
from register.held.grades import known_steel
from wps.forms.groups import speaks_iso
from wps.forms.us_figures import kept
from wps.forms.widgets import Choices, Number, Range, Several, Steels, pairs_of

RANGED = frozenset(
    {
        "parent_t", "deposit_t", "throat_a", "leg_z", "diameter", "branch_angle", "layers", "filler_diameter",
        "current", "voltage", "travel_speed", "wire_feed", "heat_input", "groove_angle", "root_opening", "root_face",
        "groove_depth", "gas_flow", "electrodes",
    }
)  # fmt: skip
"""Variables of which a procedure states a range; of other numbers it states one (the least preheat)."""
PAIRS_IN_WINDOW = 3
MEASURED = frozenset({"current", "voltage", "travel_speed", "wire_feed"})
RANGE = re.compile(r"[\d.,/ ]+(?:-|–|to)[\d.,/ ]+")
"""A test report often writes these as a range, which the rows of the measured runs take."""
YIELD = "yield_mpa"
"""How the parser names the strength of a parent material, one of three entries of a side."""
SYMBOL = 8
"""An ISO name of so many characters is a symbol; longer ones speak for themselves."""


class ValueField(forms.Field):
    """One variable. `cleaned_data` holds the plain form, or None where nothing is stated.

    `iso_groups`: parent materials are completed by ISO/TR 15608.
    """

    def __init__(
        self, variable: Variable, widget: forms.Widget, tested: bool = False, iso_groups: bool = True, **kwargs: Any
    ) -> None:
        self.variable, self.tested, self.iso_groups = variable, tested, iso_groups
        super().__init__(widget=widget, required=kwargs.pop("required", False), **kwargs)
        if variable.kind is Kind.STEELS:
            self.error_messages["required"] = gettext("Missing; enter the grade, or group and yield strength.")

    def to_python(self, value: Any) -> Any:
        """Raises ValidationError with the remedy."""
        value = value.strip() if isinstance(value, str) else value
        try:
            if self.variable.kind is Kind.STEELS:
                value = completed(value, self.tested) if self.iso_groups else pairs_of(value) or None
            found = parse_value(self.variable, value)
        except BadField as bad:
            if self.tested and self.variable.name in MEASURED and RANGE.fullmatch(str(value)):
                raise forms.ValidationError(gettext("One figure here; a range goes into the measured runs.")) from None
            which = gettext("Yield strength: ") if bad.field == YIELD else ""
            raise forms.ValidationError(f"{which}{sentence(bad.problem)}") from None
        plain = None if found is None else to_plain(kept(found, self.variable.unit))
        # Boxes to tick give a list, one tick or many, so that a filter finds both alike.
        return [plain] if isinstance(self.widget, Choices) and isinstance(plain, str) else plain

    def has_changed(self, initial: Any, data: Any) -> bool:
        try:
            return self.to_python(initial) != self.to_python(data)
        except forms.ValidationError:
            return True


def completed(value: Any, tested: bool = False) -> Any:
    """Parent materials with group and yield filled in from a known grade where they are left open.

    Where sources disagree on a grade's group, a test piece counts for less than a joint asks for: `tested`.
    """
    return [[_completed(side, tested) for side in pair] for pair in pairs_of(value)] or None


def _completed(side: Mapping[str, Any], tested: bool) -> dict[str, Any]:
    found = dict(side)
    if not found.get("grade") or (found.get("group") and found.get("yield_mpa")):
        return found
    try:
        known = known_steel(str(found["grade"]), tested=tested)
    except UnknownGrade:
        return found
    found["group"] = found.get("group") or known.group
    if not found.get("yield_mpa") and known.yield_mpa is not None:
        found["yield_mpa"] = number(known.yield_mpa)
    return found


def tested_field(stated: Field, code: str = "") -> ValueField:
    """The field of a test piece for one tested variable of an edition."""
    variable = stated.variable
    label = _label(variable, stated.label)
    return ValueField(
        variable,
        _tested_widget(variable, stated.many, label, code),
        label=label,
        help_text=hint(stated),
        required=stated.needed == "always",
        tested=True,
        iso_groups=speaks_iso(code),
    )


def hint(stated: Field) -> str:
    """What a field of a test piece takes, when it is needed, and its clause."""
    needed = "" if stated.needed in ("", "always") else f"needed for: {stated.needed}"
    several = "several with a semicolon between" if stated.many and stated.variable.kind is not Kind.TERM else ""
    named = stated.clause[:1].isdigit() or stated.clause.startswith(("QW", "QG"))
    clause = f"clause {stated.clause}" if named else stated.clause
    parts = [stated.help or stated.variable.help, several, needed, clause]
    return "; ".join(part for part in parts if part)


def _label(variable: Variable, own: str = "") -> str:
    label = own or variable.label
    return f"{label}, {variable.unit}" if variable.unit else label


def _tested_widget(variable: Variable, many: bool, label: str, code: str) -> forms.Widget:
    if variable.kind is Kind.TERM:
        return Choices(label, choices(variable)) if many else forms.Select(choices=[("", ""), *choices(variable)])
    if many and variable.kind in (Kind.NUMBER, Kind.TEXT):
        return Several({"autocomplete": "off"})
    return _plain_widget(variable, label, 1, code)


def _plain_widget(variable: Variable, label: str, pairs: int, code: str) -> forms.Widget:
    if variable.kind is Kind.STEELS:
        return Steels(label, rows=pairs, code=code)
    if variable.kind is Kind.DATE:
        return forms.DateInput(attrs={"type": "date"})
    return Number() if variable.kind is Kind.NUMBER else forms.TextInput()


def window_field(name: str, code: str = "") -> ValueField:
    """The field of a procedure's window for one variable: a range, terms to tick, or one value. `code`: its edition."""
    variable = VARIABLES[name]
    label = _label(variable)
    if variable.kind is Kind.TERM:
        widget: forms.Widget = Choices(label, choices(variable))
    elif name in RANGED:
        widget = Range(label)
    else:
        widget = _plain_widget(variable, label, PAIRS_IN_WINDOW if name == "steels" else 1, code)
    return ValueField(variable, widget, iso_groups=speaks_iso(code), label=label, help_text=variable.help)


def choices(variable: Variable) -> list[tuple[str, str]]:
    """The terms of a variable, each with both names and what it is in words."""
    return [(token, _choice(variable.vocabulary, token)) for token in tokens(variable.vocabulary)]


def _choice(vocabulary: str, token: str) -> str:
    """Both names; a bare symbol is explained in words. Example: "PB · 2F, horizontal vertical (fillet)"."""
    known = term(vocabulary, token)
    names = known.named
    explained = said_words(known.words) <= said_words(names) or len(known.iso) > SYMBOL
    if known.words.startswith(f"{names} "):
        return known.words
    return names if explained else f"{names}, {known.words}"
