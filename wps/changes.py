"""What changed from one revision of a procedure to the next, in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from codes.parse import BadField, parse_value
from codes.variables import VARIABLES, label_of
from wps.models import ProcedureRevision, ProcedureRun
from wps.words import said


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that differs: what it said before, what it says now ("" where nothing)."""

    label: str
    before: str
    after: str


def changes(old: ProcedureRevision, new: ProcedureRevision) -> tuple[Change, ...]:
    """All differences in content, in the order of the sheet. Reads records and runs of both."""
    found = [*_plain(old, new), *_window(old.window, new.window)]
    for process in dict.fromkeys([*old.process_windows, *new.process_windows]):
        before, after = old.process_windows.get(process, {}), new.process_windows.get(process, {})
        found += _window(before, after, f" of process {process}")
    found += _mapping(old.preparation, new.preparation)
    found += _runs(old, new)
    numbers = [", ".join(sorted(r.number for r in one.records.all())) for one in (old, new)]
    found.append(Change("Supporting records", *numbers))
    return tuple(change for change in found if change.before != change.after)


def _plain(old: ProcedureRevision, new: ProcedureRevision) -> list[Change]:
    names = ("code", "serves_tack", "serves_final", "workstation_note", "cautions", "notes")
    return [Change(_label(name), _word(getattr(old, name)), _word(getattr(new, name))) for name in names]


def _label(name: str) -> str:
    text = str(ProcedureRevision._meta.get_field(name).verbose_name)
    return text[:1].upper() + text[1:]


def _word(value: Any) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def _window(old: Mapping[str, Any], new: Mapping[str, Any], of: str = "") -> list[Change]:
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
    return said(name, value)


def _mapping(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Change]:
    return [
        Change(f"Preparation, {name.replace('_', ' ')}", str(old.get(name) or ""), str(new.get(name) or ""))
        for name in dict.fromkeys([*old, *new])
    ]


def _runs(old: ProcedureRevision, new: ProcedureRevision) -> list[Change]:
    before, after = ({run.order: run_text(run) for run in one.runs.all()} for one in (old, new))
    return [Change(f"Run {order}", before.get(order, ""), after.get(order, "")) for order in sorted({*before, *after})]


def run_text(run: ProcedureRun) -> str:
    """A run in one line: everything that it states."""
    skipped = {"id", "revision", "order"}
    stated = [(f, getattr(run, f.name)) for f in run._meta.concrete_fields if f.name not in skipped]
    return ", ".join(f"{f.name.replace('_', ' ')} {value}" for f, value in stated if value not in (None, ""))
