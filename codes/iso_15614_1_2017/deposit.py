"""ISO 15614-1:2017, 8.3.2: deposited thickness of each process, and throat and parts of fillet welds. Units: mm."""

from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, mm, unrecorded
from codes.iso_15614_1_2017.rows import common, row_for
from codes.iso_15614_1_2017.sources import clause
from codes.iso_15614_1_2017.switches import FILLET_THICKNESS, RUN_TYPE, lenient
from codes.iso_15614_1_2017.table_7 import (
    DEPOSIT,
    FILLET_THICKNESS_STRICT,
    FILLET_THICKNESS_WIDE,
    THROAT_SINGLE_RUN,
    DepositRow,
)
from codes.iso_15614_1_2017.thickness import counted
from codes.limits import Free, Limit, When, span, when_is
from codes.parse import BadField

DEPOSITED = clause("8.3.2, Table 7, deposited thickness", Mark.MEMORY)
TABLE_8 = clause("8.3.2, Table 8", Mark.MEMORY)
TABLE_8_MIDDLE = clause("8.3.2, Table 8", Mark.DOUBT)

FILLET: tuple[When, ...] = (when_is("weld_type", "fillet"),)
GROOVES: tuple[When, ...] = (when_is("weld_type", "butt_cjp", "butt_pjp", "branch"),)
PARTIAL: tuple[When, ...] = (when_is("weld_type", "butt_pjp"),)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Deposited thickness of butt welds; parts and throat of fillet welds."""
    fillet_capable = piece.word("weld_type") in ("butt_cjp", "branch", "fillet")
    fillet = (*_parts(piece), *_throat(piece)) if fillet_capable else ()
    return (*(() if piece.is_fillet else deposited(piece)), *fillet)


def deposited(piece: Piece) -> tuple[Limit, ...]:
    """Largest deposit of this process. One process alone: s = t, so that only partial penetration asks (weld depth)."""
    t, s = piece.least("parent_t"), piece.most("deposit_t")
    if s is None and not piece.multi_process:
        s = t
    when = GROOVES if piece.multi_process or s != t else PARTIAL
    if t is None or s is None:
        return (
            unrecorded("deposit_t", DEPOSITED, "the deposited thickness of each process", when, "deposited_thickness"),
        )
    row = deposit_row(t, s)
    most = row.hi.at(s if row.of == "s" else t)
    because = f"tested s = {mm(s)} at t = {mm(t)}: up to {row.hi.words(row.of)}"
    allowed = span(None, most, "mm")
    return (Limit("deposit_t", allowed, DEPOSITED, because, when, (), "deposited_thickness", tested=mm(s)),)


def deposit_row(t: Decimal, s: Decimal) -> DepositRow:
    """The row for a tested t and s. Raises BadField where one of them is not above 0.

    Example at the edge: t = 30 and s = 20 gives 2 t, s = 19.9 gives 2 s.
    """
    for row in DEPOSIT:
        if row.serves_t.holds(t) and row.serves_s.holds(s):
            return row
    raise BadField("deposit_t", f"{s} in {t} is not a deposit a test piece can have; both must be above 0")


def _parts(piece: Piece) -> tuple[Limit, ...]:
    tested = counted(piece)
    if piece.level == 1:
        return (Limit("parent_t", Free(), TABLE_8, "fillet welds, level 1", FILLET, reason="thickness"),)
    if not tested:
        return ()  # the missing thickness is already asked for
    rows = FILLET_THICKNESS_WIDE if lenient(FILLET_THICKNESS, piece.settings) else FILLET_THICKNESS_STRICT
    used = [row_for(rows, t, "parent_t") for t in tested]
    sizes = " and ".join(mm(t) for t in tested)
    because = f"tested t = {sizes}, fillet: " + " and ".join(dict.fromkeys(row.words("t") for row in used))
    allowed = common([row.at(t) for row, t in zip(used, tested, strict=True)])
    middle = any(3 < t < 30 for t in tested)
    readings = (FILLET_THICKNESS.used(piece.settings),) if middle else ()
    where = TABLE_8_MIDDLE if middle else TABLE_8
    return (Limit("parent_t", allowed, where, because, FILLET, readings, "thickness", tested=sizes),)


def _throat(piece: Piece) -> tuple[Limit, ...]:
    """Throat by single run only; a butt test lends its deposited thickness as throat."""
    run = piece.word("run_type")
    if piece.level == 1 or run == "multi_run":
        free = Limit("throat_a", Free(), TABLE_8, "throat not restricted", FILLET, reason="throat")
        return (free, *(_single_run_throat(piece, single_only=True) if _run_type_open(piece) else ()))
    if run is None:
        return (unrecorded("throat_a", TABLE_8, "single run or multi run", FILLET, "throat"),)
    return _single_run_throat(piece, single_only=not lenient(RUN_TYPE, piece.settings))


def _run_type_open(piece: Piece) -> bool:
    return piece.level == 2 and lenient(RUN_TYPE, piece.settings)


def _single_run_throat(piece: Piece, single_only: bool) -> tuple[Limit, ...]:
    when = (*FILLET, when_is("run_type", "single_run")) if single_only else FILLET
    if piece.is_fillet:
        tested, name = piece.numbers("throat_a"), "a"
    else:
        tested, name = piece.numbers("deposit_t") or piece.numbers("parent_t")[:1], "s"
    if not tested:
        return (unrecorded("throat_a", TABLE_8, "the throat of the test", when, "throat"),)
    used = [(row_for(THROAT_SINGLE_RUN, a, "throat_a"), a) for a in tested]
    sizes = " and ".join(mm(a) for _, a in used)
    lent = "" if piece.is_fillet else ", counted as the throat a"
    because = f"tested {name} = {sizes}{lent}, single run: {used[0][0].words('a')}"
    allowed = common([row.at(a) for row, a in used])
    return (Limit("throat_a", allowed, TABLE_8, because, when, (), "throat", tested=sizes),)
