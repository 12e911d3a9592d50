"""Writing the log of acts, and the name in every history row."""

from collections.abc import Mapping
from typing import Any

from django.db.models import Model
from django.dispatch import receiver
from simple_history.models import HistoricalRecords
from simple_history.signals import pre_create_historical_record

from register.languages import in_own_language
from register.models import AuditEntry
from register.plants.reach import current
from register.plants.standing import standing
from register.trail.sealing import seal_waiting

Values = Mapping[str, Any]


@in_own_language
def record_act(
    by: Any,
    act: str,
    subject: Model | None = None,
    *,
    before: Values | None = None,
    after: Values | None = None,
    note: str = "",
) -> AuditEntry:
    """Write one entry: user `by` (None: the register itself) did `act` ("approved") to `subject`.

    before and after must be JSON values; give Decimal and dates as text. Call it inside the transaction of
    the act, so that neither stands without the other. Lazy texts, and what the subject calls itself, are kept in the
    register's own language; a text that is made already is kept as it is.
    """
    seal_waiting()
    return AuditEntry.objects.create(
        user_name=by.get_username() if by is not None else "",
        act=act,
        subject_type=subject._meta.label_lower if subject is not None else "",
        subject_id=str(subject.pk) if subject is not None else "",
        subject=str(subject)[:250] if subject is not None else "",
        before=dict(before) if before is not None else None,
        after=dict(after) if after is not None else None,
        note=note,
        plant_id=_plant_of(subject, by),
    )


def _plant_of(subject: Model | None, by: Any) -> int | None:
    """The plant that an act belongs to: that of the thing, else that of whoever acts; None in a register of one."""
    where = standing(by) if getattr(by, "pk", None) is not None else None
    if current().plants is None and where is not None and not where.plants:
        return None
    own: int | None = getattr(subject, "home_plant", None)
    if own is not None or by is None:
        return own
    return where.at if where is not None else next(iter(current().key or ()), None)


def acts_on(subject: Model) -> Any:
    """All entries about one thing, newest first, as a queryset: whoever sees the thing sees what was done to it."""
    return AuditEntry.everything.filter(subject_type=subject._meta.label_lower, subject_id=str(subject.pk))


@receiver(pre_create_historical_record)
def name_the_user(sender: type[HistoricalRecords], **kwargs: Any) -> None:
    """Keep the user's name as text in the history row that is about to be written."""
    entry, user = kwargs["history_instance"], kwargs["history_user"]
    if hasattr(entry, "history_user_name"):
        entry.history_user_name = user.get_username() if user is not None else ""
