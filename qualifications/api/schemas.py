"""What the calls about people answer. Dates and places of birth are given out by no call."""

from datetime import date, datetime
from typing import Any

from ninja import Schema

from register.api.entries import Figure
from register.api.verdicts import (
    FindingOut,  # noqa: F401 - part of the same description
    LimitOut,
)


class PersonOut(Schema):
    """Somebody who welds. `identification`: stamp or payroll number; `site`: place of work."""

    id: int
    name: str
    identification: str
    employer: str
    site: str
    active: bool
    left_on: date | None
    changed_at: datetime


class People(Schema):
    """A page of people."""

    items: list[PersonOut]
    next: str | None


class DueOut(Schema):
    """Something to be done by a day, that day included."""

    act: str
    by: date
    clause: str


class StateOut(Schema):
    """The state of a certificate on a day, with its reason. `until`: the last day of this validity, null without end.

    `missing`: the fact that would have to be stated before it can be judged.
    """

    on: date
    valid: bool
    until: date | None
    reason: str
    because: str
    clause: str
    mark: str
    missing: str
    dues: list[DueOut]


class CertificateLine(Schema):
    """A certificate with its state on the day asked about."""

    id: int
    person_id: int
    person_name: str
    code: str
    kind: str
    number: str
    designation: str
    processes: list[str]
    welded_on: date
    issued_on: date | None
    state: StateOut
    changed_at: datetime


class Certificates(Schema):
    """A page of certificates."""

    items: list[CertificateLine]
    next: str | None


class PeriodOut(Schema):
    """A stretch of validity, both days included, with why it began and why it ends."""

    start: date
    end: date | None
    opened: str
    ending: str
    clause: str


class EventOut(Schema):
    """Something dated that happened to a certificate. `voids`: the entry that a correction takes back."""

    id: int
    kind: str
    on: date
    by_name: str
    by_role: str
    reason: str
    details: dict[str, Any]
    voids: int | None
    recorded_at: datetime


class EarnedOut(Schema):
    """One alternative of limits that a certificate earns."""

    label: str
    standard: str
    limits: list[LimitOut]


class CertificateOut(CertificateLine):
    """A certificate whole: every period, every event, the limits it earns. `problem` says why it earns none."""

    examining_body: str
    option: str
    pieces: Any
    periods: list[PeriodOut]
    events: list[EventOut]
    earns: list[EarnedOut]
    problem: str


class DueItemOut(Schema):
    """Something that falls due, lapsed, or is to be decided. `days` from the day asked about: negative is past."""

    certificate_id: int
    person_id: int
    person_name: str
    certificate: str
    code: str
    kind: str
    act: str
    by: date
    days: int
    lapsed: bool
    decide: bool
    because: str
    clause: str
    mark: str
    site: str
    processes: list[str]


class DueList(Schema):
    """What falls due, earliest first."""

    on: date
    within: int
    items: list[DueItemOut]


class LogLine(Schema):
    """A weld of the log."""

    id: int
    person_id: int
    person_name: str
    on: date
    at: datetime | None
    process: str
    mechanisation: str
    weld_type: str
    position: str
    wps: str
    joint: str
    workstation: str
    current_a: Figure
    voltage_v: Figure
    travel_mm_min: Figure
    note: str
    entered_by: str
    struck_out: str
    changed_at: datetime


class LogPage(Schema):
    """A page of the weld log."""

    items: list[LogLine]
    next: str | None


class LogTaken(Schema):
    """What was written: how many welds, how many were on file already, and what to know of them."""

    batch: int
    written: int
    known: int
    notes: list[str]
