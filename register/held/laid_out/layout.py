"""How a table of the codes is laid out for a reader: title, heads, a line for each row, and where it stands."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from codes.clauses import Clause, Mark

Line = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Place:
    """A clause with how sure the register is of it, and on what public source."""

    clause: str
    mark: Mark
    source: str = ""


@dataclass(frozen=True, slots=True)
class DataTable:
    """One table as a reader sees it. `note`: what counts beside the figures."""

    name: str
    heads: Line
    rows: tuple[Line, ...]
    places: tuple[Place, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """The table `name` of a module of `codes`. `line`: a row (of a dict: key and value) in words.

    `places`: where it stands; a string names a clause of the module.
    """

    module: str
    name: str
    title: Any
    heads: tuple[Any, ...]
    line: Callable[..., Line]
    places: tuple[Place | str, ...]
    note: Any = ""

    @property
    def key(self) -> str:
        """Module and name. Example: "iso_15614_1_2017.table_5.PARTNERS"."""
        return f"{self.module}.{self.name}"

    def made(self) -> DataTable:
        """The table in the language of the reader."""
        return DataTable(str(self.title), tuple(map(str, self.heads)), _lines(self), _places(self), str(self.note))


def _lines(layout: Layout) -> tuple[Line, ...]:
    rows = getattr(_module(layout), layout.name)
    return (
        tuple(layout.line(*item) for item in rows.items()) if isinstance(rows, dict) else tuple(map(layout.line, rows))
    )


def _places(layout: Layout) -> tuple[Place, ...]:
    """Where it stands: what the layout names, then what the rows name themselves."""
    found = [
        place if isinstance(place, Place) else place_of(getattr(_module(layout), place)) for place in layout.places
    ]
    rows = getattr(_module(layout), layout.name)
    found += [place_of(row.clause) for row in _values(rows) if isinstance(getattr(row, "clause", None), Clause)]
    return tuple(dict.fromkeys(found))


def _values(rows: Any) -> Iterable[Any]:
    return rows.values() if isinstance(rows, dict) else rows


def _module(layout: Layout) -> Any:
    return import_module(f"codes.{layout.module}")


def place_of(clause: Any) -> Place:
    """The place of a clause, or of a rule of ASME IX that stands alike in its editions."""
    words = str(clause) if isinstance(clause, Clause) else f"ASME IX, {clause.ref}"
    return Place(words, clause.mark, clause.source)
