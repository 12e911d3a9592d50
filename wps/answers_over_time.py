"""How the answer about an approved revision changed: judged anew with its records as they stood after every change."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from codes.parse import BadField
from codes.readings import DEFAULTS, Settings
from codes.units import System
from codes.verdict import Outcome
from register.models import AuditEntry
from wps.judgement import judge_demands
from wps.models import ProcedureRevision, TestRecord
from wps.offers import offers_of
from wps.own_judgement import judgement_in
from wps.window import demands

AT_MOST = 12
CHANGED = "changed"
"""The act by which a record is changed; its note is the reason."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer from a moment on, and the change of a record that led to it."""

    when: datetime
    record: str
    who: str
    why: str
    outcome: Outcome
    sentence: str


def record_changes(
    revision: ProcedureRevision, settings: Settings = DEFAULTS, system: System = System.SI
) -> tuple[Answer, ...]:
    """Every change of a supporting record since the revision was approved, with the answer after it in the reader's
    units, newest first.

    Three queries at most; the latest twelve. Empty for a revision that was never approved, or whose window is bad.
    """
    records = {record.pk: record for record in revision.records.all()}
    if revision.approved_on is None or not records:
        return ()
    try:
        each = demands(revision)
    except BadField:
        return ()
    versions = list(TestRecord.history.filter(id__in=records).order_by("history_date", "history_id"))
    reasons = _reasons(records)
    found: list[Answer] = []
    as_it_was: dict[int, Any] = {}
    for version in versions:
        is_change = version.id in as_it_was and version.history_type == "~"
        as_it_was[version.id] = version
        on = version.history_date.date()
        if not is_change or on < revision.approved_on:
            continue
        stood = [_record(as_it_was.get(key, record)) for key, record in records.items()]
        judged = judgement_in(judge_demands(each, offers_of(stood, revision.code, on, settings)), system)
        why = _why(reasons.get(str(version.id), ()), version.history_date)
        who = version.history_user_name or "the register"
        found.append(Answer(version.history_date, version.number, who, why, judged.outcome, judged.sentence))
    return tuple(reversed(found[-AT_MOST:]))


def _record(version: Any) -> TestRecord:
    """A kept version, or the record itself, as a record."""
    return version if isinstance(version, TestRecord) else version.instance


def _reasons(records: Iterable[int]) -> dict[str, list[AuditEntry]]:
    """The reasons given for changes, by record, oldest first."""
    label = TestRecord._meta.label_lower
    keys = [str(key) for key in records]
    acts = AuditEntry.everything.filter(subject_type=label, subject_id__in=keys, act=CHANGED).order_by("at", "pk")
    found: dict[str, list[AuditEntry]] = {}
    for act in acts:
        found.setdefault(act.subject_id, []).append(act)
    return found


def _why(acts: Iterable[AuditEntry], when: datetime) -> str:
    """The reason of the first act at or after a version: it is written right behind it."""
    return next((act.note for act in acts if act.at >= when), "")
