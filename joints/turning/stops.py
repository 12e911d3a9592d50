"""The fewest stops that hold all welds, and of these the ones with the least turning. Stops are steps of an arc."""

from collections.abc import Callable, Sequence
from functools import cache

from joints.turning.cover import Search, hardest


def turning(stops: Sequence[int]) -> int:
    """The least that is turned from 0 through all stops, without coming back. Example: -2 and 5 take 9."""
    below, above = max(0, -min(stops)), max(0, *stops)
    return below + above + min(below, above)


def fewest_stops(columns: Sequence[int], universe: int, start: int) -> list[int]:
    """Steps of the arc, in their order. `columns`: for each step the welds that may be made there, as bits.

    Raises ValueError where some weld may be made nowhere.
    """
    number = Search(columns, universe).least()
    # Of all columns, not of the largest only: what another weld brings with it must hold in every window.
    rows = hardest(sorted(set(columns)), universe)
    below = _worth(columns, range(start, -1, -1), rows)
    above = _worth(columns, range(start, len(columns)), rows)

    @cache
    def reach(far_below: int, far_above: int) -> bool:
        """True where the stops no further than so many below and above the start do."""
        return Search([columns[at] for at in (*below[:far_below], *above[:far_above])], rows).within(number)

    far = _window(reach, [start - at for at in below], [at - start for at in above])
    return _pick(columns, rows, number, [*below[: far[0]], *above[: far[1]]])


def _worth(columns: Sequence[int], steps: Sequence[int], rows: int) -> list[int]:
    """The steps, going away from the start, at which something can be made that no nearer step alone allows."""
    kept: list[int] = []
    for at in steps:
        column = columns[at] & rows
        if column and not any(column & ~columns[near] == 0 for near in kept):
            kept.append(at)
    return kept


def _window(reach: Callable[[int, int], bool], below: Sequence[int], above: Sequence[int]) -> tuple[int, int]:
    """How many of the stops below and above are needed for the least turning: a wider window never does less."""
    best: int | None = None
    found = len(below), len(above)
    for count in range(len(below) + 1):
        down = below[count - 1] if count else 0
        usable = sum(1 for up in above if best is None or turning([-down, up]) < best)
        if (best is not None and down >= best) or not reach(count, usable):
            continue
        least = _first(lambda many, count=count: reach(count, many), usable)  # type: ignore[misc]
        best, found = turning([-down, above[least - 1] if least else 0]), (count, least)
    return found


def _first(holds: Callable[[int], bool], known: int) -> int:
    """The least number that holds, where all above it hold and `known` does."""
    low, high = 0, known
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle + 1, high)
    return low


def _pick(columns: Sequence[int], rows: int, number: int, steps: Sequence[int]) -> list[int]:
    """One cover by so many of the steps: what makes most comes first."""
    chosen: list[int] = []
    while rows:
        ordered = sorted(set(steps), key=lambda at: (-(columns[at] & rows).bit_count(), at))
        for at in ordered:
            rest = rows & ~columns[at]
            if rest != rows and Search([columns[n] for n in steps], rest).within(number - len(chosen) - 1):
                chosen.append(at)
                rows = rest
                break
    return sorted(chosen)
