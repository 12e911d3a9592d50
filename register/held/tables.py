"""Every table and clause that the code packages state, found by looking into their modules."""

import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import Any

import codes
from codes.clauses import Clause, Mark
from codes.editions import Edition, Field
from codes.limits import When
from codes.readings import Switch
from codes.values import Interval
from codes.variables import VARIABLES, Variable, label_of
from codes.words import lower_first

DEPTH = 6


@dataclass(frozen=True, slots=True)
class DataTable:
    """One table as data: where it stands, column heads, and rows of text."""

    name: str
    purpose: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class HeldClause:
    """A clause that verdicts cite. `key` is what a tick is kept under."""

    key: str
    standard: str
    ref: str
    mark: Mark
    source: str


@cache
def held_clauses() -> tuple[HeldClause, ...]:
    """All clauses of all packages, by standard and reference; of several marks for one clause the least certain."""
    found: dict[str, HeldClause] = {}
    for module in _modules():
        for clause in _clauses(vars(module).values(), DEPTH):
            known = found.get(str(clause))
            if known is None or _doubt(clause.mark) > _doubt(known.mark):
                found[str(clause)] = HeldClause(
                    str(clause), clause.standard, clause.ref, clause.mark, clause.source or _source(known)
                )
    return tuple(sorted(found.values(), key=lambda c: (c.standard, _natural(c.ref))))


@cache
def data_tables(package: str) -> tuple[DataTable, ...]:
    """The tables of one package, module by module. Example: data_tables("codes.iso_9606_1_2012")."""
    tables = (_module_tables(module) for module in _modules() if module.__name__.startswith(f"{package}."))
    return tuple(table for group in tables for table in group)


def _source(known: HeldClause | None) -> str:
    return known.source if known else ""


def _doubt(mark: Mark) -> int:
    return [Mark.CONFIRMED, Mark.OWN, Mark.PART, Mark.MEMORY, Mark.DOUBT].index(mark)


def _natural(ref: str) -> tuple[tuple[int, int, str], ...]:
    """A key that puts clause 5.10 after 5.9."""
    parts = "".join(ch if ch.isalnum() else " " for ch in ref).split()
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)


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
        elif depth and isinstance(value, dict):
            yield from _clauses(value.values(), depth - 1)
        elif depth and isinstance(value, tuple | list | frozenset):
            yield from _clauses(value, depth - 1)
        elif depth and is_dataclass(value) and not isinstance(value, type):
            yield from _clauses((getattr(value, field.name) for field in fields(value)), depth - 1)


def _module_tables(module: ModuleType) -> list[DataTable]:
    purpose = (module.__doc__ or "").strip().split("\n")[0]
    found = []
    for name, value in vars(module).items():
        if name.isupper() and not name.startswith("_") and _is_own(module, name):
            table = _table(_title(module, name), purpose, value)
            if table:
                found.append(table)
    return found


def _title(module: ModuleType, name: str) -> str:
    """Where a table stands, in words. Example: DETAIL_ROWS of the module "joints" is "Joints: detail rows"."""
    parts = [part.replace("_", " ").lower() for part in (module.__name__.rpartition(".")[2], name)]
    said = ": ".join(dict.fromkeys(parts))
    return said[:1].upper() + said[1:]


def _is_own(module: ModuleType, name: str) -> bool:
    """True where the module defines the name itself; imported tables are shown where they stand."""
    source = module.__loader__.get_source(module.__name__)  # type: ignore[union-attr]
    return f"\n{name} " in source or f"\n{name}:" in source


def _table(name: str, purpose: str, value: Any) -> DataTable | None:
    if isinstance(value, tuple) and value and all(_is_row(row) for row in value):
        heads = tuple(dict.fromkeys(field.name for row in value for field in fields(row)))
        rows = tuple(tuple(plain(getattr(row, head, "")) for head in heads) for row in value)
        return DataTable(name, purpose, tuple(_head(head) for head in heads), rows)
    if isinstance(value, dict) and value and not callable(next(iter(value.values()))):
        rows = tuple((plain(key), plain(cell)) for key, cell in value.items())
        return DataTable(name, purpose, ("for", "holds"), rows)
    return None


# Parts of the machinery, not figures of a code.
NO_ROWS = (type, Clause, Interval, When, Field, Switch, Edition, Variable)


def _is_row(row: Any) -> bool:
    return is_dataclass(row) and not isinstance(row, NO_ROWS)


HEADS = {"lo": "from", "hi": "to", "us": "US", "si": "SI", "cjp": "CJP"}


def _head(name: str) -> str:
    return HEADS.get(name, name.replace("_", " "))


def plain(value: Any) -> str:
    """A cell in words."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return lower_first(label_of(value)) if value in VARIABLES else value.replace("_", " ")
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, dict):
        return "; ".join(f"{plain(key)}: {plain(cell)}" for key, cell in value.items())
    if isinstance(value, frozenset | set):
        # A set has no order of its own: it differs from process to process.
        return ", ".join(sorted(map(plain, value), key=_natural)) or "none"
    if isinstance(value, tuple | list):
        return ", ".join(plain(part) for part in value) or "none"
    if _has_own_words(value):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        stated = ((field.name, getattr(value, field.name)) for field in fields(value))
        return ", ".join(f"{_head(name)} {plain(part)}" for name, part in stated if part not in (None, "", ()))
    return getattr(value, "__name__", str(value)).replace("_", " ") if callable(value) else str(value)


def _has_own_words(value: Any) -> bool:
    return is_dataclass(value) and "__str__" in type(value).__dict__
