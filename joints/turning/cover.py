"""The fewest columns that together hold everything: exact, by reduction, bounds and search. Sets are bits of an int."""

from collections.abc import Iterator, Sequence


class Search:
    """Covers of one universe by columns. `nodes` counts what was searched.

    Example: Search([0b011, 0b110, 0b100], 0b111).least() gives 2 columns.
    """

    def __init__(self, columns: Sequence[int], universe: int) -> None:
        self.columns, self.rows = reduced(sorted({column & universe for column in columns} - {0}), universe)
        self.whole = union(columns) & universe == universe
        self.holders = {row: [c for c in self.columns if c & row] for row in bits(self.rows)}
        self.near = {row: union(held) for row, held in self.holders.items()}
        self.nodes = 0
        self._failed: set[tuple[int, int]] = set()

    def within(self, most: int) -> bool:
        """True where so many columns are enough."""
        return self.whole and self._covers(self.rows, most)

    def least(self) -> int:
        """The least number of columns. Raises ValueError where all together leave something out."""
        if not self.whole:
            raise ValueError("not even all columns together hold everything")
        number = len(self.apart(self.rows))
        while not self.within(number):
            number += 1
        return number

    def apart(self, rows: int) -> list[int]:
        """Rows of which no column holds two: as many columns are needed at least. The largest that greed finds."""
        found = []
        for row in sorted(bits(rows), key=lambda row: (self.near[row] & rows).bit_count()):
            if row & rows:
                found.append(row)
                rows &= ~self.near[row]
        return found

    def _covers(self, rows: int, most: int) -> bool:
        if not rows:
            return True
        if most <= 0 or (rows, most) in self._failed:
            return False
        self.nodes += 1
        if len(self.apart(rows)) <= most and self._branches(rows, most):
            return True
        self._failed.add((rows, most))
        return False

    def _branches(self, rows: int, most: int) -> bool:
        """Try what holds the row with the fewest holders, the largest first."""
        hardest = min(bits(rows), key=lambda row: len(self.holders[row]))
        held = sorted(self.holders[hardest], key=lambda column: -(column & rows).bit_count())
        return any(self._covers(rows & ~column, most - 1) for column in held)


def reduced(columns: Sequence[int], universe: int) -> tuple[list[int], int]:
    """Columns that no other contains, and rows that no other row brings with it."""
    while True:
        kept = _largest(columns)
        rows = hardest(kept, universe)
        fewer = sorted({column & rows for column in kept})
        if rows == universe and len(fewer) == len(columns):
            return fewer, rows
        columns, universe = fewer, rows


def _largest(columns: Sequence[int]) -> list[int]:
    kept: list[int] = []
    for column in sorted(columns, key=lambda c: -c.bit_count()):
        if not any(column & ~other == 0 for other in kept):
            kept.append(column)
    return kept


def hardest(columns: Sequence[int], universe: int) -> int:
    """The rows whose holders contain no other row's holders; of equal rows the first."""
    holders: dict[int, int] = {}
    for row in bits(universe):
        held = sum(1 << at for at, column in enumerate(columns) if column & row)
        holders.setdefault(held, row)
    kept: list[int] = []
    for held in sorted(holders, key=int.bit_count):
        if not any(other & ~held == 0 for other in kept):
            kept.append(held)
    return union([holders[held] for held in kept])


def union(columns: Sequence[int]) -> int:
    """All together."""
    whole = 0
    for column in columns:
        whole |= column
    return whole


def bits(rows: int) -> Iterator[int]:
    """Each row alone."""
    while rows:
        row = rows & -rows
        yield row
        rows ^= row
