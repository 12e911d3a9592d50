"""What a test record says on paper, whatever the words: tokens, figures as kept, ranges, clauses, days, names."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from codes.facts import fact, in_order, limits_facts, read_or_kept
from register.evidence.models import EvidenceFile
from wps.limits_view import RecordView
from wps.models import ProcedureRevision, TestRecord

STATED = ("number", "code", "level", "manufacturer", "examiner", "welded_on", "issued_on", "last_used_on", "notes")
"""What a record states itself, as it was typed."""


def record_facts(
    record: TestRecord,
    on: date,
    seen: RecordView,
    scans: Iterable[EvidenceFile],
    supports: Iterable[ProcedureRevision],
) -> dict[str, Any]:
    """Of a record on a day. `seen`: in SI. `supports`: the revisions in force that rest on it.

    The day itself is no fact: a record says the same on every day until it is taken out of use.
    """
    gone = record.withdrawn_on if record.withdrawn_on is not None and record.withdrawn_on <= on else None
    return {
        "stated": {name: fact(getattr(record, name)) for name in STATED},
        "route": record.route if record.code.startswith("ISO") else "",
        "withdrawn": fact(gone),
        "pieces": read_or_kept(record.tested, record.pieces),
        "runs": fact(record.runs),
        "results": fact(record.results),
        "earned": in_order(limits_facts(line.limit for line in (*one.lines, *one.free)) for one in seen.earned),
        "earns": not seen.problem,
        "scans": in_order([scan.file_name, scan.note, scan.sha256] for scan in scans),
        "supports": in_order([one.procedure.number, one.letter] for one in supports),
    }
