"""The joints of a job as the list that we read: taken away, it comes back in unchanged."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

from joints.imports.fields import DECIMAL_FIELDS, plain_of
from joints.imports.rows import GUARDED
from joints.imports.template import COLUMNS, headings
from joints.models import Job, Joint


def list_rows(job: Job) -> Iterator[tuple[Any, ...]]:
    """The headings, then a row for each joint that is still welded: sizes as numbers, everything else as text."""
    yield headings()
    around = ("assembly", "final_workstation", "tack_workstation")
    joints = Joint.objects.filter(assembly__job=job).select_related(*around)
    for joint in joints.order_by("assembly__order_key", "assembly_id", "order_key", "pk").iterator(1000):
        yield tuple(_cell(joint, name) for name in COLUMNS)


def _cell(joint: Joint, name: str) -> Any:
    if name in ("assembly_title", "assembly_kind"):
        return _text(getattr(joint.assembly, name.removeprefix("assembly_")))
    said = plain_of(joint, name)
    if not said:
        return ""
    if name in DECIMAL_FIELDS:
        return Decimal(said)
    return date.fromisoformat(said) if name == "weld_date" else _text(said)


def _text(said: str) -> str:
    """A text that would lose an apostrophe on its way back gets one more."""
    return f"'{said}" if GUARDED.match(said) else said
