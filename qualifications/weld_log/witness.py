"""Files of the weld log against the acts that took them in."""

from collections.abc import Iterator

from qualifications.weld_log.models import WeldLogBatch
from register.models import AuditEntry
from register.trail.seal import row_digest

SEALED = "sealed"
"""Under this name an act notes the digest of its file; acts of earlier versions did not."""
TOOK = "took in a log file"
FROZEN = (
    "plant_id", "file_name", "sha256", "rows", "problems", "status", "uploaded_by", "uploaded_at", "confirmed_by",
    "confirmed_at",
)  # fmt: skip


def digest(pk: int) -> str:
    """Of a file as it is on file."""
    (values,) = WeldLogBatch.everything.filter(pk=pk).values_list(*FROZEN)
    return row_digest(pk, values).hex()


def unlike() -> Iterator[str]:
    """In a sentence each: files that are not as they were taken in, that no act took in, or that are gone."""
    acts = AuditEntry.objects.filter(subject_type=WeldLogBatch._meta.label_lower, act=TOOK).order_by("number")
    noted: dict[str, AuditEntry] = {}
    for act in acts.iterator():
        noted.setdefault(act.subject_id, act)
    for pk, name in WeldLogBatch.objects.filter(status=WeldLogBatch.CONFIRMED).values_list("pk", "file_name"):
        found = noted.pop(str(pk), None)
        if found is None:
            yield f"The log file {name} is on file as taken in, and no act in the trail took it in."
        elif (found.after or {}).get(SEALED) not in (None, digest(pk)) or (found.after or {}).get("file") != name:
            yield f"The log file {name} is not as it was taken in (entry {found.number})."
    yield from (f"{act.subject} was taken in (entry {act.number}), and is gone." for act in noted.values())
