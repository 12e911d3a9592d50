"""ISO 9606-1:2012, 5.8: welding positions that a test covers. Table 9 (butt welds), Table 10 (fillet welds)."""

from dataclasses import dataclass, replace
from decimal import Decimal as D

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import HANDOUT, OVERVIEW, clause, confirmed, doubtful, weakest
from codes.iso_9606_1_2012.switches import FILLET_PH_PC
from codes.iso_9606_1_2012.switches import SUPPLEMENTARY as SUPPLEMENTARY_SWITCH
from codes.iso_9606_1_2012.tested import figure, on_pipe, terms
from codes.iso_9606_1_2012.weld_type import SUPPLEMENTARY
from codes.limits import Limit, Nothing, OneOf, Unrecorded
from codes.readings import Settings

T9, T10 = "5.8, Table 9", "5.8, Table 10"
PLATE, PIPE = ("plate",), ("pipe",)
BOTH = ("plate", "pipe")


@dataclass(frozen=True, slots=True)
class PositionRow:
    """A tested position, the products it is tested on, and the joint positions it covers."""

    tested: str
    products: tuple[str, ...]
    covers: tuple[str, ...]
    clause: Clause


BUTT_ROWS = (
    PositionRow("PA", BOTH, ("PA",), confirmed(T9, OVERVIEW)),
    PositionRow("PC", BOTH, ("PA", "PC"), confirmed(T9, OVERVIEW)),
    PositionRow("PE", PLATE, ("PA", "PC", "PE"), confirmed(T9, OVERVIEW, HANDOUT)),
    PositionRow("PF", PLATE, ("PA", "PF"), confirmed(T9, OVERVIEW)),
    PositionRow("PG", PLATE, ("PG",), confirmed(T9, OVERVIEW)),
    PositionRow("PH", PIPE, ("PA", "PE", "PF", "PH"), confirmed(T9, OVERVIEW)),
    PositionRow("PJ", PIPE, ("PA", "PE", "PG", "PJ"), confirmed(T9, OVERVIEW)),
    PositionRow("H-L045", PIPE, ("PA", "PC", "PE", "PF", "PH", "H-L045"), confirmed(T9, OVERVIEW)),
    PositionRow("J-L045", PIPE, ("PA", "PC", "PE", "PG", "PJ", "J-L045"), confirmed(T9, OVERVIEW)),
)

# H-L045 and J-L045 are no rows of Table 10: a fillet test in them covers nothing here.
FILLET_ROWS = (
    PositionRow("PA", BOTH, ("PA",), confirmed(T10, OVERVIEW)),
    PositionRow("PB", BOTH, ("PA", "PB"), confirmed(T10, OVERVIEW, HANDOUT)),
    PositionRow("PC", BOTH, ("PA", "PB", "PC"), clause(T10)),
    PositionRow("PD", BOTH, ("PA", "PB", "PC", "PD", "PE"), clause(T10)),
    PositionRow("PE", PLATE, ("PA", "PB", "PC", "PD", "PE"), clause(T10)),
    PositionRow("PF", PLATE, ("PA", "PB", "PF"), clause(T10)),
    PositionRow("PG", PLATE, ("PG",), clause(T10)),
    PositionRow("PH", PIPE, ("PA", "PB", "PC", "PD", "PE", "PF", "PH"), doubtful(T10)),
    PositionRow("PJ", PIPE, ("PA", "PB", "PD", "PE", "PG", "PJ"), doubtful(T10)),
)
ORDER = ("PA", "PB", "PC", "PD", "PE", "PF", "PG", "PH", "PJ", "H-L045", "J-L045")
NO_FILLET_ROW = doubtful(T10)

# Two pipes of one diameter, or one pipe welded a third in PC and two thirds in PH or PJ, count as the 45° position.
PAIRS = {("PC", "PH"): "H-L045", ("PC", "PJ"): "J-L045"}
TWO_PIPES = confirmed("5.8", OVERVIEW)
ONE_PIPE = clause("5.8")
ONE_PIPE_FROM = D(150)


