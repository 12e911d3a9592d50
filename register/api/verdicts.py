"""A verdict in plain form, with reason, clause, mark and margin. Figures are exact decimals as text."""

from typing import Any

from ninja import Schema

from codes.limits import Limit
from codes.values import number
from codes.verdict import Finding, Verdict


class FindingOut(Schema):
    """One variable: what was asked, what is allowed, by which clause, and by how much it fits (or misses, negative)."""

    variable: str
    label: str
    outcome: str
    wanted: str
    allowed: str
    margin: str | None
    unit: str
    clause: str
    mark: str
    source: str
    because: str
    tested: str
    reason: str
    missing: str
    readings: list[str]
    sentence: str


class VerdictOut(Schema):
    """The answer: covered, outside or not stated; what is not stated is never covered."""

    outcome: str
    label: str
    standard: str
    reasons: list[str]
    not_fully_confirmed: list[str]
    findings: list[FindingOut]


class LimitOut(Schema):
    """What a record allows of one variable, under which conditions, by which clause."""

    variable: str
    allowed: str
    when: list[str]
    clause: str
    mark: str
    because: str
    readings: list[str]


def finding_out(found: Finding) -> dict[str, Any]:
    """A finding as plain data."""
    return {
        "variable": found.variable,
        "label": found.label,
        "outcome": found.outcome.value,
        "wanted": found.wanted,
        "allowed": found.allowed,
        "margin": None if found.margin is None else number(found.margin),
        "unit": found.unit,
        "clause": str(found.clause),
        "mark": found.mark.value,
        "source": found.clause.source,
        "because": found.because,
        "tested": found.tested,
        "reason": found.reason,
        "missing": found.missing,
        "readings": list(found.readings),
        "sentence": found.sentence,
    }


def verdict_out(verdict: Verdict, missed_only: bool = False) -> dict[str, Any]:
    """A verdict as plain data, worst finding first; `missed_only` leaves out the findings that cover."""
    return {
        "outcome": verdict.outcome.value,
        "label": verdict.label,
        "standard": verdict.standard,
        "reasons": list(verdict.reasons),
        "not_fully_confirmed": list(verdict.unconfirmed),
        "findings": [finding_out(found) for found in (verdict.worst if missed_only else verdict.findings)],
    }


def limit_out(limit: Limit) -> dict[str, Any]:
    """A limit as plain data."""
    return {
        "variable": limit.variable,
        "allowed": limit.words,
        "when": [str(when) for when in limit.when],
        "clause": str(limit.clause),
        "mark": limit.clause.mark.value,
        "because": limit.because,
        "readings": list(limit.readings),
    }
