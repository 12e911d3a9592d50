"""How a sender heads his columns: named once on the page, known again for the same edition of headings."""

from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any

from joints.imports.columns import INCH, LENGTHS, Columns, named, written_headings
from joints.imports.table import Cell
from joints.models import ImportBatch, ListSender, SenderColumns

AT_MOST = 120


def edition_of(head: Sequence[Cell]) -> str:
    """What a row of headings is known by: its words in their order, whatever the case and the spaces around."""
    said = "\n".join(" ".join(heading.casefold().split()) for heading in written_headings(head))
    return sha256(said.encode()).hexdigest()


def known_columns(sender: ListSender, head: Sequence[Cell]) -> dict[str, Any] | None:
    """The columns as they were named for these headings, or None. Raises Refusal where they no longer do."""
    kept = SenderColumns.objects.filter(sender=sender, edition=edition_of(head)).first()
    if kept is None:
        return None
    plain = {"fields": kept.fields, "units": kept.units}
    named(head, {int(index): name for index, name in kept.fields.items()})
    return plain


def name_columns(
    batch: ImportBatch, head: Sequence[Cell], fields: Mapping[int, str], units: Mapping[int, str], by: Any
) -> Columns:
    """Name the columns of a batch, and keep them for its sender. Raises Refusal; then nothing is kept."""
    inches = {index for index, unit in units.items() if unit == INCH and fields.get(index) in LENGTHS}
    found = named(head, fields, inches)
    plain = {
        "fields": {str(index): name for index, name in found.fields.items()},
        "units": {str(index): INCH for index in sorted(found.inches)},
    }
    batch.columns = plain
    batch.save(update_fields=["columns"])
    if batch.sender is not None:
        SenderColumns.objects.update_or_create(
            sender=batch.sender,
            edition=edition_of(head),
            defaults={**plain, "headings": list(found.headings), "named_by": by.get_username()},
        )
    return found


def sender_named(name: str) -> ListSender | None:
    """The sender of that name, whatever the case; a new one where there is none; None for no name."""
    said = " ".join(name.split())[:AT_MOST]
    if not said:
        return None
    known = ListSender.objects.filter(name__iexact=said).first()
    return known or ListSender.objects.create(name=said)
