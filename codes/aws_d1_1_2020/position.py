"""AWS D1.1, Table 6.1 [4.1] and line 30: positions and vertical progression that a procedure test covers."""

from codes.aws_d1_1.book import CVN_FORUM, VERTICAL_DOWN, line, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.positions import ALL, FLAT, HORIZONTAL, OVERHEAD, VERTICAL, in_position
from codes.aws_positions import within
from codes.clauses import Mark
from codes.limits import Limit, OneOf

SOURCE = f"{CVN_FORUM} (each position is tested); row 1G from a public copy of Table 6.1, other rows from memory"
POSITIONS = rule("tested positions", Mark.PART, SOURCE)
PROGRESSION = line("30", Mark.MEMORY, f"from memory; {VERTICAL_DOWN}")

# Test -> positions covered, the same for CJP, PJP and fillet welds; a fillet test serves fillets only.
PLATE: dict[str, tuple[str, ...]] = {
    "1G": (FLAT,),
    "2G": (FLAT, HORIZONTAL),
    "3G": (VERTICAL,),
    "4G": (OVERHEAD,),
    "1F": (FLAT,),
    "2F": (FLAT, HORIZONTAL),
    "3F": (VERTICAL,),
    "4F": (OVERHEAD,),
}
# 1G and 1F rotated; 2F fixed or rotated.
PIPE: dict[str, tuple[str, ...]] = {
    "1G": (FLAT,),
    "2G": (FLAT, HORIZONTAL),
    "5G": (FLAT, VERTICAL, OVERHEAD),
    "6G": ALL,
    "6GR": ALL,
    "1F": (FLAT,),
    "2F": (FLAT, HORIZONTAL),
    "4F": (OVERHEAD,),
    "5F": ALL,
}
BY_PRODUCT = {"plate": PLATE, "pipe": PIPE}


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Positions, and the progression of vertical welds."""
    clause = POSITIONS.of(piece.book)
    table = BY_PRODUCT.get(piece.word("product"))
    tested = piece.words("aws_position")
    if table is None or not tested:
        field = "the product (plate or pipe)" if table is None else "the test position"
        return (unrecorded("aws_position", clause, field, reason="position"),)
    if not all(name in table for name in tested):
        known = ", ".join(table)
        return (unrecorded("aws_position", clause, f"a position of the table ({known})", reason="position"),)
    served = tuple(dict.fromkeys(position for name in tested for position in table[name]))
    named = " + ".join(tested)
    because = f"tested {named} on {piece.word('product')}: {', '.join(served)}"
    names = tuple(name for name in within(served) if name != "6GR" or "6GR" in tested)
    return (
        Limit("aws_position", OneOf(names), clause, because, reason="position", tested=named),
        *_progression(piece, served),
    )


def _progression(piece: Piece, served: tuple[str, ...]) -> tuple[Limit, ...]:
    """Line 30: up to down or down to up, any pass; submerged arc has no such line."""
    if VERTICAL not in served or piece.family == "SAW":
        return ()
    clause = PROGRESSION.of(piece.book)
    when = (in_position(VERTICAL),)
    tested = piece.words("progression")
    if not tested:
        return (unrecorded("progression", clause, "the vertical progression of the test", when),)
    because = f"tested {' + '.join(tested)}"
    return (Limit("progression", OneOf(tested), clause, because, when, tested=because),)
