"""ISO 15614-1:2017, 8.3.2, Tables 7 to 9 as data: parent thickness, deposited thickness, fillet welds, diameter. mm.

From memory of the standard: level 2 equals the 2004 edition's Table 5 apart from the dash above 40 mm single run.
Where a row's two bounds cross the test covers nothing. Not entered: other shapes of test piece than plate and pipe.
"""

from dataclasses import dataclass
from decimal import Decimal as D

from codes.iso_15614_1_2017.rows import Bound, Row, above, up_to
from codes.values import Interval

BUTT_LEVEL_1 = (
    Row(up_to("3"), Bound(least=D("1.5")), Bound(D(2))),
    Row(up_to("12", "3"), Bound(least=D("1.5")), Bound(D(2))),
    Row(up_to("20", "12"), Bound(least=D(5)), Bound(D(2))),
    Row(up_to("40", "20"), Bound(least=D(5)), Bound(D(2))),
    Row(up_to("100", "40"), Bound(least=D(5)), Bound(least=D(200))),
    Row(up_to("150", "100"), Bound(least=D(5)), Bound(least=D(200))),
    Row(above("150"), Bound(least=D(5)), Bound(D("1.33"))),
)

BUTT_SINGLE_RUN = (
    Row(up_to("3"), Bound(D("0.7")), Bound(D("1.3"))),
    Row(up_to("12", "3"), Bound(D("0.5"), least=D(3)), Bound(D("1.3"))),
    Row(up_to("20", "12"), Bound(D("0.5")), Bound(D("1.1"))),
    Row(up_to("40", "20"), Bound(D("0.5")), Bound(D("1.1"))),
    Row(up_to("100", "40"), dash=True),
    Row(up_to("150", "100"), dash=True),
    Row(above("150"), dash=True),
)

BUTT_SINGLE_RUN_OLDER = Row(up_to("100", "40"), Bound(D("0.5")), Bound(D("1.1")))
"""The row above 40 mm in the lenient reading (as in the 2004 edition)."""

BUTT_MULTI_RUN = (
    Row(up_to("3"), Bound(D("0.7")), Bound(D(2))),
    Row(up_to("12", "3"), Bound(least=D(3)), Bound(D(2))),
    Row(up_to("20", "12"), Bound(D("0.5")), Bound(D(2))),
    Row(up_to("40", "20"), Bound(D("0.5")), Bound(D(2))),
    Row(up_to("100", "40"), Bound(D("0.5")), Bound(D(2))),
    Row(up_to("150", "100"), Bound(least=D(50)), Bound(D(2))),
    Row(above("150"), Bound(least=D(50)), Bound(D(2))),
)


@dataclass(frozen=True, slots=True)
class DepositRow:
    """Largest deposited thickness of one process: for tested t and s, a multiple of s or t, or a figure."""

    serves_t: Interval
    serves_s: Interval
    hi: Bound
    of: str


_ANY_S = above("0")
_THIN_S = Interval(D(0), D(20), "mm", lo_open=True, hi_open=True)
_THICK_S = Interval(D(20), None, "mm")

DEPOSIT = (
    DepositRow(up_to("20"), _ANY_S, Bound(D(2)), "s"),
    DepositRow(up_to("40", "20"), _THIN_S, Bound(D(2)), "s"),
    DepositRow(up_to("40", "20"), _THICK_S, Bound(D(2)), "t"),
    DepositRow(up_to("100", "40"), _THIN_S, Bound(D(2)), "s"),
    DepositRow(up_to("100", "40"), _THICK_S, Bound(least=D(200)), "s"),
    DepositRow(up_to("150", "100"), _THIN_S, Bound(D(2)), "s"),
    DepositRow(up_to("150", "100"), _THICK_S, Bound(least=D(300)), "s"),
    DepositRow(above("150"), _THIN_S, Bound(D(2)), "s"),
    DepositRow(above("150"), _THICK_S, Bound(D("1.33")), "t"),
)

_MIDDLE = Interval(D(3), D(30), "mm", lo_open=True, hi_open=True)
_THICK = Interval(D(30), None, "mm")

FILLET_THICKNESS_WIDE = (
    Row(up_to("3"), Bound(D("0.7")), Bound(D(2))),
    Row(_MIDDLE, Bound(least=D(3)), Bound(D(2))),
    Row(_THICK, Bound(least=D(5))),
)

FILLET_THICKNESS_STRICT = (
    Row(up_to("3"), Bound(D("0.7")), Bound(D(2))),
    Row(_MIDDLE, Bound(D("0.5"), least=D(3)), Bound(D("1.2"))),
    Row(_THICK, Bound(least=D(5))),
)

THROAT_SINGLE_RUN = (Row(above("0"), Bound(D("0.75")), Bound(D("1.5"))),)

DIAMETER = (
    Row(up_to("25"), Bound(D("0.5")), Bound(D(2))),
    Row(above("25"), Bound(D("0.5"), least=D(25))),
)

LEVEL_1_IMPACT_MINIMUM = (
    Row(up_to("6"), Bound(D("0.5"))),
    Row(Interval(D(6), D(16), "mm", lo_open=True, hi_open=True), Bound(D(1))),
    Row(Interval(D(16), None, "mm"), Bound(least=D(16))),
)
"""8.3.2.2: least thickness at level 1 where impact properties are required; the larger of this and Table 7 counts."""
