"""AWS D1.1, 5.5 and 5.8 with Table 5.1: process, transfer, power source, progression, electrode, current, passes."""

from collections.abc import Iterator
from decimal import Decimal

from codes.aws_d1_1.book import OWN, PREQUALIFIED_PAGES, TABLE_5_1, VERTICAL_DOWN, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.positions import FLAT, HORIZONTAL, VERTICAL, in_position
from codes.aws_d1_1.unit_sets import Size
from codes.aws_d1_1_prequalified.table_5_1 import (
    ANY,
    CURRENTS,
    ELECTRODES,
    FILL_PASS,
    FILLET,
    LAYER_WIDTH,
    LOW_HYDROGEN_UPRIGHT,
    ROOT_PASS,
    SINGLE_PASS_FILLET,
    SMAW,
    WIDE_ROOT,
    WIRE,
    Current,
)
from codes.aws_positions import within
from codes.clauses import Clause, Mark
from codes.limits import Allowed, Limit, Nothing, OneOf, When, Within, unless, when_is
from codes.values import Interval

FOUR = rule("processes", Mark.CONFIRMED, PREQUALIFIED_PAGES)
AS_WRITTEN = rule("processes", Mark.OWN, OWN)
NO_DIP = rule("process limits", Mark.CONFIRMED, f"{TABLE_5_1}, note c")
POWER = rule("power source", Mark.MEMORY)
SPLIT = rule("process limits", Mark.CONFIRMED, TABLE_5_1)
SPLIT_WIRE = rule("process limits", Mark.PART, f"{TABLE_5_1}, note g from memory")
LIMITS = rule("process limits", Mark.CONFIRMED, TABLE_5_1)
UPWARD = rule("progression", Mark.CONFIRMED, VERTICAL_DOWN)
SHAPE = rule("width and depth", Mark.PART, f"{TABLE_5_1}, note b; wording from memory")

PREQUALIFIED = ("SMAW", "SAW", "GMAW", "FCAW")
NEVER = ("dip",)
TRANSFERS = ("spray", "globular", "pulsed")
ON_FILLET = (when_is("weld_type", "fillet"),)
ON_GROOVE = (unless("weld_type", "fillet"),)
MANY = when_is("run_type", "multi_run")
NO_OPENING = Decimal(0)


def column_of(piece: Piece) -> str | None:
    """The column of Table 5.1; None where the electrodes of submerged arc are not stated."""
    if piece.family == "SMAW":
        return SMAW
    if piece.family in ("GMAW", "FCAW"):
        return WIRE
    system = piece.word("wire_system")
    return f"SAW {system}" if piece.family == "SAW" and system else None


def process_limits(piece: Piece) -> tuple[Limit, ...]:
    """Only four processes are prequalified; the others, and welding by short circuit, need a test."""
    clause = FOUR.of(piece.book)
    if not piece.process:
        return (unrecorded("process", clause),)
    if piece.family not in PREQUALIFIED:
        because = f"{piece.family or piece.process} is not prequalified: SMAW, SAW, GMAW and FCAW only"
        return (Limit("process", Nothing(), clause, because),)
    own = AS_WRITTEN.of(piece.book)
    because = f"written for {piece.process} ({piece.family})"
    return (Limit("process", OneOf((piece.process,)), own, because), *_source(piece))


def _source(piece: Piece) -> Iterator[Limit]:
    if piece.family == "GMAW":
        note = NO_DIP.of(piece.book)
        because = "short-circuiting transfer is never prequalified"
        yield Limit("transfer_mode", OneOf(TRANSFERS), note, because)
    if piece.family in ("GMAW", "FCAW"):
        clause = POWER.of(piece.book)
        yield Limit("power_output", OneOf(("cv",)), clause, "GMAW and FCAW need a constant-voltage source")


def position_limits(piece: Piece) -> Iterator[Limit]:
    """Vertical passes go upward; submerged arc is for flat, and fillets horizontal. Undercut repairs downward: none."""
    if piece.family == "SAW":
        clause = LIMITS.of(piece.book)
        fillet, groove = OneOf(within((FLAT, HORIZONTAL))), OneOf(within((FLAT,)))
        yield Limit("aws_position", fillet, clause, "SAW fillets: flat or horizontal", ON_FILLET, reason="position")
        yield Limit("aws_position", groove, clause, "SAW grooves: flat", ON_GROOVE, reason="position")
        return
    clause = UPWARD.of(piece.book)
    because = "vertical passes of a prequalified procedure go upward"
    yield Limit("progression", OneOf(("uphill",)), clause, because, (in_position(VERTICAL),))


