"""Reductions of a set cover that keep a smallest one: columns inside others, rows implied by others, forced columns."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reduced:
    """What is left: columns by their first number (restricted to the rows left), the rows, the columns taken."""

    columns: dict[int, int]
    rows: int
    taken: tuple[int, ...]


def reduce(columns: Sequence[int] | Mapping[int, int], rows: int) -> Reduced:
    """All three reductions until nothing changes."""
    items = columns.items() if isinstance(columns, Mapping) else enumerate(columns)
    left = dict(items)
    taken: list[int] = []
    while True:
        left = _maximal(left, rows)
        kept = _strict_rows(left, rows)
        forced = _forced(left, kept)
        taken += forced
        for key in forced:
            kept &= ~left[key]
        if kept == rows:
            return Reduced(left, rows, tuple(taken))
        rows = kept


def _maximal(columns: Mapping[int, int], rows: int) -> dict[int, int]:
    """Columns that lie in no other; of equal ones the first."""
    inside = {key: column & rows for key, column in columns.items() if column & rows}
    found: dict[int, int] = {}
    for key in sorted(inside, key=lambda k: (-inside[k].bit_count(), k)):
        if not any(inside[key] & ~other == 0 for other in found.values()):
            found[key] = inside[key]
    return found


def _strict_rows(columns: Mapping[int, int], rows: int) -> int:
    """The rows without those that are covered whenever some other row is; of equal ones one."""
    able: dict[int, int] = {}
    for position, column in enumerate(columns.values()):
        while column:
            bit = column & -column
            able[bit] = able.get(bit, 0) | 1 << position
            column ^= bit
    kept: list[int] = []
    for bit in sorted((bit for bit in able if bit & rows), key=lambda b: (able[b].bit_count(), b)):
        if not any(able[other] & ~able[bit] == 0 for other in kept):
            kept.append(bit)
    return sum(kept)


def _forced(columns: Mapping[int, int], rows: int) -> list[int]:
    """The columns that alone hold some row."""
    once, twice = 0, 0
    for column in columns.values():
        twice |= once & column
        once |= column
    alone = once & ~twice & rows
    return [key for key, column in columns.items() if column & alone]
