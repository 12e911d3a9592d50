"""What changed from one revision of a procedure to the next, in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from codes.parse import BadField, parse_value
from codes.terms import both_names
from codes.units import System, amount_in, unit_in
from codes.variables import VARIABLES, label_of
from wps.models import ProcedureRevision
from wps.own_figures import said
from wps.preparation_words import preparation_said
from wps.runs import RANGES
from wps.sheet_figures import span_in

Content = Mapping[str, Any]
"""What a revision says (wps.content)."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that differs: what it said before, what it says now ("" where nothing)."""

    label: str
    before: str
    after: str


def changes(old: Content, new: Content, system: System = System.SI) -> tuple[Change, ...]:
    """All differences between two contents, in the order of the sheet and in the reader's units."""
    found = [*_plain(old, new), *_window(old["window"], new["window"], system)]
    for process in dict.fromkeys([*old["process_windows"], *new["process_windows"]]):
        before, after = (one["process_windows"].get(process, {}) for one in (old, new))
        found += _window(before, after, system, f" of process {process}")
    found += _preparation(old["preparation"], new["preparation"], system)
    found += _runs(old["runs"], new["runs"], system)
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


def _window(old: Content, new: Content, system: System, of: str = "") -> list[Change]:
    return [
        Change(label_of(name) + of, *(plain_said(name, one.get(name), system) for one in (old, new)))
        for name in dict.fromkeys([*old, *new])
    ]


def plain_said(name: str, plain: Any, system: System = System.SI) -> str:
    """A plain value of the window in words; as it stands where it cannot be read."""
    variable = VARIABLES.get(name)
    try:
        value = parse_value(variable, plain) if variable else None
    except BadField:
        value = None
    if value is None:
        return "" if plain in (None, "", []) else str(plain)
    return said(name, value, system)


def _preparation(old: Content, new: Content, system: System) -> list[Change]:
    before, after = (preparation_said(one, system) for one in (old, new))
    names = dict.fromkeys([*before, *after])
    return [Change(_of_preparation(name), before.get(name, ""), after.get(name, "")) for name in names]


def _of_preparation(label: str) -> str:
    """Example: "Root gap" is "Preparation, root gap"."""
    return label if label == "Preparation" else f"Preparation, {label[:1].lower()}{label[1:]}"


def _runs(old: list[Content], new: list[Content], system: System) -> list[Change]:
    before, after = ({run["order"]: run_text(run, system) for run in runs} for runs in (old, new))
    return [Change(f"Run {order}", before.get(order, ""), after.get(order, "")) for order in sorted({*before, *after})]


def run_text(run: Content, system: System = System.SI) -> str:
    """A run in one line: everything that it states. Example: "root, 141 · GTAW, 90–120 A, 60–80 mm/min"."""
    process = both_names("process", run["process"]) if run.get("process") else ""
    size = _size(_figure(run.get("diameter_mm")), system)
    ranges = [_range(run, name, lo, hi, unit, system) for name, lo, hi, unit in RANGES]
    words = (run.get("layer"), process, run.get("filler_designation"), size, run.get("current_type"), *ranges)
    return ", ".join(str(one) for one in (*words, run.get("note")) if one)


def _size(diameter: Decimal | None, system: System) -> str:
    return "" if diameter is None else f"⌀ {amount_in(diameter, 'mm', system)}"


def _range(run: Content, name: str, lo: str, hi: str, unit: str, system: System) -> str:
    """One range with its unit; two of them are told apart by it, the others are named."""
    shown = span_in(_figure(run.get(lo)), _figure(run.get(hi)), unit, system)
    named = {"wire_feed": "wire ", "gas_flow": "gas "}.get(name, "")
    return f"{named}{shown} {unit_in(unit, system)}" if shown else ""


def _figure(value: Any) -> Decimal | None:
    """A figure of a run, which the log keeps as text."""
    try:
        return None if value in (None, "") else Decimal(str(value))
    except InvalidOperation:
        return None
