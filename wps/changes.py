"""What changed from one revision of a procedure to the next, in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from codes.parse import BadField, parse_value
from codes.values import number
from codes.variables import VARIABLES, label_of
from codes.words import value_words
from wps.models import ProcedureRevision, ProcedureRun

Content = Mapping[str, Any]
"""What a revision says (wps.content)."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that differs: what it said before, what it says now ("" where nothing)."""

    label: str
    before: str
    after: str


def changes(old: Content, new: Content) -> tuple[Change, ...]:
    """All differences between two contents, in the order of the sheet."""
    found = [*_plain(old, new), *_window(old["window"], new["window"])]
    for process in dict.fromkeys([*old["process_windows"], *new["process_windows"]]):
        before, after = (one["process_windows"].get(process, {}) for one in (old, new))
        found += _window(before, after, f" of process {process}")
    found += _preparation(old["preparation"], new["preparation"])
    found += _runs(old["runs"], new["runs"])
    found.append(Change("Supporting records", *(", ".join(one["records"]) for one in (old, new))))
    return tuple(change for change in found if change.before != change.after)


def _plain(old: Content, new: Content) -> list[Change]:
    names = ("code", "road", "serves_final", "serves_tack", "workstation_note", "cautions", "notes")
    return [Change(_label(ProcedureRevision, name), _word(old[name]), _word(new[name])) for name in names]


def _label(model: type[Any], name: str) -> str:
    text = str(model._meta.get_field(name).verbose_name)
    return text[:1].upper() + text[1:]


def _word(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _window(old: Content, new: Content, of: str = "") -> list[Change]:
    return [
        Change(label_of(name) + of, plain_said(name, old.get(name)), plain_said(name, new.get(name)))
        for name in dict.fromkeys([*old, *new])
    ]


def plain_said(name: str, plain: Any) -> str:
    """A plain value of the window in words; as it stands where it cannot be read."""
    variable = VARIABLES.get(name)
    try:
        value = parse_value(variable, plain) if variable else None
    except BadField:
        value = None
    if value is None:
        return "" if plain in (None, "", []) else str(plain)
    return value_words(name, value)


def _preparation(old: Content, new: Content) -> list[Change]:
    names = dict.fromkeys([*old, *new])
    return [Change(f"Preparation, {n.replace('_', ' ')}", str(old.get(n) or ""), str(new.get(n) or "")) for n in names]


def _runs(old: list[Content], new: list[Content]) -> list[Change]:
    before, after = ({run["order"]: run_text(run) for run in runs} for runs in (old, new))
    return [Change(f"Run {order}", before.get(order, ""), after.get(order, "")) for order in sorted({*before, *after})]


def run_text(run: Content) -> str:
    """A run in one line: everything that it states. Example: "root, process 141, current min a 90"."""
    stated = [(name, _figure(value)) for name, value in run.items() if name != "order" and value not in (None, "")]
    return ", ".join(value if name == "layer" else f"{_run_label(name)} {value}" for name, value in stated)


def _run_label(name: str) -> str:
    return str(ProcedureRun._meta.get_field(name).verbose_name)


def _figure(value: Any) -> str:
    """A figure without the trailing zeros that its column adds; other text as it is."""
    try:
        return number(Decimal(str(value)))
    except InvalidOperation:
        return str(value)
