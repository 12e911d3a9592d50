"""The answer of a look-up: a value in mm, or none, with its clause, mark, derivation and reading."""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.unit_sets import Size, Units
from codes.clauses import Clause, Mark
from codes.values import number


@dataclass(frozen=True, slots=True)
class Figure:
    """`value` is None where the code gives no figure or allows nothing; `because` then says which."""

    value: Decimal | None
    clause: Clause
    because: str
    readings: tuple[str, ...] = ()

    @property
    def mark(self) -> Mark:
        """How certain the rule is."""
        return self.clause.mark


def positive(name: str, value: Decimal) -> None:
    """Raises ValueError for a size of 0 or less."""
    if value <= 0:
        raise ValueError(f"{name} must be more than 0, not {number(value)}")


def by_thickness(rows: tuple[tuple[Size | None, Size], ...], thickness: Decimal, units: Units) -> tuple[Decimal, Size]:
    """The size of a table's row, in mm and as the table prints it."""
    size = next(size for end, size in rows if end is None or thickness <= end.mm(units))
    return size.mm(units), size
