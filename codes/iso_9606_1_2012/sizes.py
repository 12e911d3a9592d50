"""Tables that turn a tested size into a range: rows of (tested sizes, lower end, upper end). Units: mm."""

from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Clause
from codes.limits import Within
from codes.values import Interval, number


@dataclass(frozen=True, slots=True)
class Bound:
    """An end of a range: the larger of `times` x the tested size and `fixed`."""

    times: Decimal = Decimal(0)
    fixed: Decimal = Decimal(0)

    def at(self, size: Decimal) -> Decimal:
        """The end for a tested size. Example: Bound(D(2), D(3)).at(D(1)) is 3."""
        return max(self.times * size, self.fixed)


@dataclass(frozen=True, slots=True)
class SizeRow:
    """Tested sizes of this interval cover lo to hi, ends included; `hi` None means no upper limit.

    `layers`: the row serves only a test piece recorded with at least so many layers.
    """

    tested: Interval
    lo: Bound
    hi: Bound | None
    words: str
    clause: Clause
    layers: int = 0

    def serves(self, size: Decimal, layers: Decimal | None) -> bool:
        """True where the row is the one for this size and number of layers (None: not recorded)."""
        return self.tested.holds(size) and (layers or 0) >= self.layers

    def range(self, size: Decimal) -> Within:
        """The range that a tested size covers."""
        return Within(Interval(self.lo.at(size), self.hi.at(size) if self.hi else None, "mm"))


def row_for(rows: tuple[SizeRow, ...], size: Decimal, layers: Decimal | None = None) -> SizeRow | None:
    """The first row that serves, or None where the size is no usable one (nought)."""
    return next((row for row in rows if row.serves(size, layers)), None)


def derivation(symbol: str, size: Decimal, row: SizeRow) -> str:
    """The line that shows where a range comes from. Example: "tested s = 8 mm: 3 mm to 2 s"."""
    return f"tested {symbol} = {number(size)} mm: {row.words}"
