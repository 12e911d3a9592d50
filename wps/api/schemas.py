"""What the calls about records, procedures and sheets answer."""

from datetime import date, datetime
from typing import Any

from ninja import Schema

from register.api.entries import Figure
from register.api.verdicts import FindingOut, LimitOut, VerdictOut


class RecordLine(Schema):
    """A test record (WPQR, PQR) in a list. `id` is its key."""

    id: int
    number: str
    code: str
    level: int | None
    route: str
    manufacturer: str
    welded_on: date
    issued_on: date | None
    withdrawn_on: date | None
    changed_at: datetime


class Records(Schema):
    """A page of records; `next` is the address of the page after it, or null."""

    items: list[RecordLine]
    next: str | None


class LimitsOut(Schema):
    """One alternative of limits that a record earns."""

    label: str
    standard: str
    limits: list[LimitOut]


class RecordOut(RecordLine):
    """A record whole. `pieces` in the plain form of the register; `earns`: its limits under the firm's readings.

    `problem` says why it earns none.
    """

    examiner: str
    last_used_on: date | None
    pieces: Any
    runs: Any
    results: Any
    earns: list[LimitsOut]
    problem: str


class RevisionLine(Schema):
    """A revision of a procedure. In force on a day with approved_on <= day < ended_on."""

    id: int
    procedure_id: int
    number: str
    letter: str
    title: str
    status: str
    code: str
    road: str
    serves_tack: bool
    serves_final: bool
    approved_on: date | None
    approved_name: str
    ended_on: date | None
    ended_reason: str
    changed_at: datetime


class Revisions(Schema):
    """A page of revisions."""

    items: list[RevisionLine]
    next: str | None


class RunOut(Schema):
    """One run with its ranges."""

    order: int
    layer: str
    process: str
    filler_designation: str
    diameter_mm: Figure
    current_type: str
    current_min_a: Figure
    current_max_a: Figure
    voltage_min_v: Figure
    voltage_max_v: Figure
    speed_min_mm_min: Figure
    speed_max_mm_min: Figure
    wire_feed_min_m_min: Figure
    wire_feed_max_m_min: Figure
    gas_flow_min_l_min: Figure
    gas_flow_max_l_min: Figure
    note: str


class NamedRecord(Schema):
    """A record that a revision rests on."""

    id: int
    number: str
    code: str


class RevisionOut(RevisionLine):
    """A revision whole. `window`: ranges and terms of every variable; `process_windows`: what differs by process."""

    window: dict[str, Any]
    process_windows: dict[str, Any]
    preparation: dict[str, Any]
    runs: list[RunOut]
    records: list[NamedRecord]
    author_name: str
    checked_name: str
    checked_on: date | None
    workstation_note: str
    cautions: str
    notes: str


class ProcedureLine(Schema):
    """A procedure by its number; what it says stands in its revisions."""

    id: int
    number: str
    title: str
    changed_at: datetime


class Procedures(Schema):
    """A page of procedures."""

    items: list[ProcedureLine]
    next: str | None


class ProcedureOut(ProcedureLine):
    """A procedure with its revisions, newest first."""

    revisions: list[RevisionLine]


class AllowsOut(Schema):
    """What one record allows of a variable."""

    record: str
    finding: FindingOut


class VariableOut(Schema):
    """One variable of a procedure beside its records."""

    variable: str
    label: str
    says: str
    outcome: str
    allows: list[AllowsOut]


class GapOut(Schema):
    """A part of the window that no record covers, with the record that comes nearest."""

    text: str
    outcome: str
    nearest: VerdictOut | None


class CombinationOut(Schema):
    """What two records earn together and neither alone; `needed`: it covers what no record covers alone."""

    records: str
    needed: bool
    clauses: list[str]
    findings: list[FindingOut]


class ProcessOut(Schema):
    """One process of a procedure."""

    process: str
    name: str
    outcome: str
    variables: list[VariableOut]
    gaps: list[GapOut]
    combined: list[CombinationOut]


class JudgementOut(Schema):
    """A revision against its records on a day: covered where every point of its window is."""

    on: date
    revision: str
    outcome: str
    sentence: str
    prequalified: bool
    records: list[str]
    not_fully_confirmed: list[str]
    processes: list[ProcessOut]


class SheetOut(Schema):
    """An issued sheet: what its check code names, and whether it may be welded to."""

    check_code: str
    revision_id: int
    number: str
    letter: str
    kind: str
    paper: str
    units: str
    state_when_issued: str
    sha256: str
    issued_at: datetime


class StandingOut(Schema):
    """Whether the sheets of a check code are in force now: `state` in words, and what to do."""

    check_code: str
    on: date
    number: str
    letter: str
    title: str
    in_force: bool
    state: str
    sentence: str
