"""Attached scans against the trail: each was attached by an act, and is on file with the same hash."""

from collections import Counter
from collections.abc import Iterator

from register.evidence.models import EvidenceFile
from register.models import AuditEntry


def unlike() -> Iterator[str]:
    """In a sentence each: scans that no act attached, and acts whose scan is gone. The bytes are checked when read."""
    columns = ("subject_type", "subject_id", "sha256", "file_name")
    held = Counter(EvidenceFile.objects.values_list(*columns))
    acts = AuditEntry.objects.filter(act="attached evidence").values_list("subject_type", "subject_id", "after")
    noted = Counter((kind, key, after.get("sha256"), after.get("file")) for kind, key, after in acts)
    for kind, key, _, name in held - noted:
        yield f"The scan {name} of {kind} {key} is on file, and no act in the trail attached it."
    for kind, key, _, name in noted - held:
        yield f"The scan {name} of {kind} {key} was attached, and is not on file so."
