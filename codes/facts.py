"""Values, limits and findings as JSON that no change of wording, of display order or of rounding for show changes.

Terms stand as their tokens, figures as plain decimals in the units of the register, a range by its ends, a set sorted.
What is in words only (labels, derivations, conditions told) is left out: the tokens and figures it tells of are in.
"""

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any

from codes.clauses import Clause, Mark
from codes.limits import Free, Limit, Nothing, OneOf, Unrecorded, When, Within
from codes.validity import Due, State
from codes.values import Interval, Steel, SteelPair, number
from codes.verdict import Finding

OWN_RULE = "own rule"
SETS = {Free: "free", Nothing: "nothing", Unrecorded: "unrecorded"}
"""What allows all, nothing, or nobody knows what: by a word of this module, whatever the sentence."""


def fact(value: Any) -> Any:
    """A value, or a set of values, as JSON. Raises TypeError for what it does not know how to keep apart from words.

    Example: Interval(D("3.0"), D(16), "mm") is {"from": "3", "to": "16", "unit": "mm"}.
    """
    if value is None or isinstance(value, bool | str):
        return value
    if isinstance(value, Decimal | int):
        return number(Decimal(value) if value else Decimal(0))
    if isinstance(value, float):
        # None is reckoned with, but what was sent in as JSON is kept as it came.
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Enum):
        return value.name
    if isinstance(value, tuple | list):
        return [fact(one) for one in value]
    if isinstance(value, set | frozenset):
        return in_order(fact(one) for one in value)
    if isinstance(value, Mapping):
        return {str(name): fact(one) for name, one in value.items()}
    return _thing(value)


def read_or_kept(read: Callable[[], Iterable[Any]], kept: Any) -> list[Any]:
    """Tested values as a code reads them; as they stand on file where it cannot."""
    try:
        return [fact(one) for one in read()]
    except (ValueError, LookupError):
        return [fact(kept)]


def in_order(found: Iterable[Any]) -> list[Any]:
    """Facts of which nobody cares which comes first, in one order."""
    return sorted(found, key=lambda one: json.dumps(one, sort_keys=True))


def _thing(value: Any) -> Any:
    if isinstance(value, Interval):
        ends = {"from": value.lo, "to": value.hi, "from_open": value.lo_open, "to_open": value.hi_open}
        return {name: fact(end) for name, end in ends.items() if end is not None and end is not False} | {
            "unit": value.unit
        }
    if isinstance(value, Steel):
        return {"group": value.group, "yield": fact(value.yield_mpa), "grade": value.grade}
    if isinstance(value, SteelPair):
        return in_order(fact(steel) for steel in value)
    if isinstance(value, Clause):
        return clause_fact(value)
    if isinstance(value, Within):
        return fact(value.interval)
    if isinstance(value, OneOf):
        return {"one_of": sorted(value.terms)}
    if type(value) in SETS:
        return {"set": SETS[type(value)]}
    if isinstance(value, When):
        named = {"variable": value.variable, "allowed": fact(value.allowed), "negate": value.negate}
        return named if type(value) is When else {**named, "set": type(value).__name__}
    if is_dataclass(value):
        return _own_set(value)
    raise TypeError(f"{type(value).__name__} is no fact: say in codes/facts.py how it is kept")


def _own_set(value: Any) -> dict[str, Any]:
    """A set of one code's own: its name tells it from others with the same fields.

    A set of which a table of its code says how far it reaches states that row as `from_tables`. Readings of the firm
    are left out: what they make of a limit stands in the rest of it.
    """
    held = {one.name: fact(getattr(value, one.name)) for one in fields(value) if one.name != "settings"}
    tables = getattr(value, "from_tables", None)
    return {"set": type(value).__name__, **held} | ({} if tables is None else {"from_tables": fact(tables)})


def clause_fact(clause: Clause) -> Any:
    """Edition and place. A rule of the register's own is named in words, and is told by what it limits."""
    return OWN_RULE if clause.mark is Mark.OWN else [clause.standard, clause.ref]


def limit_fact(limit: Limit) -> dict[str, Any]:
    """What a limit allows, when, and by which clause. Not its derivation, which follows from what was tested."""
    found: dict[str, Any] = {
        "variable": limit.variable,
        "allowed": fact(limit.allowed),
        "clause": clause_fact(limit.clause),
        "when": in_order(fact(when) for when in limit.when),
        "reason": limit.reason or limit.variable,
    }
    more = {"needs": bool(limit.needs), "assumed": fact(limit.assumed), "least_only": limit.least_only}
    return found | {name: one for name, one in more.items() if one}


def limits_facts(limits: Iterable[Limit]) -> list[Any]:
    """Limits that hold together, whatever the order they are shown in."""
    return in_order(limit_fact(one) for one in limits)


def finding_fact(finding: Finding) -> dict[str, Any]:
    """What was asked of a variable, what is allowed, the answer, by how much, and by which clause."""
    return {
        "variable": finding.variable,
        "outcome": finding.outcome.name,
        "asked": fact(finding.value),
        "allowed": fact(finding.limit),
        "margin": fact(finding.margin),
        "unit": finding.margin_unit,
        "clause": clause_fact(finding.clause),
        "reason": finding.reason or finding.variable,
        "needs": bool(finding.needs),
    }


def state_fact(state: State) -> dict[str, Any]:
    """Whether a certificate is valid on a day, from when to when, why not, and what must be done by when."""
    return {
        "valid": state.valid,
        "known": not state.missing,
        "reason": state.reason,
        "clause": clause_fact(state.clause),
        "since": fact(state.since),
        "until": fact(state.until),
        "told": list(state.told),
        "dues": in_order(due_fact(due) for due in state.dues),
    }


def due_fact(due: Due) -> list[Any]:
    """By when, and by which clause, which says what is to be done."""
    return [due.by.isoformat(), clause_fact(due.clause)]
