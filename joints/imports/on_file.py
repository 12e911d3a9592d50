"""Joints as they stand on file, in the words of a list; read many at a time without an instance for each."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from joints.imports.fields import STATED_FIELDS, STATION_FIELDS
from joints.models import Joint, Workstation
from register.lists.cells import figure

AT_ONCE = 500
"""Joints asked for in one query."""
_COLUMNS = tuple(f"{name}_id" if name in STATION_FIELDS else name for name in STATED_FIELDS)


@dataclass(slots=True)
class OnFile:
    """One joint: `values` as plain text by field, `sent` what its sender wrote last time (None: no sender did)."""

    pk: int
    mark: str
    number: str
    has_left: bool = False
    values: Mapping[str, str] = field(default_factory=dict)
    sent: Mapping[str, str] | None = None

    @property
    def named(self) -> str:
        """With its assembly. Example: "Joint 39 of B102"."""
        return f"Joint {self.number} of {self.mark}"


class _Plain(dict[Any, str]):
    """Value of a field -> what a list would state. Examples: Decimal("5.000") gives "5", None gives ""."""

    def __missing__(self, value: Any) -> str:
        if isinstance(value, Decimal):
            said = figure(value)
        else:
            said = value.isoformat() if isinstance(value, date) else str(value)
        self[value] = said
        return said


class JointsOnFile:
    """Looks joints up by their keys."""

    def __init__(self) -> None:
        self._stations = {None: "", **{one.pk: str(one) for one in Workstation.everything.all()}}
        self._words = _Plain({None: ""})
        self._is_station = [name in STATION_FIELDS for name in STATED_FIELDS]

    def by_key(self, keys: Iterable[int]) -> dict[int, OnFile]:
        """Key -> joint, for those that are in sight."""
        rest, found = list(keys), {}
        for at in range(0, len(rest), AT_ONCE):
            for joint in self._read(rest[at : at + AT_ONCE]):
                found[joint.pk] = joint
        return found

    def _read(self, keys: list[int]) -> Iterator[OnFile]:
        rows = Joint.every.filter(pk__in=keys).order_by()
        said = rows.values_list("pk", "assembly__mark", "left_model_at", "as_sent__values", *_COLUMNS)
        words, stations = self._words, self._stations
        for pk, mark, left, sent, *raw in said:
            values = {
                name: stations[value] if is_station else value if value.__class__ is str else words[value]
                for name, is_station, value in zip(STATED_FIELDS, self._is_station, raw, strict=True)
            }
            values["assembly"] = mark
            yield OnFile(pk, mark, values["number"], left is not None, values, sent)
