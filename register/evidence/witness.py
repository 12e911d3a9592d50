"""Attached scans against the trail: each was attached by an act, and withdrawn by one where it is."""

from collections.abc import Iterator
from datetime import timedelta

from register.evidence.models import EvidenceFile
from register.models import AuditEntry

EVIDENCE = EvidenceFile._meta.label_lower
AT_ONCE = timedelta(minutes=1)
"""A scan and the act that attaches it are written together."""


def unlike() -> Iterator[str]:
    """In a sentence each: scans that no act attached or withdrew, and acts whose scan is gone or stands again.

    The bytes are checked when they are read.
    """
    noted: dict[tuple[str, ...], list[AuditEntry]] = {}
    for act in AuditEntry.objects.filter(act="attached evidence").order_by("number").iterator():
        after = act.after or {}
        key = (act.subject_type, act.subject_id, str(after.get("sha256")), str(after.get("file")))
        noted.setdefault(key, []).append(act)
    for scan in EvidenceFile.objects.order_by("pk").iterator():
        acts = noted.get((scan.subject_type, scan.subject_id, scan.sha256, scan.file_name), [])
        act = next((one for one in acts if _attached(one, scan)), None)
        if act is None:
            yield f"The scan {scan.file_name} of {_of(scan)} is on file, and no act in the trail attached it so."
        else:
            acts.remove(act)
    for (kind, key, _, name), acts in noted.items():
        yield from (f"The scan {name} of {kind} {key} was attached, and is not on file so." for _ in acts)
    yield from _withdrawn()


def _attached(act: AuditEntry, scan: EvidenceFile) -> bool:
    """By whom, when and as what it was attached."""
    after = act.after or {}
    noted = (after.get("note", scan.note), after.get("by", scan.added_by))
    return noted == (scan.note, scan.added_by) and abs(act.at - scan.added_at) <= AT_ONCE


def _of(scan: EvidenceFile) -> str:
    return f"{scan.subject_type} {scan.subject_id}"


def _withdrawn() -> Iterator[str]:
    """The key alone would not do: two scans may change places."""
    acts = AuditEntry.objects.filter(subject_type=EVIDENCE, act="withdrew evidence")
    noted = {act.subject_id: act for act in acts}
    for scan in EvidenceFile.objects.order_by("pk").iterator():
        act = noted.get(str(scan.pk))
        if not (_ended(act, scan) if act is not None else scan.withdrawn_at is None and not scan.withdrawn_because):
            found = "withdrawn" if scan.withdrawn_because else "in use"
            yield f"The scan {scan.file_name} of {_of(scan)} is {found} on file, and the trail does not say so."


def _ended(act: AuditEntry, scan: EvidenceFile) -> bool:
    after = act.after or {}
    said = (after.get("because"), after.get("sha256", scan.sha256), after.get("by", scan.withdrawn_by))
    own = (scan.withdrawn_because, scan.sha256, scan.withdrawn_by)
    return said == own and scan.withdrawn_at is not None and abs(act.at - scan.withdrawn_at) <= AT_ONCE
