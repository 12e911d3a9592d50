"""ISO 15614-1:2017, 8.3.3 and 8.3.4: product, outside diameter (Table 9, mm) and branch angle (degrees)."""

from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, mm, unrecorded
from codes.iso_15614_1_2017.rows import common, row_for
from codes.iso_15614_1_2017.sources import clause
from codes.iso_15614_1_2017.table_7 import DIAMETER
from codes.limits import Free, Limit, When, Within, span, unless, when_is
from codes.values import Interval

TABLE_9 = clause("8.3.3, Table 9", Mark.MEMORY)
ANGLE = clause("8.3.4", Mark.MEMORY)
FROM_PIPE_BUTT = clause("8.4.3 and 8.3.4", Mark.MEMORY)

PIPE: tuple[When, ...] = (when_is("product", "pipe"),)
BRANCH: tuple[When, ...] = (when_is("weld_type", "branch"),)
ROTATED_MM, ANY_POSITION_MM = Decimal(150), Decimal(500)
BUTT_BRANCH_ANGLE = Decimal(60)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Product and diameter, then the branch angle."""
    return (*_diameter(piece), *_branch_angle(piece))


def _diameter(piece: Piece) -> tuple[Limit, ...]:
    if piece.level == 1:
        return (Limit("diameter", Free(), TABLE_9, "level 1", reason="diameter"),)
    product = piece.word("product")
    if product is None:
        return (unrecorded("product", TABLE_9, reason="product"),)
    sizes = _from_plate() if product == "plate" else _from_pipe(piece)
    because = "pipe by its diameter" if product == "plate" else "pipe covers plate too"
    words = f"tested on {product}: {because}"
    return (Limit("product", Free(), TABLE_9, words, reason="product", tested=product), *sizes)


def _from_plate() -> tuple[Limit, ...]:
    """Plate covers large pipe, and smaller pipe only rotated in PA or PC: the two joined conditions as limits.

    The larger size stands first: where it counts, it is what a finding has to name.
    """
    small, large = (Within(Interval(size, None, "mm", lo_open=True)) for size in (ROTATED_MM, ANY_POSITION_MM))
    text = "tested on plate: pipe above 500 mm, or above 150 mm where rotated in PA or PC"
    fixed, turned = (*PIPE, unless("rotated", "yes")), (*PIPE, unless("position", "PA", "PC"))
    return tuple(
        Limit("diameter", allowed, TABLE_9, text, when, (), "diameter", tested="plate")
        for allowed, when in ((large, fixed), (large, turned), (small, PIPE))
    )


def _from_pipe(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.numbers("diameter")
    if not tested:
        return (unrecorded("diameter", TABLE_9, "the diameter of the test piece", PIPE, "diameter"),)
    used = [(row_for(DIAMETER, d, "diameter"), d) for d in tested]
    sizes = " and ".join(mm(d) for d in tested)
    because = f"tested D = {sizes}: " + " and ".join(dict.fromkeys(row.words("D") for row, _ in used))
    allowed = common([row.at(d) for row, d in used])
    return (Limit("diameter", allowed, TABLE_9, because, PIPE, (), "diameter", tested=sizes),)


def _branch_angle(piece: Piece) -> tuple[Limit, ...]:
    weld = piece.word("weld_type")
    if weld == "branch":
        angle = piece.most("branch_angle")
        if angle is None:
            return (unrecorded("branch_angle", ANGLE, "the branch angle of the test", BRANCH, "branch_angle"),)
        where, because = ANGLE, f"tested at {angle}°: from there to 90°"
    elif weld == "butt_cjp":
        angle, where, because = BUTT_BRANCH_ANGLE, FROM_PIPE_BUTT, "butt test: branch connections of 60° and more"
    else:
        return ()
    return (Limit("branch_angle", span(angle, Decimal(90), "°"), where, because, BRANCH, (), "branch_angle"),)
