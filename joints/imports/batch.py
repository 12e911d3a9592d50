"""The two steps of an import: what was sent in is kept and shown; confirmed, it is written whole or not at all."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone
from simple_history.utils import bulk_create_with_history

from joints.imports.files import digest, read_file
from joints.imports.rows import Reading, Setting, read_rows
from joints.imports.table import Refusal
from joints.models import Assembly, ImportBatch, Job, Joint, Workstation
from joints.order import natural_key
from register.audit import record_act

PLAIN_FIELDS = (
    "number", "weld_type", "joint_type", "product", "grade_1", "grade_2", "rotated", "position", "weld_detail",
    "gouging", "preparation", "final_process", "tack_process", "remarks",
)  # fmt: skip
DECIMAL_FIELDS = (
    "t1_mm", "t2_mm", "throat_mm", "leg_mm", "penetration_mm", "length_mm", "diameter_mm", "branch_angle_deg",
    "tack_length_mm", "tack_throat_mm",
)  # fmt: skip


def take_in(job: Job, name: str, data: bytes, defaults: Mapping[str, str], by: Any) -> ImportBatch:
    """Read a list and keep it to be looked at; no joint is written. Raises Refusal, and then nothing is kept."""
    sha = digest(data)
    _refuse_known(job, sha)
    reading = read_rows(read_file(data), setting(job, defaults))
    return ImportBatch.objects.create(
        job=job,
        file_name=name[:250],
        sha256=sha,
        rows=list(reading.rows),
        problems=_kept(reading),
        uploaded_by=by.get_username(),
    )


def setting(job: Job, defaults: Mapping[str, str]) -> Setting:
    """What a list for this job is read against."""
    known = Joint.objects.filter(assembly__job=job).values_list("assembly__mark", "number")
    stations = dict(Workstation.objects.values_list("name", "pk"))
    return Setting(stations, frozenset(known), defaults)


def confirm(batch_id: int, by: Any) -> int:
    """Write all joints of a batch in one transaction and return how many. Raises Refusal; then nothing is written."""
    try:
        with transaction.atomic():
            return _confirm(ImportBatch.objects.select_for_update().select_related("job").get(pk=batch_id), by)
    except IntegrityError as error:
        raise Refusal(
            f"Not taken in: somebody else changed the job in between ({error}). Send the list again."
        ) from None


def _confirm(batch: ImportBatch, by: Any) -> int:
    if batch.status == ImportBatch.CONFIRMED:
        raise Refusal(f"This list was taken in already, by {batch.confirmed_by}. Nothing was changed.")
    _refuse_known(batch.job, batch.sha256)
    if errors := [p for p in batch.problems if not p.get("is_note")]:
        raise Refusal(f"{len(errors)} cells cannot be taken. Correct the list and send it again; nothing was written.")
    rows = [(int(row["row"]), row["values"]) for row in batch.rows]
    _refuse_on_file(batch.job, [values for _, values in rows])
    assemblies = _assemblies(batch.job, [values for _, values in rows])
    stations = dict(Workstation.objects.values_list("name", "pk"))
    joints = [_joint(number, values, assemblies[values["assembly"]], stations, batch) for number, values in rows]
    _write(joints, Joint, by, f"list {batch.file_name}")
    batch.status, batch.confirmed_by, batch.confirmed_at = ImportBatch.CONFIRMED, by.get_username(), timezone.now()
    batch.save()
    record_act(by, "took in a list of welds", batch.job, after={"file": batch.file_name, "joints": len(joints)})
    return len(joints)


def _write(things: Sequence[Any], model: type[Any], by: Any, reason: str) -> None:
    bulk_create_with_history(
        things,
        model,
        batch_size=500,
        default_user=by,
        default_change_reason=reason,
        custom_historical_attrs={"history_user_name": by.get_username()},
    )


def _refuse_known(job: Job, sha: str) -> None:
    known = ImportBatch.objects.filter(job=job, sha256=sha, status=ImportBatch.CONFIRMED).first()
    if known is not None:
        when = timezone.localtime(known.confirmed_at)
        raise Refusal(
            f"The same file was taken into this job already, as {known.file_name} by {known.confirmed_by} "
            f"on {when:%Y-%m-%d} at {when:%H:%M}. Nothing was changed."
        )


def _refuse_on_file(job: Job, rows: Iterable[Mapping[str, str]]) -> None:
    known = set(Joint.objects.filter(assembly__job=job).values_list("assembly__mark", "number"))
    twice = [v for v in rows if (v["assembly"], v["number"]) in known]
    if twice:
        raise Refusal(
            f"Joint {twice[0]['number']} of assembly {twice[0]['assembly']} came on file after this list was read. "
            "Send the list again to see what is new; nothing was written."
        )


def _assemblies(job: Job, rows: Sequence[Mapping[str, str]]) -> dict[str, Assembly]:
    """The assemblies that the rows name, new ones made in the order of the list."""
    known = {assembly.mark: assembly for assembly in job.assemblies.all()}
    for values in rows:
        if values["assembly"] not in known:
            known[values["assembly"]] = Assembly.objects.create(
                job=job,
                mark=values["assembly"],
                title=values.get("assembly_title", ""),
                kind=values.get("assembly_kind", ""),
            )
    return known


def _joint(
    row: int, values: Mapping[str, str], assembly: Assembly, stations: Mapping[str, int], batch: ImportBatch
) -> Joint:
    fields: dict[str, Any] = {name: values.get(name, "") for name in PLAIN_FIELDS}
    fields |= {name: Decimal(values[name]) for name in DECIMAL_FIELDS if name in values}
    for phase in ("final", "tack"):
        name = values.get(f"{phase}_workstation")
        if name and name not in stations:
            raise Refusal(f"The workstation {name} is no longer on file. Send the list again; nothing was written.")
        fields[f"{phase}_workstation_id"] = stations[name] if name else None
    planned = values.get("weld_date")
    return Joint(
        assembly=assembly,
        order_key=natural_key(values["number"]),
        weld_date=date.fromisoformat(planned) if planned else None,
        source_row=row,
        source=batch,
        **fields,
    )


def _kept(reading: Reading) -> list[dict[str, object]]:
    """Problems, and what to know of the file as notes on row 0."""
    notes = [{"row": 0, "column": "", "message": note, "is_note": True} for note in reading.notes]
    return [problem.plain() for problem in reading.problems] + notes
