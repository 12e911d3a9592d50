"""What an import changes, in words and lines."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import FieldDoesNotExist
from django.urls import reverse

from joints.answers import count
from joints.imports.columns import LENGTHS, TITLES
from joints.models import ImportBatch
from joints.weld_data.words import value_words

KINDS = (
    ("changed", "Changed", "In the list", "On file"),
    ("kept", "Kept as corrected here; the list still says otherwise", "In the list", "Kept"),
    ("removed", "No longer in the list: marked as removed, kept on file", "", ""),
)


@dataclass(frozen=True, slots=True)
class Line:
    """One difference: the joint, the field, and both values in words."""

    key: str
    joint: str
    url: str
    field: str
    before: str
    after: str

    @classmethod
    def of(cls, said: Mapping[str, Any]) -> "Line":
        """From the plain form that the batch keeps."""
        field = said.get("field", "")
        return cls(
            key=f"{said['pk']}:{field}",
            joint=f"{said['number']} of {said['assembly']}",
            url=reverse("joints:joint", args=[said["pk"]]),
            field=column_title(field),
            before=plain_words(field, said.get("before", "")),
            after=plain_words(field, said.get("after", "")),
        )


@dataclass(frozen=True, slots=True)
class Group:
    """All differences of one kind: the first lines, and how many there are."""

    name: str
    title: str
    lines: list[Line]
    more: int


def column_title(field: str) -> str:
    """The name of a column of ours. Example: "t1_mm" gives "Thickness 1"."""
    return TITLES.get(field, field.replace("_", " "))


def plain_words(field: str, said: str) -> str:
    """A plain value as people read it, also one that could not be read."""
    if not field or (field in LENGTHS and not re.fullmatch(r"[\d.]*", said)):
        return said
    try:
        return value_words(field, said)
    except FieldDoesNotExist:
        return said or "not stated"


def lines_of(batch: ImportBatch) -> list[Group]:
    """What a batch changes, kind by kind; kinds that it has none of are left out."""
    held = batch.comparison.get("lines", {})
    found = []
    for name, title, *_ in KINDS:
        lines = [Line.of(one) for one in held.get(name, ())]
        total = batch.comparison.get("fields" if name == "changed" else name, 0)
        if lines:
            found.append(Group(name, title, lines, max(0, total - len(lines))))
    return found


def news(batch: ImportBatch) -> str:
    """What a batch brings, in one sentence. Example: "2 joints added, 1 changed (3 fields), 5 as before.\""""
    held = batch.comparison
    if not held:
        return ""
    said = [
        f"{count(held['added'], 'joint', 'joints')} added" if held["added"] else "",
        f"{held['changed']:,} changed ({count(held['fields'], 'field', 'fields')})" if held["changed"] else "",
        f"{held['back']:,} in it again" if held["back"] else "",
        f"{held['removed']:,} no longer in it" if held["removed"] else "",
        f"{held['same']:,} as before" if held["same"] else "",
    ]
    return f"{', '.join(filter(None, said)) or 'Nothing new'}."


def has_differences(batch: ImportBatch) -> bool:
    """True where what a batch changes can be listed line by line; all that a first list holds is new."""
    held = batch.comparison
    compared = any(held.get(name) for name in ("same", "changed", "removed", "kept", "contested"))
    return compared and any(held.get(name) for name in ("added", "changed", "removed", "kept", "contested"))
