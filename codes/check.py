"""The one checker: a demand against the limits of a record, a procedure or a certificate."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from codes.limits import Free, Limit, LimitSet, Nothing, Unrecorded
from codes.values import Atom, Value, atoms
from codes.variables import label_of, unit_of
from codes.verdict import Finding, Outcome, Verdict
from codes.words import lower_first, value_words

Demand = Mapping[str, Value]


def check(demand: Demand, limits: LimitSet) -> Verdict:
    """The verdict of one demand against one limit set.

    A limit set without a limit that counts covers nothing: the answer is then 'not stated'.
    """
    found = tuple(f for f in (finding(demand, limit) for limit in limits.limits) if f is not None)
    ordered = tuple(sorted(found, key=lambda f: f.outcome.rank))
    outcome = ordered[0].outcome if ordered else Outcome.NOT_STATED
    return Verdict(demand, outcome, ordered, limits.label, limits.standard)


def covers(demand: Demand, limits: LimitSet) -> bool:
    """True where `check` answers 'covered'; without a word said, and up to the first limit that fails."""
    counted = False
    for limit in limits.limits:
        outcome = outcome_of(demand, limit)
        if outcome is None:
            continue
        if outcome is not Outcome.COVERED:
            return False
        counted = True
    return counted


def outcome_of(demand: Demand, limit: Limit) -> Outcome | None:
    """The answer of one limit, or None where its conditions show that it does not count."""
    unknown = False
    for condition in limit.when:
        met = condition.met_by(demand.get(condition.variable))
        if met is False:
            return None
        unknown = unknown or met is None
    if isinstance(limit.allowed, _WITHOUT_VALUE):
        if isinstance(limit.allowed, Free):
            return Outcome.COVERED
        if isinstance(limit.allowed, Unrecorded):
            return Outcome.NOT_STATED
        if not unknown and not limit.needs:
            return Outcome.OUTSIDE
    value = demand.get(limit.variable, limit.assumed)
    if value is None:
        return Outcome.NOT_STATED
    judged = _judged(limit, value)
    if len(judged) == 1:
        if limit.allowed.admits(judged[0]):
            return Outcome.COVERED
    elif all(limit.allowed.admits(atom) for atom in judged):
        return Outcome.COVERED
    return Outcome.NOT_STATED if unknown or limit.needs or _asks(limit, judged) else Outcome.OUTSIDE


_WITHOUT_VALUE = (Free, Unrecorded, Nothing)
"""What answers whatever the demand states."""


def finding(demand: Demand, limit: Limit) -> Finding | None:
    """The finding of one limit, or None where its conditions show that it does not count."""
    outcome = outcome_of(demand, limit)
    if outcome is None:
        return None
    value = demand.get(limit.variable, limit.assumed)
    judges = value is not None and not isinstance(limit.allowed, _WITHOUT_VALUE)
    worst = _worst_atom(limit, _judged(limit, value)) if judges and value is not None else None
    missing = _missing(demand, limit, value) if outcome is Outcome.NOT_STATED else ""
    return _make(limit, outcome, value, worst, missing)


def _missing(demand: Demand, limit: Limit, value: Value | None) -> str:
    """What is not stated, in words."""
    if isinstance(limit.allowed, Unrecorded):
        return str(limit.allowed)
    unknown = [c.variable for c in limit.when if c.met_by(demand.get(c.variable)) is None]
    if value is None:
        return _unstated([*unknown, limit.variable])
    asks = _asks(limit, _judged(limit, value))
    if asks:
        return asks
    return _unstated(unknown) if unknown else f"needs {limit.needs}"


def _judged(limit: Limit, value: Value) -> tuple[Atom, ...]:
    """The values that the limit judges: all, or only the smallest number."""
    if limit.least_only:
        numbers = [atom for atom in atoms(value) if isinstance(atom, Decimal)]
        if len(numbers) == len(atoms(value)):
            return (min(numbers),)
    return atoms(value)


def _asks(limit: Limit, judged: tuple[Atom, ...]) -> str:
    """What the refused values leave open; "" where one of them is refused for certain."""
    # Asked by name: an isinstance check of a protocol takes longer than the whole verdict of a limit.
    unstated = getattr(limit.allowed, "unstated", None)
    if unstated is None:
        return ""
    asks = [str(unstated(atom)) for atom in judged if not limit.allowed.admits(atom)]
    return " and ".join(dict.fromkeys(asks)) if all(asks) else ""


def _worst_atom(limit: Limit, judged: tuple[Atom, ...]) -> Atom:
    """The value with the smallest margin, preferring one that is not admitted."""
    refused = [atom for atom in judged if not limit.allowed.admits(atom)]
    candidates = refused or list(judged)
    return min(candidates, key=lambda atom: _tightness(limit, atom))


def _tightness(limit: Limit, atom: Atom) -> tuple[bool, Decimal]:
    margin = limit.allowed.margin(atom)
    return (margin is None, margin if margin is not None else Decimal(0))


def _unstated(variables: Iterable[str]) -> str:
    names = " and ".join(dict.fromkeys(lower_first(label_of(v)) for v in variables))
    return f"{names} not stated"


def _make(limit: Limit, outcome: Outcome, value: Value | None, worst: Atom | None, missing: str = "") -> Finding:
    unit = unit_of(limit.variable)
    return Finding(
        variable=limit.variable,
        label=label_of(limit.variable),
        outcome=outcome,
        wanted=value_words(limit.variable, value) if value is not None else "",
        allowed=limit.words,
        clause=limit.clause,
        because=limit.because,
        tested=limit.tested,
        margin=limit.allowed.margin(worst) if worst is not None else None,
        unit=unit,
        readings=limit.readings,
        reason=limit.reason or limit.variable,
        needs=limit.needs,
        missing=missing,
        limit=limit.allowed,
        value=value,
    )


def best(demand: Demand, sets: Iterable[LimitSet]) -> Verdict:
    """The verdict of the limit set that covers the demand, else of the one that comes nearest (the first of equals).

    Raises ValueError where there is no limit set at all.
    """
    verdicts = [check(demand, limits) for limits in sets]
    if not verdicts:
        raise ValueError("no limits to check against")
    return min(verdicts, key=nearness)


def nearness(verdict: Verdict) -> tuple[bool, int, int]:
    """Sort key, nearest first: covered, then fewest variables outside, then fewest not stated."""
    outside = {f.variable for f in verdict.findings if f.outcome is Outcome.OUTSIDE}
    unstated = {f.variable for f in verdict.findings if f.outcome is Outcome.NOT_STATED} - outside
    return (verdict.outcome is not Outcome.COVERED, len(outside), len(unstated))
