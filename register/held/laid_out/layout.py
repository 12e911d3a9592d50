"""How a table of the codes is laid out for a reader: title, heads, a line for each row, and where it stands."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from importlib import import_module
from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.asme_ix_2021.sources import Rule as IxRule
from codes.clauses import Clause, Mark

Line = tuple[str, ...]


SURE = _("how sure")
"""The head of the column that says how sure the register is of each row."""


@dataclass(frozen=True, slots=True)
class Place:
    """A clause with how sure the register is of it, and on what public source. No mark: each row says its own."""

    clause: str
    mark: Mark | None
    source: str = ""

    @property
    def cited(self) -> str:
        """The public source, "" where there is none that the mark does not say already."""
        return cited(self.source)


def cited(source: str) -> str:
    """What a source names beside "from memory", which the mark says. Example: "from memory; page 3" gives "page 3"."""
    parts = (part for part in source.split("; ") if part and not part.startswith(("from memory", "no public source")))
    return "; ".join(dict.fromkeys(parts))


@dataclass(frozen=True, slots=True)
class Stands:
    """Where a table stands, said in the layout's words; how sure the register is, `of` says: a clause of the codes.

    Example: Stands("ISO 15614-1:2017, 8.3.2, Table 8", "deposit.TABLE_8").
    """

    clause: str
    of: str


@dataclass(frozen=True, slots=True)
class Part:
    """Where a part of a table stands, `words` naming the part; place and mark say `of`, a clause of the codes.

    Example: Part(_("SAW"), "electrical.LINE_18_SAW").
    """

    words: Any
    of: str


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

    `places`: where it stands; a string names a clause of the module, with a dot of another one of its package, with two
    of another package. How sure the register is always follows from there, as it does where it judges.
    """

    module: str
    name: str
    title: Any
    heads: tuple[Any, ...]
    line: Callable[..., Line]
    places: tuple[Part | Stands | str, ...]
    note: Any = ""

    @property
    def key(self) -> str:
        """Module and name. Example: "iso_15614_1_2017.table_5.PARTNERS"."""
        return f"{self.module}.{self.name}"

    def made(self) -> DataTable:
        """The table in the language of the reader; a column of marks where the rows are not equally sure."""
        rows = getattr(_module(self), self.name)
        clauses = [row.clause for row in _values(rows) if isinstance(getattr(row, "clause", None), Clause)]
        lines = [self.line(*item) for item in rows.items()] if isinstance(rows, dict) else list(map(self.line, rows))
        heads = tuple(map(str, self.heads))
        if len({clause.mark for clause in clauses}) > 1 and str(SURE) not in heads:
            heads = (*heads, str(SURE))
            lines = [(*line, clause.mark.value) for line, clause in zip(lines, clauses, strict=True)]
        by_row = str(SURE) in heads
        return DataTable(str(self.title), heads, tuple(lines), self._places(clauses, by_row), str(self.note))

    def _place(self, one: Part | Stands | str) -> Place:
        module, _, name = (one if isinstance(one, str) else one.of).rpartition(".")
        path = module if "." in module else f"{self.module.partition('.')[0]}.{module}" if module else self.module
        found = place_of(getattr(import_module(f"codes.{path}"), name))
        if isinstance(one, Part):
            return replace(found, clause=f"{found.clause} ({one.words})")
        return replace(found, clause=one.clause) if isinstance(one, Stands) else found

    def _places(self, clauses: list[Clause], by_row: bool) -> tuple[Place, ...]:
        """Where it stands: what the layout names, then what the rows name themselves."""
        named = [self._place(one) for one in self.places]
        if not by_row:
            return tuple(dict.fromkeys([*named, *map(place_of, clauses)]))
        sources: dict[str, list[str]] = {}
        for place in (*named, *map(place_of, clauses)):
            sources.setdefault(place.clause, []).append(place.source)
        return tuple(Place(one, None, "; ".join(dict.fromkeys(found))) for one, found in sources.items())


def _values(rows: Any) -> Iterable[Any]:
    return rows.values() if isinstance(rows, dict) else rows


def _module(layout: Layout) -> Any:
    return import_module(f"codes.{layout.module}")


def place_of(clause: Any) -> Place:
    """The place of a clause, or of a rule of ASME IX or AWS D1.1 that its editions share."""
    if isinstance(clause, Clause):
        words = str(clause)
    else:
        words = f"ASME IX, {clause.ref}" if isinstance(clause, IxRule) else "; ".join(map(str, clause.everywhere()))
    return Place(words, clause.mark, clause.source)
