"""How a row stood on an earlier day: the fields that read differently then, from its kept versions."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from django.db.models import Model
from django.utils import timezone
from django.utils.translation import gettext

from qualifications.changes import SILENT
from register.trail.changed import text_of


@dataclass(frozen=True, slots=True)
class Past:
    """What differed on that day: (field, then, now) each; `entered` says that the row came on file only later."""

    day: date
    differences: tuple[tuple[str, str, str], ...] = ()
    entered: date | None = None

    def __bool__(self) -> bool:
        return bool(self.differences or self.entered)


def past_of(row: Model, on: date, today: date) -> Past:
    """The row as the register held it at the end of a day; nothing to say for today and the future. One query."""
    if on >= today:
        return Past(on)
    history = row.history  # type: ignore[attr-defined]
    then = history.filter(history_date__lt=_midnight_after(on)).first()
    if then is None:
        first: Any = history.last()
        return Past(on, entered=timezone.localtime(first.history_date).date() if first else None)
    fields = [f for f in row._meta.concrete_fields if f.name not in SILENT]
    differing = [f for f in fields if getattr(then, f.attname, None) != getattr(row, f.attname)]
    return Past(
        on,
        tuple(
            (gettext(str(f.verbose_name)), text_of(getattr(then, f.attname)), text_of(getattr(row, f.attname)))
            for f in differing
        ),
    )


def _midnight_after(on: date) -> datetime:
    return timezone.make_aware(datetime.combine(on + timedelta(days=1), time.min))
