"""Every table and clause that the code packages state, found by looking into their modules."""

import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import Any

import codes
from codes.asme_ix_2021.edition_table import stands
from codes.asme_ix_2021.sources import Rule as IxRule
from codes.asme_ix_people_2023 import as_2023
from codes.aws_d1_1.book import Rule as D11Rule
from codes.aws_d1_1_people_2015 import as_2015
from codes.clauses import Clause, Mark
from register.held.laid_out import LAYOUTS, DataTable, cited

DEPTH = 6
IX_PEOPLE, D11_PEOPLE = "ASME IX:2021", "AWS D1.1:2020"
SISTERS: dict[str, Callable[[Clause], Clause]] = {"asme_ix_people_2021": as_2023, "aws_d1_1_people_2020": as_2015}
"""Packages whose rules another edition has too, and how it cites them."""


@dataclass(frozen=True, slots=True)
class HeldClause:
    """A clause that verdicts cite. `key` is what a tick is kept under."""

    key: str
    standard: str
    ref: str
    mark: Mark
    source: str

    @property
    def cited(self) -> str:
        """The public source, "" where there is none."""
        return cited(self.source)


@cache
def held_clauses() -> tuple[HeldClause, ...]:
    """All clauses of all packages, by standard and reference; of several marks for one clause the least certain."""
    found: dict[str, HeldClause] = {}
    for module in _modules():
        for clause in _with_sister(module.__name__, _clauses(vars(module).values(), DEPTH)):
            known = found.get(str(clause))
            if known is None or _doubt(clause.mark) > _doubt(known.mark):
                found[str(clause)] = HeldClause(
                    str(clause), clause.standard, clause.ref, clause.mark, clause.source or _source(known)
                )
    return tuple(sorted(found.values(), key=lambda c: (c.standard, _natural(c.ref))))


def data_tables(package: str) -> tuple[DataTable, ...]:
    """The tables of one package, laid out. Example: data_tables("iso_9606_1_2012")."""
    return tuple(layout.made() for layout in LAYOUTS.get(package, ()))


def _source(known: HeldClause | None) -> str:
    return known.source if known else ""


def _doubt(mark: Mark) -> int:
    return [Mark.CONFIRMED, Mark.OWN, Mark.PART, Mark.MEMORY, Mark.DOUBT].index(mark)


def _natural(ref: str) -> tuple[tuple[int, int, str], ...]:
    """A key that puts clause 5.10 after 5.9."""
    parts = "".join(ch if ch.isalnum() else " " for ch in ref).split()
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)


def _with_sister(module: str, clauses: Iterator[Clause]) -> Iterator[Clause]:
    """The clauses, and the same in the edition that takes its figures from this package."""
    sister = SISTERS.get(module.split(".")[1])
    for clause in clauses:
        yield clause
        if sister and clause.standard in (IX_PEOPLE, D11_PEOPLE):
            yield sister(clause)


def _held(clause: Clause) -> bool:
    """False for a paragraph of ASME IX that had left the code before its edition."""
    standard, _, year = clause.standard.partition(":")
    return standard != "ASME IX" or stands(clause.ref.removeprefix("QW-").partition(",")[0], int(year))


@cache
def _modules() -> tuple[ModuleType, ...]:
    """All modules of all packages in `codes`; the common modules state no clause of a code by themselves."""
    names = [
        found.name for found in pkgutil.walk_packages(codes.__path__, "codes.") if not found.name.endswith("__main__")
    ]
    return tuple(import_module(name) for name in names)


def _clauses(values: Any, depth: int) -> Iterator[Clause]:
    for value in values:
        if isinstance(value, Clause):
            yield value
        elif isinstance(value, IxRule | D11Rule):
            yield from (clause for clause in value.everywhere() if _held(clause))
        elif depth and isinstance(value, dict):
            yield from _clauses(value.values(), depth - 1)
        elif depth and isinstance(value, tuple | list | frozenset):
            yield from _clauses(value, depth - 1)
        elif depth and is_dataclass(value) and not isinstance(value, type):
            yield from _clauses((getattr(value, field.name) for field in fields(value)), depth - 1)
