"""The one checker: a demand against the limits of a record, a procedure or a certificate."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from codes.limits import Free, Limit, LimitSet, Nothing, Questions, Unrecorded
from codes.values import Atom, Value, atoms
from codes.variables import label_of, unit_of
from codes.verdict import Finding, Outcome, Verdict
from codes.words import value_words

Demand = Mapping[str, Value]


def check(demand: Demand, limits: LimitSet) -> Verdict:
    """The verdict of one demand against one limit set.

    A limit set without a limit that counts covers nothing: the answer is then 'not stated'.
    """
    found = tuple(f for f in (finding(demand, limit) for limit in limits.limits) if f is not None)
    ordered = tuple(sorted(found, key=lambda f: f.outcome.rank))
    outcome = ordered[0].outcome if ordered else Outcome.NOT_STATED
    return Verdict(demand, outcome, ordered, limits.label, limits.standard)


def finding(demand: Demand, limit: Limit) -> Finding | None:
    """The finding of one limit, or None where its conditions show that it does not count."""
    met = [(c, c.met_by(demand.get(c.variable))) for c in limit.when]
    if any(answer is False for _, answer in met):
        return None
    unknown = [c.variable for c, answer in met if answer is None]
    value = demand.get(limit.variable, limit.assumed)
    if isinstance(limit.allowed, Free):
        return _make(limit, Outcome.COVERED, value, None)
    if isinstance(limit.allowed, Unrecorded):
        return _make(limit, Outcome.NOT_STATED, value, None, missing=str(limit.allowed))
    if isinstance(limit.allowed, Nothing) and not unknown and not limit.needs:
        return _make(limit, Outcome.OUTSIDE, value, None)
    if value is None:
        if unknown:
            return _make(limit, Outcome.NOT_STATED, None, None, missing=_unstated([*unknown, limit.variable]))
        return _make(limit, Outcome.NOT_STATED, None, None, missing=_unstated([limit.variable]))
    return _judge(limit, value, unknown)


def _judge(limit: Limit, value: Value, unknown: list[str]) -> Finding:
    judged = _judged(limit, value)
    worst = _worst_atom(limit, judged)
    if all(limit.allowed.admits(atom) for atom in judged):
        return _make(limit, Outcome.COVERED, value, worst)
    asks = _asks(limit, judged)
    if asks:
        return _make(limit, Outcome.NOT_STATED, value, worst, missing=asks)
    if unknown:
        return _make(limit, Outcome.NOT_STATED, value, worst, missing=_unstated(unknown))
    if limit.needs:
        return _make(limit, Outcome.NOT_STATED, value, worst, missing=f"needs {limit.needs}")
    return _make(limit, Outcome.OUTSIDE, value, worst)


def _judged(limit: Limit, value: Value) -> tuple[Atom, ...]:
    """The values that the limit judges: all, or only the smallest number."""
    numbers = [atom for atom in atoms(value) if isinstance(atom, Decimal)]
    if limit.least_only and len(numbers) == len(atoms(value)):
        return (min(numbers),)
    return atoms(value)


def _asks(limit: Limit, judged: tuple[Atom, ...]) -> str:
    """What the refused values leave open; "" where one of them is refused for certain."""
    if not isinstance(limit.allowed, Questions):
        return ""
    asks = [limit.allowed.unstated(atom) for atom in judged if not limit.allowed.admits(atom)]
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
    names = " and ".join(dict.fromkeys(label_of(v).lower() for v in variables))
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
    unstated = {f.variable for f in verdict.findings if f.outcome is Outcome.NOT_STATED}
    return (verdict.outcome is not Outcome.COVERED, len(outside), len(unstated))