def butt_position_limit(piece: Tested) -> Limit:
    """Positions by Table 9, the union of what each tested position covers.

    Example: PE on plate covers PA, PC and PE; PC and PH on one pipe of 150 mm cover the row of H-L045.
    """
    positions = terms(piece, "position")
    rows, problem = _rows(piece, BUTT_ROWS, positions, "butt weld")
    if problem:
        return Limit("position", Unrecorded(problem), clause(T9), reason="position")
    limit = _limit(rows)
    diameter = figure(piece, "diameter")
    if diameter is not None and diameter >= ONE_PIPE_FROM and on_pipe(piece):
        return with_pair(limit, positions, ONE_PIPE, "one pipe of 150 mm or more")
    return limit


def with_pair(limit: Limit, positions: tuple[str, ...], where: Clause = TWO_PIPES, how: str = "two pipes") -> Limit:
    """The limit with the row of the 45° position added, where the positions make up such a pair."""
    extra = [PAIRS[pair] for pair in PAIRS if set(pair) <= set(positions)]
    if not extra or not isinstance(limit.allowed, OneOf):
        return limit
    rows = [row for row in BUTT_ROWS if row.tested in extra]
    covers = {*limit.allowed.terms, *(p for row in rows for p in row.covers)}
    because = f"{limit.because}; {how} in {' and '.join(positions)}: covers as {', '.join(extra)}"
    return replace(limit, allowed=OneOf(_ordered(covers)), clause=where, because=because)


def fillet_position_limit(piece: Tested, settings: Settings) -> Limit:
    """Positions by Table 10. Example: PF on plate covers PA, PB and PF, not PD."""
    positions = terms(piece, "position")
    if positions and set(positions) <= {"H-L045", "J-L045"}:
        because = f"tested {', '.join(positions)}: no row of Table 10, so no fillet positions"
        return Limit("position", Nothing(), NO_FILLET_ROW, because, reason="position", tested=", ".join(positions))
    rows, problem = _rows(piece, FILLET_ROWS, positions, "fillet weld")
    if problem:
        return Limit("position", Unrecorded(problem), clause(T10), reason="position")
    readings: tuple[str, ...] = ()
    if any(row.tested == "PH" for row in rows):
        readings = (FILLET_PH_PC.used(settings),)
        if FILLET_PH_PC.option(settings) == "strict":
            rows = tuple(_without_pc(row) if row.tested == "PH" else row for row in rows)
    return _limit(rows, readings)


def supplementary_position_limit(piece: Tested, settings: Settings) -> Limit:
    """Positions bought by the supplementary fillet, which is welded in PB."""
    used = SUPPLEMENTARY_SWITCH.used(settings)
    if SUPPLEMENTARY_SWITCH.option(settings) == "wide":
        limit = fillet_position_limit(piece, settings)
        because = f"supplementary fillet beside the butt test: {limit.because}"
        return Limit("position", limit.allowed, SUPPLEMENTARY, because, readings=(used,), reason="position")
    because = "supplementary fillet, welded in PB: covers PA, PB"
    return Limit(
        "position", OneOf(("PA", "PB")), SUPPLEMENTARY, because, readings=(used,), reason="position", tested="PB"
    )


def _without_pc(row: PositionRow) -> PositionRow:
    return PositionRow(row.tested, row.products, tuple(p for p in row.covers if p != "PC"), row.clause)


def _rows(
    piece: Tested, table: tuple[PositionRow, ...], positions: tuple[str, ...], weld: str
) -> tuple[tuple[PositionRow, ...], str]:
    """The rows of the tested positions, or in words what the record ought to state instead."""
    if not positions:
        return (), "the test position"
    product = "pipe" if on_pipe(piece) else "plate"
    rows = tuple(row for p in positions for row in table if row.tested == p and product in row.products)
    if len(rows) == len(positions):
        return rows, ""
    known = {row.tested for row in rows}
    odd = ", ".join(p for p in positions if p not in known)
    return (), f"a test position that a {weld} on {product} can have ({odd} is none)"


def _limit(rows: tuple[PositionRow, ...], readings: tuple[str, ...] = ()) -> Limit:
    covers = _ordered({p for row in rows for p in row.covers})
    tested = ", ".join(row.tested for row in rows)
    where = weakest(row.clause for row in rows)
    because = f"tested {tested}: covers {', '.join(covers)}"
    return Limit("position", OneOf(covers), where, because, readings=readings, reason="position", tested=tested)


def _ordered(positions: set[str]) -> tuple[str, ...]:
    return tuple(p for p in ORDER if p in positions)
