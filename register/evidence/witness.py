"""Attached scans against the trail: each was attached by an act, and withdrawn by one where it is."""

from collections import Counter
from collections.abc import Iterator

from register.evidence.models import EvidenceFile
from register.models import AuditEntry

EVIDENCE = EvidenceFile._meta.label_lower


def unlike() -> Iterator[str]:
    """In a sentence each: scans that no act attached or withdrew, and acts whose scan is gone or stands again.

    The bytes are checked when they are read.
    """
    columns = ("subject_type", "subject_id", "sha256", "file_name")
    held = Counter(EvidenceFile.objects.values_list(*columns))
    acts = AuditEntry.objects.filter(act="attached evidence").values_list("subject_type", "subject_id", "after")
    noted = Counter((kind, key, after.get("sha256"), after.get("file")) for kind, key, after in acts)
    for kind, key, _, name in held - noted:
        yield f"The scan {name} of {kind} {key} is on file, and no act in the trail attached it."
    for kind, key, _, name in noted - held:
        yield f"The scan {name} of {kind} {key} was attached, and is not on file so."
    yield from _withdrawn()


def _withdrawn() -> Iterator[str]:
    acts = AuditEntry.objects.filter(subject_type=EVIDENCE, act="withdrew evidence")
    noted = {key: (after or {}).get("because") for key, after in acts.values_list("subject_id", "after")}
    for scan in EvidenceFile.objects.only("pk", "file_name", "subject_type", "subject_id", "withdrawn_because"):
        because = noted.get(str(scan.pk))
        if (scan.withdrawn_because or None) != because:
            found = "withdrawn" if scan.withdrawn_because else "in use"
            where = f"{scan.subject_type} {scan.subject_id}"
            yield f"The scan {scan.file_name} of {where} is {found} on file, and the trail does not say so."
