"""What a job asks of a new record before its ranges count: contract, level, application standard, extra tests."""

from datetime import date
from typing import Any

from codes.readings import Settings
from codes.values import Value
from joints.misses import COVERED, Misses
from joints.planning.needs import Need
from joints.planning.pieces import Piece
from joints.requirements import record_gate, system_of
from wps.offers import RecordOffer

NEW = "The new record"
EXTRA = {"micro_section": "micro section", "cruciform_tested": "cruciform tensile test (ISO 9018)"}
"""Extra tests that can be made with any procedure test."""


def gate_of(need: Need, piece: Piece, on: date, settings: Settings, extra: bool = True) -> Misses:
    """What keeps a new record of the piece from counting for the job."""
    facts: dict[str, Value] = dict.fromkeys(EXTRA, "yes") if extra else {}
    if piece.values.get("impact_tested") == "yes" and "impact_temperature" in piece.values:
        facts["impact_tested_at"] = piece.values["impact_temperature"]
    level: Any = piece.values["level"]
    record = RecordOffer(
        0, NEW, piece.sets, piece.code, int(level), "procedure_test", welded_on=on, last_used_on=on, facts=facts
    )
    demand = need.boxes[0]
    gate = record_gate(record, need.requirements, demand, need.phase.phase, on, settings)
    return gate.misses(demand) if gate is not None else COVERED


def extras_of(need: Need, piece: Piece, on: date, settings: Settings) -> list[str]:
    """The extra tests without which the record would not count."""
    missed = gate_of(need, piece, on, settings, extra=False)
    reasons = set(missed.reasons)
    named = {"micro_section": "micro_section", "cruciform_test": "cruciform_tested"}
    return [EXTRA[fact] for reason, fact in named.items() if reason in reasons]


def same_system(need: Need, piece: Piece) -> bool:
    """True where the job's procedures are qualified to the same family of codes as the piece, or to none named."""
    system = system_of(need.requirements.procedure_code)
    return not system or system == system_of(piece.code)
