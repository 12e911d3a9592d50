"""QW-451.1 and QW-451.2 as data: coupon thickness T -> base thickness and deposit. Inches beside millimetres.

Confirmed for the 2017 edition, no change known to 2023. QW-451.2 (longitudinal bends) is from memory. The top figure
of 8 in (200 mm) is for SMAW, SAW, GMAW (FCAW counted with it) and GTAW; other processes are not entered at all.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_2021.thresholds import CAP, HEAVY, LOW, MID, SIDE_BEND, THIN, TOP
from codes.unit_sets import System, Twin
from codes.values import Interval, number


@dataclass(frozen=True, slots=True)
class Row:
    """Coupons from `start` to `end`; `least` None is T itself; `most` and `thick_deposit` are times T, or a figure.

    `thick_deposit` counts where the deposit itself reaches 3/4 in (19 mm); below that, and where None, it is 2 t.
    """

    start: Twin | None
    end: Twin | None
    start_in: bool
    end_in: bool
    least: Twin | None
    most: Decimal | Twin
    thick_deposit: Decimal | Twin | None = None

    def serves(self, system: System) -> Interval:
        """The coupon thicknesses of the row in mm."""
        lo = self.start.mm(system) if self.start else Decimal(0)
        hi = self.end.mm(system) if self.end else None
        return Interval(lo, hi, "mm", not self.start_in, not self.end_in)

    def lowest(self, t: Decimal, system: System) -> Decimal:
        """Lowest base thickness [mm] of a coupon."""
        return self.least.mm(system) if self.least else t

    def highest(self, t: Decimal, system: System) -> Decimal:
        """Highest base thickness [mm] of a coupon."""
        return _figure(self.most, t, system)

    def deposit(self, coupon: Decimal, deposit: Decimal, system: System) -> Decimal:
        """Highest deposit [mm] from a deposit in a coupon."""
        if self.thick_deposit is None or deposit < MID.mm(system):
            return 2 * deposit
        return _figure(self.thick_deposit, coupon, system)

    @property
    def words(self) -> str:
        """The highest base thickness as the table prints it."""
        return f"{number(self.most)} T" if isinstance(self.most, Decimal) else "the top figure"


def _figure(end: Decimal | Twin, t: Decimal, system: System) -> Decimal:
    return end * t if isinstance(end, Decimal) else end.mm(system)


TWICE, THIRD = Decimal(2), Decimal("1.33")

TRANSVERSE = (
    Row(None, THIN, False, False, None, TWICE),
    Row(THIN, SIDE_BEND, True, True, THIN, TWICE),
    Row(SIDE_BEND, MID, False, False, LOW, TWICE),
    Row(MID, HEAVY, True, False, LOW, TWICE, TWICE),
    Row(HEAVY, CAP, True, True, LOW, TOP, TOP),
    Row(CAP, None, False, True, LOW, THIRD, THIRD),
)
LONGITUDINAL = (
    Row(None, THIN, False, False, None, TWICE),
    Row(THIN, SIDE_BEND, True, True, THIN, TWICE),
    Row(SIDE_BEND, None, False, True, LOW, TWICE),
)


def row_for(rows: Sequence[Row], t: Decimal, system: System) -> Row | None:
    """The row of a coupon thickness [mm], None where no coupon can be that thin (nought)."""
    return next((row for row in rows if row.serves(system).holds(t)), None)
