"""Does a record count for this job at all? Code, edition and level that the contract names, then the gates of its
application standard. A record that does not count is left out before the ranges are looked at.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.limits import Limit, OneOf, Unrecorded, span
from codes.readings import Settings
from codes.values import Value
from codes.verdict import Verdict
from joints.demands import Requirements
from joints.gates import Gate, record_gates
from joints.systems import key_of, system_of
from wps.offers import ProcedureOffer, RecordOffer

__all__ = ["could_count", "joined", "key_of", "record_gate", "system_of"]

CONTRACT = Clause("Job", "code and edition that the contract names", Mark.OWN)


def could_count(offer: ProcedureOffer, code: str) -> bool:
    """Whether a procedure could ever serve a job to this code: it, or a record of it, is to the same edition.

    One that states no code is not ruled out. Example: a procedure to ISO 15614-1 is none for a job to AWS D1.1.
    """
    if not code:
        return True
    codes = {offer.code, *(one.code for record in offer.records for one in record.each)}
    return "" in codes or key_of(code) in {key_of(one) for one in codes}


def record_gate(
    record: RecordOffer, asked: Requirements, demand: Mapping[str, Value], phase: str, on: date, settings: Settings
) -> Gate | None:
    """What decides whether the record counts for the job; None where the job asks nothing of it.

    Records that are combined must each count.
    """
    found = [_own_gate(one, asked, demand, phase, on, settings) for one in record.each]
    gates = [gate for gate in found if gate is not None]
    if len(gates) < 2:
        return gates[0] if gates else None
    limits = tuple(limit for gate in gates for limit in gate.limits)
    extra = {name: value for gate in gates for name, value in gate.extra.items()}
    return Gate(record.label, gates[0].standard, limits, extra)


def _own_gate(
    record: RecordOffer, asked: Requirements, demand: Mapping[str, Value], phase: str, on: date, settings: Settings
) -> Gate | None:
    gate = record_gates(record, asked, phase, on, settings)
    limits = _contract(record, asked, demand)
    if not limits:
        return gate
    wanted: dict[str, Value] = {"standard": key_of(asked.procedure_code)} if asked.procedure_code else {}
    if gate is None:
        return Gate(record.label, "", limits, wanted)
    return replace(gate, limits=(*limits, *gate.limits), extra={**gate.extra, **wanted})


def _contract(record: RecordOffer, asked: Requirements, demand: Mapping[str, Value]) -> tuple[Limit, ...]:
    limits: list[Limit] = []
    if asked.procedure_code:
        because = f"{record.label} is a record to {record.code or 'no stated code'}"
        allowed = OneOf((key_of(record.code),)) if record.code else Unrecorded("its code")
        limits.append(Limit("standard", allowed, CONTRACT, because, reason="standard"))
    if "level" in demand and record.level is not None:
        because = f"{record.label} was tested to level {record.level}, which serves lower levels too"
        limits.append(Limit("level", span(None, Decimal(record.level)), CONTRACT, because, reason="level"))
    return tuple(limits)


def joined(label: str, demand: Mapping[str, Value], verdicts: Sequence[Verdict]) -> Verdict:
    """Several verdicts that must all hold, as one: all findings, worst first."""
    found = tuple(sorted((f for v in verdicts for f in v.findings), key=lambda f: f.outcome.rank))
    outcome = min((v.outcome for v in verdicts), key=lambda o: o.rank)
    standards = dict.fromkeys(v.standard for v in verdicts if v.standard)
    return Verdict(demand, outcome, found, label, ", ".join(standards))
