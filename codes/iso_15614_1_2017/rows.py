"""Rows of the thickness and diameter tables as data: which tested value a row serves, and the range it gives."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from codes.limits import Allowed, Nothing, Within
from codes.parse import BadField
from codes.values import Interval, number


@dataclass(frozen=True, slots=True)
class Bound:
    """One end of a range: a multiple of the tested value, a fixed figure, or a multiple with a floor."""

    times: Decimal = Decimal(0)
    least: Decimal = Decimal(0)

    def at(self, tested: Decimal) -> Decimal:
        """The end for a tested value. Example: Bound(D("0.5"), least=D(3)).at(D(5)) is 3."""
        return max(self.times * tested, self.least)

    def words(self, symbol: str) -> str:
        """The end as the table prints it."""
        if not self.times:
            return f"{number(self.least)} mm"
        floor = f" (at least {number(self.least)} mm)" if self.least else ""
        factor = "" if self.times == 1 else f"{number(self.times)} "
        return f"{factor}{symbol}{floor}"


@dataclass(frozen=True, slots=True)
class Row:
    """A row: the tested values it serves and the range it gives; no range at all is the table's dash."""

    serves: Interval
    lo: Bound | None = None
    hi: Bound | None = None
    dash: bool = False

    def at(self, tested: Decimal, unit: str = "mm") -> Allowed:
        """The range for a tested value; nothing where the table shows a dash or the ends cross."""
        if self.dash:
            return Nothing()
        lo = self.lo.at(tested) if self.lo else None
        hi = self.hi.at(tested) if self.hi else None
        if lo is not None and hi is not None and lo > hi:
            return Nothing()
        return Within(Interval(lo, hi, unit))

    def words(self, symbol: str) -> str:
        """The range as the table prints it. Example: "3 mm to 2 t"."""
        if self.dash:
            return "not qualified"
        if self.lo and self.hi:
            return f"{self.lo.words(symbol)} to {self.hi.words(symbol)}"
        return f"from {self.lo.words(symbol)}" if self.lo else "not restricted"


def up_to(hi: str, above: str = "0") -> Interval:
    """Tested values above one figure and up to another, that one included."""
    return Interval(Decimal(above), Decimal(hi), "mm", lo_open=True)


def above(lo: str) -> Interval:
    """Tested values above a figure."""
    return Interval(Decimal(lo), None, "mm", lo_open=True)


def row_for(rows: Sequence[Row], tested: Decimal, name: str) -> Row:
    """The row that serves a tested value. Raises BadField where none does (nought or negative)."""
    for row in rows:
        if row.serves.holds(tested):
            return row
    raise BadField(name, f"{number(tested)} is not a size a test piece can have; it must be above 0")


def common(ranges: Sequence[Allowed]) -> Allowed:
    """The part that all ranges have in common, or nothing."""
    whole = Interval(None, None, "mm")
    for one in ranges:
        part = whole.overlap(one.interval) if isinstance(one, Within) else None
        if part is None:
            return Nothing()
        whole = part
    return Within(whole)
