"""Which entries of the weld log speak for a confirmation: welded in the six months before, inside the range."""

from collections.abc import Sequence
from datetime import date

from codes.check import Demand, finding
from codes.dates import add_months
from codes.limits import LimitSet
from codes.verdict import Outcome
from qualifications.models import WeldLogEntry

MONTHS = 6


def window(on: date) -> tuple[date, date]:
    """First and last day of the welding that a signature on this day may rest on.

    Example: for 31 August the first day is 28 or 29 February.
    """
    return add_months(on, -MONTHS), on


def demand_of(entry: WeldLogEntry) -> Demand:
    """What the entry states, as variables."""
    stated = {
        "process": entry.process,
        "mechanisation": entry.mechanisation,
        "weld_type": entry.weld_type,
        "position": entry.position,
    }
    return {name: value for name, value in stated.items() if value}


def speaks_for(entry: WeldLogEntry, sets: Sequence[LimitSet]) -> bool:
    """True where nothing that the entry states lies outside one of the limit sets.

    What an entry leaves out (thickness, filler) cannot speak against it: a person signs, the log only proposes.
    An entry struck out speaks for nothing, and neither does one without a process that a limit names.
    """
    if entry.struck_out:
        return False
    demand = demand_of(entry)
    return any(_inside(demand, limits) for limits in sets)


def _inside(demand: Demand, limits: LimitSet) -> bool:
    found = [finding(demand, limit) for limit in limits.limits if limit.variable in demand]
    outcomes = {(f.variable, f.outcome) for f in found if f is not None}
    if any(outcome is Outcome.OUTSIDE for _, outcome in outcomes):
        return False
    return ("process", Outcome.COVERED) in outcomes


def proposed(
    entries: Sequence[WeldLogEntry], sets: Sequence[LimitSet], person_id: int, on: date
) -> tuple[WeldLogEntry, ...]:
    """The person's entries that speak for a confirmation on a day, newest first."""
    first, last = window(on)
    own = [e for e in entries if e.person_id == person_id and first <= e.on <= last]
    return tuple(e for e in sorted(own, key=lambda e: (e.on, e.pk), reverse=True) if speaks_for(e, sets))
