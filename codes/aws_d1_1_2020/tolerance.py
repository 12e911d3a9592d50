"""Tolerances around a tested value, limit values included (0.2: "> 10 %" is broken only beyond 10 %)."""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.piece import Piece, unrecorded
from codes.clauses import Clause
from codes.limits import Limit, When, Within
from codes.values import Interval, number
from codes.variables import VARIABLES, label_of
from codes.words import lower_first

HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Percent:
    """How far a value may leave the tested one, in per cent down and up; None: no end on that side."""

    down: Decimal | None
    up: Decimal | None

    def around(self, tested: Decimal, unit: str = "") -> Interval:
        """The range around a tested value. Example: 10 % of 250 A is 225 to 275 A."""
        lo = None if self.down is None else tested * (HUNDRED - self.down) / HUNDRED
        hi = None if self.up is None else tested * (HUNDRED + self.up) / HUNDRED
        return Interval(lo, hi, unit)

    def __str__(self) -> str:
        if self.down == self.up and self.up is not None:
            return f"±{number(self.up)} %"
        ends = [f"-{number(self.down)} %" if self.down is not None else "", f"+{number(self.up)} %" if self.up else ""]
        return ", ".join(end for end in ends if end)


def either_way(percent: int) -> Percent:
    """The same tolerance down and up."""
    return Percent(Decimal(percent), Decimal(percent))


def around(
    piece: Piece,
    name: str,
    percent: Percent,
    clause: Clause,
    when: tuple[When, ...] = (),
    readings: tuple[str, ...] = (),
) -> Limit:
    """The limit of a measured variable: so many per cent around the value of the record."""
    tested = piece.least(name)
    if tested is None:
        return unrecorded(name, clause, when=when)
    unit = VARIABLES[name].unit
    said = piece.said(tested, unit)
    because = f"recorded {said}, {lower_first(label_of(name))} {percent}"
    return Limit(name, Within(percent.around(tested, unit)), clause, because, when, readings, tested=said)
