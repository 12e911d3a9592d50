"""Uncovered parts of a window in words."""

from collections.abc import Iterable, Mapping

from codes.cover import Piece
from codes.limits import Unrecorded
from codes.units import System
from codes.values import Value
from codes.variables import label_of
from codes.verdict import Finding, Outcome, Verdict
from codes.words import lower_first
from wps.own_figures import uncovered_said

MOST_NAMED = 4
"""Of more things that a procedure leaves open their number is said: each has its line below."""


def cut_of(window: Mapping[str, Value], piece: Piece, nearest: Verdict | None) -> tuple[tuple[str, Value], ...]:
    """The variables by which an uncovered part is told from the whole window, else those that are refused."""
    cut = [name for name, value in piece.demand.items() if window.get(name) != value]
    if not cut and nearest is not None:
        cut = [f.variable for f in nearest.worst if f.variable in piece.demand]
    return tuple((name, piece.demand[name]) for name in dict.fromkeys(cut))


def piece_text(cut: Iterable[tuple[str, Value]], nearest: Verdict | None, system: System = System.SI) -> str:
    """One uncovered part, and what keeps the nearest record from covering it, in the reader's units.

    Example: "parent thickness above 24 to 30 mm with position PF: no record covers it; WPQR 12 misses by 6 mm."
    """
    if nearest is None:
        return "No record is at hand to cover it."
    where = " with ".join(f"{lower_first(label_of(name))} {uncovered_said(name, value, system)}" for name, value in cut)
    start = f"{where[0].upper()}{where[1:]}" if where else "The whole window"
    return f"{start}: no record covers it; {miss_text(nearest)}."


def miss_text(verdict: Verdict) -> str:
    """What keeps a record from covering, the worst of each variable. Example: "WPQR 12 misses by 6 mm"."""
    worst = {f.variable: f for f in reversed(verdict.worst)}
    unsaid = [found for found in worst.values() if _asked_for(found)]
    others = [found for found in worst.values() if found not in unsaid or len(unsaid) <= MOST_NAMED]
    parts = [_miss(found, alone=len(worst) == 1) for found in reversed(others)]
    if len(unsaid) > MOST_NAMED:
        parts = [f"asks for {len(unsaid)} things that the procedure does not state yet", *parts]
    return f"{verdict.label} {' and '.join(parts)}"


def _asked_for(found: Finding) -> bool:
    """True where nothing but the value itself is missing, and on the side of the procedure."""
    unstated = found.outcome is Outcome.NOT_STATED and found.value is None and not found.needs
    return unstated and not isinstance(found.limit, Unrecorded)


def _miss(found: Finding, alone: bool) -> str:
    name = lower_first(found.label)
    if found.outcome is Outcome.NOT_STATED:
        if isinstance(found.limit, Unrecorded):
            return f"does not state {found.limit.field}"
        if found.needs:
            return found.missing
        # Where the value itself is stated, what its condition asks for is missing.
        open_one = f"leaves it open: {found.missing}"
        return open_one if found.value is not None else f"asks for {name}, which the procedure does not state"
    if found.margin is not None:
        return found.margin_text if alone else f"{found.margin_text} on {name}"
    return f"allows {name} {found.allowed}" if found.allowed != "nothing" else f"allows no {name}"
