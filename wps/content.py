"""All that a revision says, as JSON values: for the log of approvals, and to compare two revisions."""

from collections.abc import Iterable
from typing import Any

from wps.models import ProcedureRevision, ProcedureRun, TestRecord

COPIED = (
    "code", "road", "serves_final", "serves_tack", "window", "process_windows", "preparation", "workstation_note",
    "cautions", "notes",
)  # fmt: skip
"""The fields that a new revision takes over."""
_NOT_SAID = frozenset({"id", "revision"})


def content(revision: ProcedureRevision) -> dict[str, Any]:
    """What the revision says, runs and supporting records included. Reads both."""
    return content_of(revision, revision.runs.all(), revision.records.all())


def content_of(
    revision: ProcedureRevision, runs: Iterable[ProcedureRun], records: Iterable[TestRecord]
) -> dict[str, Any]:
    """As `content`, with runs and records that need not be saved yet."""
    own = {name: getattr(revision, name) for name in COPIED}
    return own | {"runs": [run_content(run) for run in runs], "records": sorted(record.number for record in records)}


def run_content(run: ProcedureRun) -> dict[str, Any]:
    """What one run says; figures as text."""
    names = [field.name for field in run._meta.concrete_fields if field.name not in _NOT_SAID]
    return {name: _json(getattr(run, name)) for name in names}


def _json(value: Any) -> Any:
    return value if value is None or isinstance(value, str | int) else str(value)
