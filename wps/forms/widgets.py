"""Inputs for values of variables: a range, several terms, parent materials."""

from collections.abc import Mapping, Sequence
from itertools import count
from typing import Any, ClassVar

from django import forms
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext, gettext_noop

from register.judged_words import told

DECIMAL = {"inputmode": "decimal", "autocomplete": "off"}


class Number(forms.TextInput):
    """One figure; text, so that a decimal comma and a slip are both read by us."""

    def __init__(self, attrs: Mapping[str, Any] | None = None) -> None:
        super().__init__({**DECIMAL, **(attrs or {})})


class Several(forms.TextInput):
    """Several figures or texts in one line, parted by ";"."""

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        parts = [part.strip() for part in (data.get(name) or "").split(";")]
        return [part for part in parts if part] or None

    def format_value(self, value: Any) -> str:
        return "; ".join(str(part) for part in value) if isinstance(value, list | tuple) else value or ""


class Range(forms.Widget):
    """From and to, in the plain form {"min": ..., "max": ...}."""

    ends = (("min", gettext_noop("from")), ("max", gettext_noop("to")))

    def __init__(self, label: str, attrs: Mapping[str, Any] | None = None) -> None:
        super().__init__(attrs)
        self.label = label

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        found = {end: (data.get(f"{name}_{end}") or "").strip() for end, _ in self.ends}
        return found if any(found.values()) else None

    def value_omitted_from_data(self, data: Any, files: Any, name: str) -> bool:
        return all(f"{name}_{end}" not in data for end, _ in self.ends)

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        plain = value if isinstance(value, Mapping) else {"min": value, "max": value}
        shared = {**DECIMAL, **self.attrs, **(attrs or {})}
        inputs = [self._input(name, end, word, plain.get(end), shared) for end, word in self.ends]
        between = format_html('<span aria-hidden="true">{}</span>', gettext("to"))
        return format_html('<span class="range">{} {} {}</span>', inputs[0], between, inputs[1])

    def _input(self, name: str, end: str, word: str, value: Any, shared: Mapping[str, Any]) -> SafeString:
        own = {
            **shared,
            "name": f"{name}_{end}",
            "value": value or "",
            "aria-label": f"{told(self.label)}, {gettext(word)}",
        }
        if end == "max" and "id" in own:
            own["id"] = f"{own['id']}_max"
        return format_html('<input type="text"{}>', flatatt(own))


SEEN_AT_ONCE = 4
"""So many boxes to tick stand in their frame without scrolling, whatever their words."""


class Choices(forms.CheckboxSelectMultiple):
    """Boxes to tick, as a named group."""

    def __init__(self, label: str, choices: Sequence[tuple[str, str]], attrs: Mapping[str, Any] | None = None) -> None:
        super().__init__(attrs=dict(attrs or {}), choices=choices)
        self.label = label

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        given = [value] if isinstance(value, str) and value else value
        boxes = super().render(name, given, attrs, renderer)
        frame = '<div class="choices" role="group" aria-label="{}" data-one-stop>{}</div>'
        return format_html(frame, told(self.label), boxes)

    def optgroups(self, name: str, value: Any, attrs: Any = None) -> list[Any]:
        """What is ticked stands first, where it is seen without scrolling; the rest in its own order."""
        groups = super().optgroups(name, value, attrs)
        if len(groups) <= SEEN_AT_ONCE:
            return groups
        return sorted(groups, key=lambda group: not any(option["selected"] for option in group[1]))

    def id_for_label(self, id_: str, index: str | None = None) -> str:
        # The label of the field leads to the first box.
        return super().id_for_label(id_, index if index is not None else "0")


