"""The gates of the application standard: what it asks of a record before its ranges count, of the responsible
coordinator, and of tacks.

Which gates there are is the business of the standard's own package (codes.editions, kind "gate"). This module hands
it the facts of record, job and joint, and sorts its limits by whom they concern.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import lru_cache

from codes.check import finding
from codes.clauses import Clause, Mark
from codes.editions import UnknownEdition, edition
from codes.limits import Limit, Unrecorded
from codes.readings import Settings
from codes.values import Value
from codes.verdict import Outcome, Verdict
from joints.demands import TACK, JointDemand, PhaseDemand, Requirements
from joints.misses import Misses, misses
from wps.offers import RecordOffer

OF_THE_JOB = frozenset({"coordinator_level", "tack_length"})
"""Reasons that no record can help with; all others concern the record."""
Facts = tuple[tuple[str, Value], ...]


@dataclass(frozen=True, slots=True)
class Gate:
    """Limits that stand before a joint, with what they look at beyond the joint's own demand."""

    label: str
    standard: str
    limits: tuple[Limit, ...]
    extra: Mapping[str, Value] = field(default_factory=dict)

    def misses(self, demand: Mapping[str, Value]) -> Misses:
        """What keeps it shut; where none of its limits counts, nothing does."""
        return misses({**self.extra, **demand}, self.limits, open_if_none=True)

    def verdict(self, demand: Mapping[str, Value]) -> Verdict:
        """The same, explained."""
        whole = {**self.extra, **demand}
        found = [f for limit in self.limits if (f := finding(whole, limit)) is not None]
        found.sort(key=lambda f: f.outcome.rank)
        outcome = found[0].outcome if found else Outcome.COVERED
        return Verdict(whole, outcome, tuple(found), self.label, self.standard)


def record_gates(record: RecordOffer, asked: Requirements, phase: str, on: date, settings: Settings) -> Gate | None:
    """What the application standard asks of a record as evidence; None where none is named."""
    if not asked.application_standard:
        return None
    kept = _limits(asked.application_standard, _frozen(record_facts(record)), _frozen(settings), False)
    return Gate(record.label, asked.application_standard, kept, _extra(asked, phase, on))


def joint_gates(phase: PhaseDemand, joint: JointDemand, on: date, settings: Settings) -> Gate | None:
    """What it asks of the responsible coordinator and of the tacks of a joint; None where none is named."""
    asked = joint.requirements
    if not asked.application_standard:
        return None
    facts: dict[str, Value] = {"qualification_route": "procedure_test"}
    if "coordinator_level" in asked.facts:
        facts["coordinator_level"] = asked.facts["coordinator_level"]
    if phase.phase == TACK and joint.tack_length is not None:
        facts["tack_length"] = joint.tack_length
    kept = _limits(asked.application_standard, _frozen(facts), _frozen(settings), True)
    return Gate(asked.application_standard, asked.application_standard, kept, _extra(asked, phase.phase, on))


def record_facts(record: RecordOffer) -> dict[str, Value]:
    """A record's facts as the gates ask for them; the day of the test counts where it was not used since."""
    facts: dict[str, Value] = dict(getattr(record, "facts", {}))
    if record.route:
        facts["qualification_route"] = record.route
    if record.level is not None:
        facts["level"] = Decimal(record.level)
    used = record.last_used_on or record.welded_on
    if used is not None:
        facts["last_used_on"] = used.isoformat()
    return facts


def _extra(asked: Requirements, phase: str, on: date) -> dict[str, Value]:
    return {**asked.facts, "phase": phase, "on": on.isoformat()}


def _frozen(values: Mapping[str, Value]) -> Facts:
    return tuple(sorted(values.items()))


@lru_cache(maxsize=2048)
def _limits(standard: str, facts: Facts, settings: Facts, of_the_job: bool) -> tuple[Limit, ...]:
    """The standard's limits for one set of facts, kept because many joints ask of the same record."""
    try:
        known = edition(standard)
    except UnknownEdition as unknown:
        # Without its rules nothing can pass its gates.
        return (Limit("standard", Unrecorded(str(unknown)), Clause(standard, "", Mark.OWN), reason="standard"),)
    chosen = {name: str(value) for name, value in settings}
    every = (limit for limits in known.limit_sets([dict(facts)], chosen) for limit in limits.limits)
    return tuple(limit for limit in every if (limit.reason in OF_THE_JOB) == of_the_job)
