"""AWS D1.1: the look-up tables as data: minimum fillet and PJP size, deductions of skewed fillets, root gaps."""

from dataclasses import dataclass

from codes.aws_d1_1.unit_sets import Size

# Table 7.7 [5.7]: thickness up to and including (None: any more) -> smallest leg.
FILLET: tuple[tuple[Size | None, Size], ...] = (
    (Size("1/4", "6"), Size("1/8", "3")),
    (Size("1/2", "12"), Size("3/16", "5")),
    (Size("3/4", "20"), Size("1/4", "6")),
    (None, Size("5/16", "8")),
)
CYCLIC_FILLET = Size("3/16", "5")

# Table 3.5 of 2015: thickness up to and including -> smallest weld size E.
PJP: tuple[tuple[Size | None, Size], ...] = (
    (Size("3/16", "5"), Size("1/16", "2")),
    (Size("1/4", "6"), Size("1/8", "3")),
    (Size("1/2", "12"), Size("3/16", "5")),
    (Size("3/4", "20"), Size("1/4", "6")),
    (Size("1-1/2", "38"), Size("5/16", "8")),
    (Size("2-1/4", "57"), Size("3/8", "10")),
    (Size("6", "150"), Size("1/2", "12")),
    (None, Size("5/8", "16")),
)
THINNEST = Size("1/8", "3")
"""Thinner metal belongs to the sheet steel code."""

EDGE_THIN, EDGE_LESS = Size("1/4", "6"), Size("1/16", "2")
INTERMITTENT = Size("1-1/2", "38")

FREE_GAP, LARGEST_GAP = Size("1/16", "2"), Size("3/16", "5")
THICK_PART, THICK_PART_GAP = Size("3", "75"), Size("5/16", "8")


@dataclass(frozen=True, slots=True)
class Loss:
    """Deduction Z from the throat on the acute side: angle from `lo` (included) to below `hi`, degrees."""

    lo: int
    hi: int
    processes: tuple[str, ...]
    positions: tuple[str, ...]
    z: Size


NONE = Size("0", "0")
_UP, _FLAT = ("V", "OH"), ("F", "H")
SMAW, FCAW_S, FCAW_G, GMAW = ("111",), ("114",), ("132", "136", "137"), ("131", "133", "135", "138")

# GMAW in vertical and overhead stands in no row.
LOSSES = (
    Loss(45, 60, SMAW, (*_UP, *_FLAT), Size("1/8", "3")),
    Loss(45, 60, FCAW_S, _UP, Size("1/8", "3")),
    Loss(45, 60, FCAW_S, _FLAT, NONE),
    Loss(45, 60, FCAW_G, _UP, Size("1/8", "3")),
    Loss(45, 60, FCAW_G, _FLAT, NONE),
    Loss(45, 60, GMAW, _FLAT, NONE),
    Loss(30, 45, SMAW, (*_UP, *_FLAT), Size("1/4", "6")),
    Loss(30, 45, FCAW_S, _UP, Size("1/4", "6")),
    Loss(30, 45, FCAW_S, _FLAT, Size("1/8", "3")),
    Loss(30, 45, FCAW_G, _UP, Size("3/8", "10")),
    Loss(30, 45, FCAW_G, _FLAT, Size("1/4", "6")),
    Loss(30, 45, GMAW, _FLAT, Size("1/4", "6")),
)
