"""AWS D1.1, Table 7.7 [5.7] and the minimum PJP size [2015 Table 3.5], turned round for a joint.

A size serves parts up to the thickness whose row asks for it, so that a joint's own thickness is what is judged. The
cap by the thinner part is left to the look-up where the thicker part decides: the answer is then 'not stated'.
"""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from codes.aws_d1_1.book import DESIGNERS_HANDBOOK, FILLET_TABLE, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.positions import FLAT, HORIZONTAL, OVERHEAD, VERTICAL, in_position
from codes.aws_d1_1.size_rows import CYCLIC_FILLET, FILLET, PJP
from codes.aws_d1_1.unit_sets import Size
from codes.aws_d1_1_prequalified.detail_rows import Detail
from codes.aws_d1_1_prequalified.preheat import welding_of
from codes.aws_d1_1_prequalified.switches import PJP_THICKNESS, lenient
from codes.clauses import Clause, Mark
from codes.limits import Limit, When, Within, when_is
from codes.values import Interval

FILLET_SIZE = rule("fillet size", Mark.CONFIRMED, FILLET_TABLE)
PJP_SIZE = rule("PJP size", Mark.CONFIRMED, DESIGNERS_HANDBOOK)
EFFECTIVE_SIZE = rule("joint details")

Table = tuple[tuple[Size | None, Size], ...]
FILLETS, PJPS = when_is("weld_type", "fillet"), when_is("weld_type", "butt_pjp")
CAP = "the look-up of the least size: it need not exceed the thinner part"


def limits(piece: Piece, detail: Detail | None) -> Iterator[Limit]:
    """Smallest fillets and smallest and largest partial-penetration welds."""
    low = welding_of(piece).low_hydrogen
    clause = FILLET_SIZE.of(piece.book)
    yield from _served(piece, FILLET, "leg_z", FILLETS, clause, (low, (), "fillet_size"))
    cyclic = (FILLETS, when_is("cyclic_load", "yes"))
    least = Within(Interval(piece.mm(CYCLIC_FILLET), None, "mm"))
    yield Limit("leg_z", least, clause, f"cyclic load: {CYCLIC_FILLET}", cyclic, reason="fillet_size")
    clause = PJP_SIZE.of(piece.book)
    thinner = low and lenient(PJP_THICKNESS, piece.settings)
    readings = (PJP_THICKNESS.used(piece.settings),)
    yield from _served(piece, PJP, "deposit_t", PJPS, clause, (thinner, readings, "pjp_size"))
    yield from _of_depth(piece, detail)


def _served(
    piece: Piece,
    table: Table,
    name: str,
    kind: When,
    clause: Clause,
    how: tuple[bool, tuple[str, ...], str],
) -> Iterator[Limit]:
    """A limit on the parts for each step of sizes; below the first step no part is thin enough."""
    by_thinner, readings, reason = how
    # Where the thinner part decides, no row asks for more than that part; else the cap may still help.
    needs = "" if by_thinner or name == "deposit_t" else CAP
    least = Within(Interval(piece.mm(table[0][1]), None, "mm"))
    yield Limit(name, least, clause, f"{table[0][1]} at least", (kind,), reason=reason)
    for (end, size), (_, following) in pairwise(table):
        assert end is not None
        steps = Interval(piece.mm(size), piece.mm(following), "mm", hi_open=True)
        because = f"from {size} to under {following}: parts up to {end}"
        allowed = Within(Interval(None, piece.mm(end), "mm"))
        when = (kind, When(name, Within(steps)))
        yield Limit("parent_t", allowed, clause, because, when, readings, reason, needs, least_only=by_thinner)


def _of_depth(piece: Piece, detail: Detail | None) -> Iterator[Limit]:
    """The size E is the groove depth S, or S less the figure's deduction."""
    if detail is None or detail.cjp or detail.size_less is None:
        return
    clause, depth = EFFECTIVE_SIZE.of(piece.book), piece.least("groove_depth")
    if depth is None:
        yield unrecorded("deposit_t", clause, "the groove depth", (PJPS,), "pjp_size")
        return
    upright = (in_position(VERTICAL, OVERHEAD),) if detail.level_less is not None else ()
    yield _size_limit(piece, detail, detail.size_less, depth, upright)
    if detail.level_less is not None:
        yield _size_limit(piece, detail, detail.level_less, depth, (in_position(FLAT, HORIZONTAL),))


def _size_limit(piece: Piece, detail: Detail, less: Size, depth: Decimal, at: tuple[When, ...]) -> Limit:
    most = max(depth - piece.mm(less), Decimal(0))
    because = f"{detail.name}: E = S less {less}, S = {piece.said(depth)}"
    clause = EFFECTIVE_SIZE.of(piece.book)
    return Limit("deposit_t", Within(Interval(None, most, "mm")), clause, because, (PJPS, *at), reason="pjp_size")
