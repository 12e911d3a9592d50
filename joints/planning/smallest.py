"""The smallest set of columns that covers every row: exact set cover. Columns are bit masks of the rows they cover.

Small instances are solved by our own branch and bound; larger ones by HiGHS where it is installed. What neither
proves within its budget is said to be not proven, with a lower bound.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from codes.masks import any_of
from joints.planning.reduce import Reduced, reduce
from joints.planning.relaxed import highs
from joints.planning.telling import Each, unheard

BUDGET = 100_000
"""Nodes of the search before it gives up."""


@dataclass(frozen=True, slots=True)
class Smallest:
    """The chosen columns; `bound`: no set is smaller than this; `method`: who found it."""

    chosen: tuple[int, ...]
    bound: int
    method: str

    @property
    def proven(self) -> bool:
        """True where no smaller set exists."""
        return self.bound == len(self.chosen)

    @property
    def sentence(self) -> str:
        """How sure it is. Example: "Proven: no smaller set covers the same (own search)."."""
        if self.proven:
            return f"Proven: no smaller set of the suggested pieces covers the same ({self.method})."
        return (
            f"Not proven to be the smallest: {len(self.chosen)} pieces, and at least {self.bound} are needed "
            f"({self.method})."
        )


def smallest_cover(columns: Sequence[int], rows: int, budget: int = BUDGET, each: Each = unheard) -> Smallest:
    """The smallest set of columns whose union holds all rows. Raises ValueError where even all of them do not.

    `each` is called at every node of the search; what it raises ends it.
    Of equal columns the first counts. Example: columns 0b011, 0b110, 0b100 for rows 0b111 need two, the first two.
    """
    if rows & ~any_of(columns):
        raise ValueError("some rows are in no column")
    each()
    reduced = reduce(columns, rows)
    if not reduced.rows:
        return Smallest(tuple(sorted(reduced.taken)), len(reduced.taken), "own search")
    found = _Search(reduced, budget, each)
    best = found.run()
    if found.complete:
        return _with(reduced, best, len(best), "own search")
    solved = highs(list(reduced.columns.values()), reduced.rows)
    if solved is not None:
        keys = tuple(reduced.columns)
        return _with(reduced, [keys[i] for i in solved.chosen], max(solved.bound, found.root), "HiGHS")
    return _with(reduced, best, found.root, "greedy, improved by a search that was cut off")


def _with(reduced: Reduced, chosen: Sequence[int], bound: int, method: str) -> Smallest:
    return Smallest(tuple(sorted((*reduced.taken, *chosen))), bound + len(reduced.taken), method)


def greedy(columns: dict[int, int], rows: int) -> list[int]:
    """A cover that takes the column that adds most, again and again: never proven by itself."""
    left, chosen = rows, []
    while left:
        best = max(columns, key=lambda index: ((columns[index] & left).bit_count(), -index))
        chosen.append(best)
        left &= ~columns[best]
    return chosen


def lower_bound(columns: dict[int, int], rows: int) -> int:
    """Rows of which no two share a column need a column each; nor can the largest column be beaten."""
    if not rows:
        return 0
    most = max((column & rows).bit_count() for column in columns.values())
    left, apart = rows, 0
    while left:
        row = min(_bits(left), key=lambda bit: sum(1 for column in columns.values() if column & bit))
        apart += 1
        for column in columns.values():
            if column & row:
                left &= ~column
        left &= ~row
    return max(apart, -(-rows.bit_count() // most))


def _bits(rows: int) -> list[int]:
    found = []
    while rows:
        bit = rows & -rows
        found.append(bit)
        rows ^= bit
    return found


class _Search:
    """Branch and bound: on the row with the fewest columns, the largest column first."""

    def __init__(self, reduced: Reduced, budget: int, each: Each) -> None:
        self._columns, self._rows = reduced.columns, reduced.rows
        self._left, self._each_node = budget, each
        self._best = greedy(self._columns, self._rows)
        self.root = lower_bound(self._columns, self._rows)
        self.complete = True

    def run(self) -> list[int]:
        """The best cover; proven where `complete`."""
        if self.root < len(self._best):
            self._branch(self._columns, self._rows, [])
        return self._best

    def _branch(self, columns: dict[int, int], rows: int, chosen: list[int]) -> None:
        self._each_node()
        self._left -= 1
        if self._left < 0:
            self.complete = False
            return
        again = reduce(columns, rows)
        taken = [*chosen, *again.taken]
        if not again.rows:
            if len(taken) < len(self._best):
                self._best = taken
            return
        if len(taken) + lower_bound(again.columns, again.rows) >= len(self._best):
            return
        self._each(again, taken)

    def _each(self, again: Reduced, taken: list[int]) -> None:
        row = min(_bits(again.rows), key=lambda bit: sum(1 for c in again.columns.values() if c & bit))
        columns = dict(again.columns)
        choices = sorted((k for k, c in columns.items() if c & row), key=lambda k: -columns[k].bit_count())
        for key in choices:
            mask = columns.pop(key)
            # What was tried before is out of the later branches.
            self._branch(columns, again.rows & ~mask, [*taken, key])
            if not self.complete:
                return
