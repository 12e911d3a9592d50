"""Versions of many joints in one statement, copied by the database from the rows themselves."""

from typing import Any

from django.db import connection
from django.db.models import Max, QuerySet
from django.utils import timezone

from joints.models import ImportBatch, ImportDifference, Joint
from register.trail.sealing import seal

ADDED, CHANGED = "+", "~"


def keep_versions(batch: ImportBatch, reason: str, by: Any) -> None:
    """Write the history of all joints that a batch put on file or changed. Call it once, after its last row."""
    kinds = (ImportDifference.CHANGED, ImportDifference.BACK, ImportDifference.REMOVED)
    changed = ImportDifference.everything.filter(batch=batch, kind__in=kinds)
    _copy(Joint.everything.filter(source=batch), ADDED, reason, by)
    _copy(Joint.everything.filter(pk__in=changed.values("joint_id")), CHANGED, reason, by)


def _copy(joints: QuerySet[Joint], kind: str, reason: str, by: Any) -> None:
    versions = Joint.history.model._meta  # type: ignore[attr-defined]
    own = {field.attname: field.column for field in Joint._meta.concrete_fields}
    said = {
        "history_date": timezone.now(),
        "history_type": kind,
        "history_change_reason": reason,
        "history_user_id": by.pk,
        "history_user_name": by.get_username(),
    }
    fields = [field for field in versions.concrete_fields if not field.primary_key]
    quote = connection.ops.quote_name
    columns = ", ".join(quote(field.column) for field in fields)
    values = ", ".join(quote(own[f.attname]) if f.attname in own else "%s" for f in fields)
    params = [f.get_db_prep_save(said[f.attname], connection) for f in fields if f.attname not in own]
    last = versions.model._base_manager.aggregate(last=Max("pk"))["last"] or 0
    which, more = joints.order_by().values("pk").query.sql_with_params()
    table, source, key = quote(versions.db_table), quote(Joint._meta.db_table), quote(Joint._meta.pk.column)
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO {table} ({columns}) SELECT {values} FROM {source} WHERE {key} IN ({which}) ORDER BY {key}",
            [*params, *more],
        )
    made = versions.model._base_manager.filter(pk__gt=last, id__in=joints.order_by().values("pk"))
    seal(versions.model, made.order_by("pk").values_list("pk", flat=True))
