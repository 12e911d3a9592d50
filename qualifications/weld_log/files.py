"""The two steps of a log file: what was sent in is kept and shown; taken in, it is written whole or not at all."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from decimal import Decimal
from hashlib import sha256
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext, ngettext
from simple_history.utils import bulk_create_with_history

from qualifications.models import Person, WeldLogBatch, WeldLogEntry
from qualifications.weld_log.cells import FIGURES, Known
from qualifications.weld_log.rows import Key, Setting, Values, key_of, leave_out, read_rows
from qualifications.weld_log.witness import SEALED
from qualifications.weld_log.witness import digest as digest_of
from register.audit import record_act
from register.lists.table import MAX_BYTES, Refusal, Table
from register.lists.text import read_csv
from register.roles import Capability, account_of, can

TEXT_FIELDS = ("process", "mechanisation", "weld_type", "position", "wps", "joint", "workstation", "note")


def loggable(user: Any) -> QuerySet[Person]:
    """The people whose welding the user may log: a supervisor's own people, everybody for a coordinator or a system."""
    rows = Person.objects.all()
    return rows if can(user, Capability.LOG_ANYBODY) else rows.filter(supervisor=user)


def take_in(name: str, data: bytes, by: Any, now: datetime) -> WeldLogBatch:
    """Read a file and keep it to be looked at; no entry is written. Raises Refusal, and then nothing is kept."""
    if not data:
        raise Refusal(gettext("The file is empty."))
    if len(data) > MAX_BYTES:
        raise Refusal(
            gettext("The file is larger than %(max_bytes)s MB. Split it by month.")
            % {"max_bytes": MAX_BYTES // 1024**2}
        )
    if data[:4] in (b"PK\x03\x04", b"\xd0\xcf\x11\xe0"):
        raise Refusal(gettext("The file is a workbook. Save it as CSV UTF-8 and send that."))
    return take_in_table(name, sha256(data).hexdigest(), read_csv(data), by, now)


def take_in_table(name: str, sha: str, table: Table, by: Any, now: datetime) -> WeldLogBatch:
    """Read a table and keep it as `take_in` does. `sha`: the hash by which the same sending is known again."""
    _refuse_known(sha)
    reading = read_rows(table, setting(by, now))
    if not reading.errors:
        leave_out(reading, on_file(reading.rows))
    notes = [{"row": 0, "column": "", "message": note, "is_note": True} for note in reading.notes]
    return WeldLogBatch.objects.create(
        file_name=name[:250],
        sha256=sha,
        rows=reading.rows,
        problems=[*(problem.plain() for problem in reading.problems), *notes],
        uploaded_by=by.get_username(),
    )


def setting(by: Any, now: datetime) -> Setting:
    """What a file sent in by somebody is read against."""
    own = set(loggable(by).values_list("pk", flat=True))
    rows = Person.objects.values_list("pk", "name", "identification", "left_on")
    people = tuple(Known(pk, name, stamp, left_on, pk in own) for pk, name, stamp, left_on in rows)
    return Setting(people, now)


def on_file(rows: Iterable[Mapping[str, Any]]) -> frozenset[Key]:
    """The welds of the log on the days that the rows span, as keys."""
    days = sorted(row["values"]["on"] for row in rows)
    if not days:
        return frozenset()
    found = WeldLogEntry.objects.filter(struck_out="", on__range=(days[0], days[-1]))
    fields = ("person_id", "at", "on", "process", "joint", "wps")
    return frozenset(key_of(_plain(*row)) for row in found.values_list(*fields))


def _plain(person: int, at: datetime | None, on: date, process: str, joint: str, wps: str) -> Values:
    moment = timezone.localtime(at).isoformat() if at else ""
    said = {"person": str(person), "at": moment, "on": on.isoformat(), "process": process, "joint": joint, "wps": wps}
    return {name: value for name, value in said.items() if value}


def confirm(batch_id: int, by: Any) -> int:
    """Write all welds of a file that are not on file yet, and return how many. Raises Refusal; nothing is written."""
    try:
        with transaction.atomic():
            return _confirm(WeldLogBatch.objects.select_for_update().get(pk=batch_id), by)
    except IntegrityError:
        raise Refusal(gettext("Not taken in: somebody else took the same file in at this moment.")) from None


def why_not_taken(batch: WeldLogBatch) -> str:
    """Why a file cannot be written now, or that it was already; or ""."""
    if batch.status == WeldLogBatch.CONFIRMED and batch.confirmed_at is not None:
        number, when = batch.entries.count(), timezone.localtime(batch.confirmed_at)
        return ngettext(
            "This file was taken in already, by %(confirmed_by)s on %(when)s: %(welds)s weld. It is not taken twice.",
            "This file was taken in already, by %(confirmed_by)s on %(when)s: %(welds)s welds. It is not taken twice.",
            number,
        ) % {"confirmed_by": batch.confirmed_by, "when": f"{when:%Y-%m-%d %H:%M}", "welds": f"{number:,}"}
    if known := _known(batch.sha256):
        return known
    errors = [p for p in batch.problems if not p.get("is_note")]
    if not errors:
        return ""
    return ngettext(
        "%(errors)s cell cannot be taken. Correct the file and send it again; nothing was written.",
        "%(errors)s cells cannot be taken. Correct the file and send it again; nothing was written.",
        len(errors),
    ) % {"errors": len(errors)}


def _confirm(batch: WeldLogBatch, by: Any) -> int:
    if reason := why_not_taken(batch):
        raise Refusal(reason)
    rows = [(int(row["row"]), row["values"]) for row in batch.rows]
    _refuse_strangers(rows, by)
    known = on_file(batch.rows)
    new = [(number, values) for number, values in rows if key_of(values) not in known]
    if not new:
        raise Refusal(gettext("Every weld of this file is on file already. Nothing was changed."))
    entries = [_entry(number, values, batch, by) for number, values in new]
    who = {"history_user_name": by.get_username()}
    account = account_of(by)
    bulk_create_with_history(entries, WeldLogEntry, batch_size=500, default_user=account, custom_historical_attrs=who)
    batch.status, batch.confirmed_by, batch.confirmed_at = WeldLogBatch.CONFIRMED, by.get_username(), timezone.now()
    batch.save()
    record_act(
        by,
        "took in a log file",
        batch,
        after={"file": batch.file_name, "welds": len(entries), SEALED: digest_of(batch.pk)},
    )
    return len(entries)


def _refuse_known(sha: str) -> None:
    if known := _known(sha):
        raise Refusal(known)


def _known(sha: str) -> str:
    """When the same file was taken in, or ""."""
    known = WeldLogBatch.objects.filter(sha256=sha, status=WeldLogBatch.CONFIRMED).first()
    if known is None or known.confirmed_at is None:
        return ""
    when = timezone.localtime(known.confirmed_at)
    return gettext(
        "The same file was taken in already, as %(file_name)s by %(confirmed_by)s on %(when)s at "
        "%(when2)s. Nothing was changed."
    ) % {
        "file_name": known.file_name,
        "confirmed_by": known.confirmed_by,
        "when": f"{when:%Y-%m-%d}",
        "when2": f"{when:%H:%M}",
    }


def _refuse_strangers(rows: Iterable[tuple[int, Values]], by: Any) -> None:
    """Whoever takes it in may log everybody it names, and they are still on file."""
    own = set(loggable(by).values_list("pk", flat=True))
    other = next((values for _, values in rows if int(values["person"]) not in own), None)
    if other is not None:
        raise Refusal(
            gettext("%(other)s does not report to you, or is no longer on file. Nothing was written.")
            % {"other": other["name"]}
        )


def _entry(number: int, values: Values, batch: WeldLogBatch, by: Any) -> WeldLogEntry:
    at = values.get("at")
    return WeldLogEntry(
        person_id=int(values["person"]),
        on=date.fromisoformat(values["on"]),
        at=datetime.fromisoformat(at) if at else None,
        entered_by=account_of(by),
        entered_by_name=by.get_full_name() or by.get_username(),
        source=batch,
        plant_id=batch.plant_id,
        source_row=number,
        **{name: values.get(name, "") for name in TEXT_FIELDS},
        **{name: Decimal(values[name]) for name in FIGURES if name in values},
    )
