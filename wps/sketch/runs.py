"""The beads that the rows of runs stand for: "fill 2-4" is three of them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

MOST = 40
"""More beads than this would be too small to read; the rest stay in the table of runs."""
_SPAN = re.compile(r"(\d+)\s*(?:-|–|to|\.\.)\s*(\d+)")
_ONE = re.compile(r"\d+")
_BACK = re.compile(r"\b(?:back(?:ing run| run|ing)?|seal(?:ing)?|(?:second|other|side) (?:side|2))\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Bead:
    """One bead: the number beside it, the row of runs it belongs to, its process, and whether it is on the far side."""

    number: int
    order: int
    process: str = ""
    back: bool = False


def beads_of(rows: Iterable[tuple[int, str, str]]) -> tuple[Bead, ...]:
    """The beads of rows (order, name of the run or layer, process), numbered as the rows say or one after another.

    Example: (1, "root", "135"), (2, "fill 2-4", "135") give the numbers 1, 2, 3, 4.
    """
    listed = [(row, _numbers(row[1])) for row in rows]
    said = [number for _, numbers in listed for number in numbers or (None,)]
    as_said = _fill(said)
    numbers = iter(as_said if _rises(as_said) else range(1, len(said) + 1))
    found = [
        Bead(next(numbers), order, process, bool(_BACK.search(name)))
        for (order, name, process), own in listed
        for _ in own or (None,)
    ]
    return tuple(found[:MOST])


def _numbers(name: str) -> tuple[int, ...]:
    """The numbers in the name of a run; none where it has none."""
    if span := _SPAN.search(name):
        first, last = int(span[1]), int(span[2])
        return tuple(range(first, min(last, first + MOST - 1) + 1))
    one = _ONE.search(name)
    return (int(one[0]),) if one else ()


def _fill(said: list[int | None]) -> list[int]:
    """Every bead without a number follows the one before it."""
    found: list[int] = []
    for number in said:
        found.append(number if number is not None else (found[-1] if found else 0) + 1)
    return found


def _rises(numbers: list[int]) -> bool:
    return all(a < b for a, b in pairwise(numbers))