def pass_limits(piece: Piece) -> Iterator[Limit]:
    """Every cell of Table 5.1 that stands in the procedure's column."""
    clause = LIMITS.of(piece.book)
    column = column_of(piece)
    if column is None:
        yield unrecorded("wire_system", clause, "single, parallel or multiple electrodes")
        return
    yield from _electrodes(piece, column, clause)
    yield from _currents(piece, column, clause)
    yield from _passes(piece, column, clause)
    yield from _fillets(piece, column, clause)
    yield from _layers(piece, column)


def _up_to(piece: Piece, size: Size) -> Allowed:
    return Within(Interval(None, piece.mm(size), "mm"))


def _weld(kind: str) -> tuple[When, ...]:
    return () if kind == ANY else (ON_FILLET if kind == FILLET else ON_GROOVE)


def _electrodes(piece: Piece, column: str, clause: Clause) -> Iterator[Limit]:
    filler = piece.filler
    careful = column == SMAW and (filler is None or filler.low_hydrogen or filler.usability == "14")
    for row in ELECTRODES:
        size = row.sizes.get(column)
        if size is None:
            continue
        if careful and row.position not in (FLAT, HORIZONTAL):
            size = LOW_HYDROGEN_UPRIGHT
        passes = (when_is("weld_pass", *row.passes),) if row.position == FLAT else ()
        because = f"{row.position}, {row.weld} weld, {' or '.join(row.passes)} pass: {size} at most"
        when = (in_position(row.position), *_weld(row.weld), *passes)
        yield Limit("filler_diameter", _up_to(piece, size), clause, because, when)


def _currents(piece: Piece, column: str, clause: Clause) -> Iterator[Limit]:
    if not column.startswith("SAW"):
        yield Limit("in_makers_range", OneOf(("yes",)), clause, "the filler maker's range", reason="current")
        return
    for row in CURRENTS:
        most = row.amperes[column]
        if most is None:
            continue
        root = _root(row)
        because = f"{row.weld} weld, {' or '.join(row.passes)} pass{root[1]}: {most} A at most"
        passes = () if row.weld == FILLET else (when_is("weld_pass", *row.passes),)
        when = (*_weld(row.weld), *passes, *root[0])
        yield Limit("current", Within(Interval(None, most, "A")), clause, because, when)


def _root(row: Current) -> tuple[tuple[When, ...], str]:
    if row.root_open is None:
        return (), ""
    closed = When("root_opening", Within(Interval(None, NO_OPENING, "mm")), negate=row.root_open)
    return (closed,), f" {'with' if row.root_open else 'without'} root opening"


def _passes(piece: Piece, column: str, clause: Clause) -> Iterator[Limit]:
    for position, cells in ROOT_PASS.items():
        size = cells.get(column)
        if size is not None:
            because = f"root pass, {position}: {size} at most"
            at = in_position(position)
            for when in ((at, *ON_GROOVE), (at, *ON_FILLET, MANY)):
                yield Limit("root_pass_t", _up_to(piece, size), clause, because, when)
    size = FILL_PASS[column]
    if size is not None:
        because = f"fill pass: {size} at most"
        yield Limit("fill_pass_t", _up_to(piece, size), clause, because, (MANY,))
    if column.startswith("SAW"):
        shape = SHAPE.of(piece.book)
        because = "depth and greatest width of a pass do not exceed its width at the face"
        yield Limit("width_over_depth", OneOf(("yes",)), shape, because)


def _fillets(piece: Piece, column: str, clause: Clause) -> Iterator[Limit]:
    single = when_is("run_type", "single_run")
    for position, cells in SINGLE_PASS_FILLET.items():
        size = cells.get(column)
        if size is not None:
            when = (*ON_FILLET, single, in_position(position))
            because = f"fillet in one pass, {position}: {size} at most"
            yield Limit("leg_z", _up_to(piece, size), clause, because, when, reason="single_pass_size")


def _layers(piece: Piece, column: str) -> Iterator[Limit]:
    """Wide roots and wide layers are split; note g (GMAW, FCAW) from memory."""
    if column == SMAW:
        return
    split = unless("split_layers", "yes")
    clause = (SPLIT_WIRE if column == WIRE else SPLIT).of(piece.book)
    because = f"root opening above {WIDE_ROOT}: split layers"
    yield Limit("root_opening", _up_to(piece, WIDE_ROOT), clause, because, (*ON_GROOVE, split), reason="layer_width")
    for position, cells in LAYER_WIDTH.items():
        size = cells[column]
        because = f"layer above {size} in {position}: split"
        when = (in_position(position), *ON_GROOVE, MANY, split)
        yield Limit("layer_width", _up_to(piece, size), clause, because, when)
