"""What was sent in, what it changed and what the answers were that day, as the act of taking it in noted them."""

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from typing import Any

from joints.imports.differences import DIFFERS
from joints.models import AnswerOnImport, ImportBatch, ImportDifference, Job
from register.models import AuditEntry
from register.trail.seal import row_digest

SEALED = "sealed"
"""Under this name an act notes the key of its list, and digests; acts of earlier versions did not."""
TOOK = "took in a {} of welds"
KEPT = ("batch", "joint", "on", "outcome", "procedures", "people", "reasons")
"""The columns of an answer on the day of an import."""
ROWS_AT_ONCE = 2000
FROZEN = (
    "job_id", "kind", "sender_id", "scope", "file_name", "sha256", "extract", "columns", "defaults", "corrections",
    "choices", "rows", "row_count", "problems", "comparison", "status", "uploaded_by", "uploaded_at", "confirmed_by",
    "confirmed_at",
)  # fmt: skip


class Tally:
    """A digest over rows in their order, taken while they are written: they need not be read again for it."""

    def __init__(self) -> None:
        self._hash = sha256()

    def over(self, rows: Iterable[Sequence[Any]]) -> Iterator[Sequence[Any]]:
        """The same rows. The first column, the key of the list, is left out."""
        for row in rows:
            self.add(row[1:])
            yield row

    def add(self, values: Sequence[Any]) -> None:
        """One more row."""
        self._hash.update(json.dumps(list(values), separators=(",", ":"), default=str).encode("ascii") + b"\n")

    @property
    def digest(self) -> str:
        """64 hexadecimal digits."""
        return self._hash.hexdigest()


def facts_of(batch: ImportBatch, differences: Tally, answers: Tally) -> dict[str, Any]:
    """What the act notes of a list that was just taken in."""
    return {
        "list": batch.pk,
        "digest": _digest(batch.pk),
        "differences": differences.digest,
        "answers": answers.digest,
    }


def _digest(pk: int) -> str:
    (values,) = ImportBatch.everything.filter(pk=pk).values_list(*FROZEN)
    return row_digest(pk, values).hex()


def unlike() -> Iterator[str]:
    """In a sentence each: lists that are not as they were taken in, that no act took in, or that are gone."""
    noted, bare = _acts()
    taken = (
        ImportBatch.objects.filter(status=ImportBatch.CONFIRMED).order_by("pk").only("pk", "job", "kind", "file_name")
    )
    for batch in taken.iterator(ROWS_AT_ONCE):
        act = noted.pop(batch.pk, None)
        if act is not None:
            yield from _unlike(batch, act)
            continue
        key = str(batch.job_id), TOOK.format(batch.kind), batch.file_name
        if not bare[key]:
            yield f"{batch} of job {_job(batch.job_id)} is on file as taken in, and no act in the trail took it in."
        bare[key] -= 1
    yield from (f"The list {(act.after or {}).get('file')} of {act.subject} was taken in, and is gone."
                for act in noted.values())  # fmt: skip


def _acts() -> tuple[dict[int, AuditEntry], Counter[tuple[str, str, str]]]:
    """The first act that notes each list, and how often others took in a file of a name."""
    noted: dict[int, AuditEntry] = {}
    bare: Counter[tuple[str, str, str]] = Counter()
    names = [TOOK.format(kind) for kind, _ in ImportBatch.KINDS]
    for act in AuditEntry.objects.filter(act__in=names).order_by("number").iterator():
        after = act.after or {}
        if SEALED in after:
            noted.setdefault(after[SEALED]["list"], act)
        else:
            bare[act.subject_id, act.act, str(after.get("file"))] += 1
    return noted, bare


def _unlike(batch: ImportBatch, act: AuditEntry) -> Iterator[str]:
    said, what = (act.after or {})[SEALED], f"{batch} of job {_job(batch.job_id)}"
    if said["digest"] != _digest(batch.pk) or act.subject_id != str(batch.job_id):
        yield f"{what} is not as it was taken in (entry {act.number})."
    for name, model, columns, words in (
        ("differences", ImportDifference, DIFFERS, "what it changed"),
        ("answers", AnswerOnImport, KEPT, "the answers on that day"),
    ):
        rows, tally = model.objects.filter(batch=batch.pk).order_by("pk").values_list(*columns), Tally()
        for _ in tally.over(rows.iterator(ROWS_AT_ONCE)):
            pass
        if said[name] != tally.digest:
            yield f"{what}: {words} is on file otherwise than it was kept (entry {act.number})."


def _job(pk: int) -> str:
    found = Job.objects.filter(pk=pk).first()
    return str(found) if found is not None else str(pk)