class Steels(forms.Widget):
    """Parent materials: for each pair two sides with grade, group and least yield. Plain form: a list of pairs."""

    facts = (("grade", "grade"), ("group", "group"), ("yield_mpa", "yield, MPa"))
    sides = (("a", "first part"), ("b", "second part"))

    iso_examples: ClassVar = {"grade": "S355J2+N", "group": "1.2", "yield_mpa": "355"}
    us_examples: ClassVar = {
        "AWS": {"grade": "A572 Gr 50", "yield_mpa": "345"},
        "ASME": {"grade": "SA-516 Gr 70", "group": "P-1 Gr 2", "yield_mpa": "260"},
    }
    """ASTM A572/A572M grade 50 [345]: the grade is its least yield strength; AWS D1.1 reads no group from it.
    SA-516/SA-516M grade 70 [485]: 260 MPa least yield, P-1 Gr 2 by QW/QB-422."""

    def __init__(self, label: str, rows: int = 1, attrs: Mapping[str, Any] | None = None, code: str = "") -> None:
        super().__init__(attrs)
        self.label, self.rows = label, rows
        self.examples = self.us_examples.get(code.partition(" ")[0], self.iso_examples)

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        pairs = []
        for row in count():
            if not any(key.startswith((f"{name}_{row}a_", f"{name}_{row}b_")) for key in data):
                break
            sides = [self._side(data, f"{name}_{row}{side}") for side, _ in self.sides]
            if stated := [side for side in sides if any(side.values())]:
                pairs.append(stated)
        return pairs or None

    def _side(self, data: Any, start: str) -> dict[str, str]:
        return {fact: (data.get(f"{start}_{fact}") or "").strip() for fact, _ in self.facts}

    def value_omitted_from_data(self, data: Any, files: Any, name: str) -> bool:
        return not any(key.startswith(f"{name}_0") for key in data)

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        pairs = pairs_of(value)
        shared = {"autocomplete": "off", **self.attrs, **(attrs or {})}
        parts = [(self._heads(),)]
        # As many rows as there are pairs, and one more to fill in, so that none is lost.
        more = len(pairs) + 1 if self.rows > 1 else len(pairs)
        for row in range(max(self.rows, more)):
            pair = pairs[row] if row < len(pairs) else []
            for at, (side, words) in enumerate(self.sides):
                known = pair[at] if at < len(pair) else {}
                first = row == 0 and at == 0
                parts.append((self._row(f"{name}_{row}{side}", row, words, known, shared, first),))
        return format_html(
            '<div class="steels" role="group" aria-label="{}">{}</div>',
            told(self.label),
            format_html_join("", "{}", parts),
        )

    def _heads(self) -> SafeString:
        """What the columns hold; each input says it for itself to whoever cannot see them."""
        heads = format_html_join("", "<b>{}</b>", ((told(label),) for _, label in self.facts))
        return format_html('<div class="heads" aria-hidden="true"><span></span>{}</div>', heads)

    def _row(
        self, start: str, row: int, words: str, known: Mapping[str, Any], shared: Mapping[str, Any], first: bool
    ) -> SafeString:
        which = told(f"{words}, pair {row + 1}" if self.rows > 1 else words)
        inputs = []
        for fact, label in self.facts:
            own = {**shared, "name": f"{start}_{fact}", "value": known.get(fact) or ""}
            if shown := self.examples.get(fact):
                own["placeholder"] = shown
            own["aria-label"] = f"{told(self.label)}, {which}: {told(label)}"
            own["id"] = shared.get("id", "") if first and fact == "grade" else f"id_{start}_{fact}"
            inputs.append((flatatt(own),))
        return format_html(
            '<div><span class="soft">{}</span> {}</div>', which, format_html_join(" ", '<input type="text"{}>', inputs)
        )


def pairs_of(value: Any) -> list[list[Mapping[str, Any]]]:
    """Every plain form of parent materials as a list of pairs."""
    if not value:
        return []
    if isinstance(value, Mapping | str):
        return [[_steel(value)]]
    if all(isinstance(pair, list | tuple) for pair in value):
        return [[_steel(side) for side in pair] for pair in value]
    return [[_steel(side) for side in value]]


def _steel(side: Any) -> Mapping[str, Any]:
    return side if isinstance(side, Mapping) else {"grade": side}
