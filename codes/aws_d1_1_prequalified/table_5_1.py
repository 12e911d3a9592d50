"""AWS D1.1, Table 5.1 [2015: 3.6]: limits of electrode, current, pass and layer of prequalified procedures, as data.

Columns: SMAW; SAW by its electrodes (single, twin = parallel, tandem = multiple); WIRE = GMAW and FCAW. None is no
limit; a missing cell is a position that the process may not weld in (SAW in vertical and overhead).
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.positions import FLAT, HORIZONTAL, OVERHEAD, VERTICAL
from codes.aws_d1_1.unit_sets import Size

SMAW, WIRE = "SMAW", "WIRE"
SAW_SINGLE, SAW_PARALLEL, SAW_MULTIPLE = "SAW single", "SAW twin", "SAW tandem"
SAW = (SAW_SINGLE, SAW_PARALLEL, SAW_MULTIPLE)
COLUMNS = (SMAW, *SAW, WIRE)

FILLET, GROOVE, ANY = "fillet", "groove", "any"
NOT_ROOT, ROOT = ("fill", "cap"), ("root",)
ALL_PASSES = (*ROOT, *NOT_ROOT)


@dataclass(frozen=True, slots=True)
class Electrode:
    """Largest electrode diameter in a position, for a kind of weld and pass."""

    position: str
    weld: str
    passes: tuple[str, ...]
    sizes: dict[str, Size]


def _saw(size: Size) -> dict[str, Size]:
    return dict.fromkeys(SAW, size)


_QUARTER = Size("1/4", "6.4")
_3_16 = Size("3/16", "4.8")
_EIGHTH = Size("1/8", "3.2")
LOW_HYDROGEN_UPRIGHT = Size("5/32", "4.0")
"""Vertical and overhead, for EXX14 and low-hydrogen electrodes (note e)."""

ELECTRODES = (
    Electrode(FLAT, FILLET, NOT_ROOT, {SMAW: Size("5/16", "8.0"), WIRE: _EIGHTH} | _saw(_QUARTER)),
    Electrode(FLAT, GROOVE, NOT_ROOT, {SMAW: _QUARTER, WIRE: _EIGHTH} | _saw(_QUARTER)),
    Electrode(FLAT, ANY, ROOT, {SMAW: _3_16, WIRE: _EIGHTH} | _saw(_QUARTER)),
    Electrode(HORIZONTAL, FILLET, ALL_PASSES, {SMAW: _QUARTER, WIRE: _EIGHTH} | _saw(_QUARTER)),
    # SAW grooves in horizontal position need a test of the procedure.
    Electrode(HORIZONTAL, GROOVE, ALL_PASSES, {SMAW: _3_16, WIRE: _EIGHTH}),
    Electrode(VERTICAL, ANY, ALL_PASSES, {SMAW: _3_16, WIRE: Size("3/32", "2.4")}),
    Electrode(OVERHEAD, ANY, ALL_PASSES, {SMAW: _3_16, WIRE: Size("5/64", "2.0")}),
)


@dataclass(frozen=True, slots=True)
class Current:
    """Largest current [A] of SAW. `root_open`: with (True) or without (False) root opening, None: either."""

    weld: str
    passes: tuple[str, ...]
    root_open: bool | None
    amperes: dict[str, Decimal | None]


def _amperes(single: int | None, parallel: int | None) -> dict[str, Decimal | None]:
    def figure(value: int | None) -> Decimal | None:
        return None if value is None else Decimal(value)

    return {SAW_SINGLE: figure(single), SAW_PARALLEL: figure(parallel), SAW_MULTIPLE: None}


CURRENTS = (
    Current(FILLET, ALL_PASSES, None, _amperes(1000, 1200)),
    Current(GROOVE, ROOT, True, _amperes(600, 700)),
    Current(GROOVE, ROOT, False, _amperes(600, 900)),
    Current(GROOVE, ("fill",), None, _amperes(1200, 1200)),
    Current(GROOVE, ("cap",), None, _amperes(None, None)),
)

_10, _8, _12 = Size("3/8", "10"), Size("5/16", "8"), Size("1/2", "12")
_FREE: dict[str, Size | None] = dict.fromkeys(SAW, None)

# Position -> column -> thickest root pass.
ROOT_PASS: dict[str, dict[str, Size | None]] = {
    FLAT: _FREE | {SMAW: _10, WIRE: _10},
    HORIZONTAL: _FREE | {SMAW: _8, WIRE: _8},
    VERTICAL: {SMAW: _12, WIRE: _12},
    OVERHEAD: {SMAW: _8, WIRE: _8},
}
FILL_PASS: dict[str, Size | None] = {
    SMAW: Size("3/16", "5"), SAW_SINGLE: Size("1/4", "6"), SAW_PARALLEL: None, SAW_MULTIPLE: None,
    WIRE: Size("1/4", "6"),
}  # fmt: skip
# Position -> column -> largest fillet in one pass.
SINGLE_PASS_FILLET: dict[str, dict[str, Size | None]] = {
    FLAT: _FREE | {SMAW: _10, WIRE: _12},
    HORIZONTAL: {SMAW: _8, SAW_SINGLE: _8, SAW_PARALLEL: _8, SAW_MULTIPLE: _12, WIRE: _10},
    VERTICAL: {SMAW: _12, WIRE: _12},
    OVERHEAD: {SMAW: _8, WIRE: _8},
}

WIDE_ROOT = Size("1/2", "12")
"""A root opening above this asks for split layers; SMAW has no such row."""
_16, _25 = Size("5/8", "16"), Size("1", "25")
# Position -> column -> widest layer that need not be split.
LAYER_WIDTH: dict[str, dict[str, Size]] = {
    position: {SAW_SINGLE: _16, SAW_PARALLEL: _16, SAW_MULTIPLE: _25, WIRE: _25 if position == VERTICAL else _16}
    for position in (FLAT, HORIZONTAL, VERTICAL, OVERHEAD)
}
