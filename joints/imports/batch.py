"""The steps of an import: kept, its columns named, read and compared, corrected; then written whole or not at all.

`check_batch` and `run_import` do the long work. Both are functions of a batch on file and may be run again: the first
writes nothing but the batch, the second everything in one transaction or nothing.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from django.contrib.auth import get_user_model
from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext, ngettext

from joints.imports.columns import INCH, Columns, columns, named
from joints.imports.compare import Comparer, in_order
from joints.imports.differences import ShownDifferences, forget
from joints.imports.files import digest, read_file, read_to_keep
from joints.imports.plain import NotKept, unpacked
from joints.imports.progress import Progress, silent
from joints.imports.rows import MAX_PROBLEMS, Problem, Reader, Setting, notes
from joints.imports.senders import known_columns
from joints.imports.shown import Shown
from joints.imports.snapshots import keep_answers
from joints.imports.table import MAX_ROWS, Cell, Refusal, Table
from joints.imports.witness import SEALED, facts_of
from joints.imports.write import Writer
from joints.model_files.extract import extract_of, read_model, table_of, take_geometry
from joints.model_files.step import check_step, is_step
from joints.models import ImportBatch, Job, ListSender
from joints.sandbox import WAITS_LONG
from joints.stations import stations_for
from register.audit import record_act
from register.evidence import store
from register.trail.sealing import gathered

READING, COMPARING, WRITING, ANSWERING = "reading the file", "comparing", "writing", "keeping today's answers"
BYTES_OF_A_ROW = 2000
"""About what a weld takes in a model: so many rows at once are so many bytes at once."""
CHANGED_BETWEEN = (
    "Somebody else changed the job after this was shown. Compare it again to see what is new; nothing was written."
)


def take_in(
    job: Job,
    name: str,
    data: bytes,
    defaults: Mapping[str, str],
    by: Any,
    sender: ListSender | None = None,
    scope: str = ImportBatch.PART,
    at_once: int = MAX_ROWS,
) -> ImportBatch:
    """Keep a list or a model to be looked at; no joint is written. Raises Refusal, and then nothing is kept.

    Where the sender is named and his headings are not known yet, its columns are to be named first; where there are
    more rows than `at_once`, it is to be read by `check_batch` first.
    """
    _refuse_known(job, digest(data))
    batch = ImportBatch(
        job=job,
        file_name=name[:250],
        defaults=dict(defaults),
        sender=sender,
        scope=scope,
        uploaded_by=by.get_username(),
    )
    if is_step(data):
        ready = _take_in_model(batch, data, at_once)
    else:
        table, kept = read_to_keep(data)
        ready = _take_in_list(batch, table.rows, at_once)
        batch.extract = store.keep(kept) if kept else ""
    batch.sha256 = store.keep(data)
    with transaction.atomic():
        batch.save()
        return check_batch(batch.pk) if ready else batch


def _take_in_list(batch: ImportBatch, rows: Sequence[tuple[int, Sequence[Cell]]], at_once: int) -> bool:
    """Look at the headings; True where it can be read at once. Raises Refusal."""
    (_, head), *body = rows
    batch.row_count = len(body)
    batch.columns = (known_columns(batch.sender, head) if batch.sender is not None else None) or {}
    if batch.sender is not None and not batch.columns:
        batch.status = ImportBatch.NAMING
        return False
    if not batch.columns:
        columns(head)
    return batch.row_count <= at_once


def _take_in_model(batch: ImportBatch, data: bytes, at_once: int) -> bool:
    """Look at the header of a model; a small one is read at once. Raises Refusal."""
    batch.kind = ImportBatch.MODEL
    check_step(data)
    if len(data) > at_once * BYTES_OF_A_ROW:
        return False
    batch.extract = read_model(data)
    return True


def check_batch(batch_id: int, progress: Progress = silent) -> ImportBatch:
    """Read a batch, compare it with the job, and keep what is to be shown of it. Raises Refusal."""
    batch = ImportBatch.objects.select_related("job", "sender").get(pk=batch_id)
    if batch.status == ImportBatch.CONFIRMED:
        return batch
    progress(0, 0, READING)
    if batch.is_model and not batch.extract:
        batch.extract = read_model(_sent(batch), WAITS_LONG)
    table, found, more = _table(batch)
    comparer = Comparer(batch.job, batch, found.fields.values(), _ids(table, found))
    shown, differences = Shown(more), ShownDifferences(batch, comparer.comes_again)
    total = len(table.rows) - 1
    for chunk in comparer.matched(Reader(table, found, _setting(batch)).rows()):
        shown.add(chunk)
        differences.add(chunk)
        progress(shown.rows, total, COMPARING)
    left = comparer.removed()
    shown.left(left)
    differences.left(left)
    batch.rows, batch.row_count = shown.sample, shown.rows
    about = [Problem(0, "", said, True) for said in (*table.notes, *notes(found, shown.told))]
    batch.problems = [one.plain() for one in (*in_order(shown.problems)[:MAX_PROBLEMS], *about)]
    batch.comparison = {**shown.plain(), "mark": comparer.mark}
    batch.status = ImportBatch.UPLOADED
    with transaction.atomic():
        batch.save()
        differences.keep()
    return batch


def order(batch_id: int, by: Any) -> ImportBatch:
    """Say that a batch is to be written: refused at once where it cannot be. Raises Refusal."""
    batch = ImportBatch.objects.select_related("job").get(pk=batch_id)
    if reason := why_not_taken(batch):
        raise Refusal(reason)
    batch.confirmed_by = by.get_username()
    batch.save(update_fields=["confirmed_by"])
    return batch


def why_not_taken(batch: ImportBatch) -> str:
    """Why a batch cannot be written now, or that it was already; or ""."""
    if batch.status == ImportBatch.CONFIRMED and batch.confirmed_at is not None:
        when = timezone.localtime(batch.confirmed_at)
        return ngettext(
            "This list was taken in already, by %(confirmed_by)s on %(when)s: %(rows)s joint. It is not taken twice.",
            "This list was taken in already, by %(confirmed_by)s on %(when)s: %(rows)s joints. It is not taken twice.",
            batch.row_count,
        ) % {"confirmed_by": batch.confirmed_by, "when": f"{when:%Y-%m-%d %H:%M}", "rows": f"{batch.row_count:,}"}
    if batch.status == ImportBatch.NAMING:
        return gettext("Its columns are not named yet. Name them first; nothing was written.")
    if not batch.comparison:
        return gettext("It was not read yet. Compare it first; nothing was written.")
    if known := _known(batch.job, batch.sha256):
        return known
    if errors := batch.errors:
        return ngettext(
            "%(errors)s cell cannot be taken. Correct it; nothing was written.",
            "%(errors)s cells cannot be taken. Correct them; nothing was written.",
            len(errors),
        ) % {"errors": len(errors)}
    contested = batch.comparison.get("contested", 0)
    if not contested:
        return ""
    return ngettext(
        "%(contested)s field was changed on both sides. Say which counts; nothing was written.",
        "%(contested)s fields were changed on both sides. Say which counts; nothing was written.",
        contested,
    ) % {"contested": contested}


def run_import(batch_id: int, progress: Progress = silent) -> int:
    """Write an ordered batch in one transaction and return how many joints it spoke of.

    Run again after it was written it changes nothing. Raises Refusal, or whatever `progress` raises; then nothing is
    written.
    """
    try:
        with transaction.atomic(), gathered():
            batch = ImportBatch.objects.select_for_update().get(pk=batch_id)
            if batch.status != ImportBatch.CONFIRMED:
                _run(batch, progress)
            return batch.row_count
    except IntegrityError as error:
        raise Refusal(
            gettext("Not taken in: somebody else changed the job in between (%(error)s). Compare it again.")
            % {"error": error}
        ) from None


def confirm(batch_id: int, by: Any, progress: Progress = silent) -> int:
    """Order and write at once. Raises Refusal; then nothing is written."""
    order(batch_id, by)
    return run_import(batch_id, progress)


def _run(batch: ImportBatch, progress: Progress) -> None:
    by = get_user_model().objects.get_by_natural_key(batch.confirmed_by)
    Job.objects.select_for_update().get(pk=batch.job_id)
    _refuse_known(batch.job, batch.sha256)
    progress(0, batch.row_count, READING)
    table, found, _ = _table(batch)
    comparer = Comparer(batch.job, batch, found.fields.values(), _ids(table, found))
    writer = Writer(batch, comparer, by)
    done = 0
    for chunk in comparer.matched(Reader(table, found, _setting(batch)).rows()):
        if any(one.contested or any(not p.is_note for p in one.problems) for one in chunk):
            raise Refusal(CHANGED_BETWEEN)
        writer.chunk(chunk)
        done += len(chunk)
        progress(done, batch.row_count, WRITING)
    left = comparer.removed()
    if comparer.mark != batch.comparison.get("mark"):
        raise Refusal(CHANGED_BETWEEN)
    writer.finish(left)
    if batch.is_model:
        take_geometry(batch)
    progress(done, done, ANSWERING)
    answers = keep_answers(batch, timezone.localdate())
    forget(batch)
    batch.status, batch.confirmed_at = ImportBatch.CONFIRMED, timezone.now()
    batch.save()
    counts = {"joints": writer.added, "changed": writer.changed, "removed": len(left)}
    after: dict[str, Any] = {"file": batch.file_name}
    after |= {name: n for name, n in counts.items() if n or name == "joints"}
    after[SEALED] = facts_of(batch, writer.differences, answers)
    record_act(by, f"took in a {batch.kind} of welds", batch.job, after=after)


def _table(batch: ImportBatch) -> tuple[Table, Columns, list[Problem]]:
    """What was sent in, read again, with its columns, and what the model says besides. Raises Refusal."""
    more: list[Problem] = []
    if batch.is_model:
        table, more = table_of(extract_of(batch))
    else:
        table = list_table(batch)
    head = table.rows[0][1]
    if not batch.columns:
        return table, columns(head), more
    fields = {int(index): name for index, name in batch.columns["fields"].items()}
    return table, named(head, fields, {int(i) for i, unit in batch.columns["units"].items() if unit == INCH}), more


def list_table(batch: ImportBatch) -> Table:
    """The cells of a list that was sent in: as they were read then, or read anew from what was sent. Raises Refusal."""
    if batch.extract:
        try:
            return unpacked(store.read(batch.extract))
        except (NotKept, store.Damaged):
            pass  # it follows from the file, which is the evidence
    return read_file(_sent(batch))


def _sent(batch: ImportBatch) -> bytes:
    """The bytes that were sent in. Raises Refusal."""
    try:
        return store.read(batch.sha256)
    except store.Damaged as damaged:
        raise Refusal(
            gettext("What was sent in can no longer be read: %(damaged)s. Send it again.") % {"damaged": damaged}
        ) from None


def _ids(table: Table, found: Columns) -> set[str]:
    """The identities of a model that a list names."""
    at = next((index for index, name in found.fields.items() if name == "model_id"), None)
    return set() if at is None else {str(row[at]) for _, row in table.rows[1:] if at < len(row) and row[at] != ""}


def _setting(batch: ImportBatch) -> Setting:
    """What a batch is read against."""
    stations = dict(stations_for(batch.job).values_list("name", "pk"))
    return Setting(stations, batch.defaults, batch.corrections, batch.is_model)


def _refuse_known(job: Job, sha: str) -> None:
    if known := _known(job, sha):
        raise Refusal(known)


def _known(job: Job, sha: str) -> str:
    """When the same file was taken into the job, or ""."""
    known = ImportBatch.objects.filter(job=job, sha256=sha, status=ImportBatch.CONFIRMED).first()
    if known is None:
        return ""
    when = timezone.localtime(known.confirmed_at)
    return gettext(
        "The same file was taken into this job already, as %(file_name)s by %(confirmed_by)s on "
        "%(when)s at %(when2)s. Nothing was changed."
    ) % {
        "file_name": known.file_name,
        "confirmed_by": known.confirmed_by,
        "when": f"{when:%Y-%m-%d}",
        "when2": f"{when:%H:%M}",
    }
