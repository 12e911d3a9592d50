"""AWS D1.1: kinds of weld and sizes of fillet and partial-penetration welds that a test covers."""

from codes.aws_d1_1.book import ONE_WAY, TABLE_9_10, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf, Within, when_is
from codes.values import Interval

KINDS = rule("CJP", Mark.CONFIRMED, ONE_WAY)
CONNECTIONS = rule("positions", Mark.MEMORY)
ANY_FILLET = rule("CJP", Mark.CONFIRMED, TABLE_9_10)
FILLET_SIZES = rule("fillet", Mark.MEMORY, "D1.1:2000, 4.11.2 (two welds are tested); ranges from memory")
PJP_COVERS = GROOVE_DEPTH = rule("PJP", Mark.MEMORY)

# Tested -> covered, one way only.
INHERITANCE: dict[str, tuple[str, ...]] = {
    "butt_cjp": ("butt_cjp", "butt_pjp", "fillet"),
    "branch": ("branch", "butt_cjp", "butt_pjp", "fillet"),
    "butt_pjp": ("butt_pjp", "fillet"),
    "fillet": ("fillet",),
}
FILLETS = (when_is("weld_type", "fillet"),)
RESTRICTED = "6GR"


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Kinds of weld, then sizes."""
    return (*_kinds(piece), *_fillet_sizes(piece), *_groove_depth(piece))


def _kinds(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.word("weld_type")
    clause = (PJP_COVERS if tested == "butt_pjp" else KINDS).of(piece.book)
    if tested not in INHERITANCE:
        return (unrecorded("weld_type", clause, reason="weld_type"),)
    served = INHERITANCE[tested]
    restricted = RESTRICTED in piece.words("aws_position")
    if tested == "butt_cjp" and restricted:
        served = ("branch", *served)
    because = f"tested {tested.replace('_', ' ')}; cover goes one way only"
    found = [Limit("weld_type", OneOf(served), clause, because, tested=tested)]
    if "branch" in served:
        needs = "the conditions of the tubular clause for T-, Y- and K-connections, checked by hand"
        others = OneOf(tuple(kind for kind in served if kind != "branch"))
        clause = CONNECTIONS.of(piece.book)
        found.append(
            Limit("weld_type", others, clause, "T-, Y- and K-connections have limits of their own", needs=needs)
        )
    return tuple(found)


def _fillet_sizes(piece: Piece) -> tuple[Limit, ...]:
    """Table 6.4: the largest single pass and the smallest multiple pass; a groove test covers any fillet."""
    if piece.word("weld_type") != "fillet":
        clause = (PJP_COVERS if piece.word("weld_type") == "butt_pjp" else ANY_FILLET).of(piece.book)
        return (Limit("leg_z", Free(), clause, "a groove test covers fillets of any size", FILLETS),)
    clause = FILLET_SIZES.of(piece.book)
    run, legs = piece.words("run_type"), piece.numbers("leg_z")
    if len(run) != 1 or not legs:
        field = "single or multiple pass, one entry for each" if len(run) != 1 else "the leg of the tested fillet"
        return (unrecorded("leg_z", clause, field, FILLETS),)
    single = run[0] == "single_run"
    size = max(legs) if single else min(legs)
    span = Interval(None, size, "mm") if single else Interval(size, None, "mm")
    said = piece.said(size)
    because = f"tested {'single' if single else 'multiple'} pass {said}: that size and {'under' if single else 'over'}"
    reason = "single_pass_size" if single else "multi_pass_size"
    return (
        Limit("run_type", OneOf(run), clause, because, FILLETS, tested=said),
        Limit("leg_z", Within(span), clause, because, FILLETS, reason=reason, tested=said),
    )


def _groove_depth(piece: Piece) -> tuple[Limit, ...]:
    """Table 6.3: depth of the groove up to the tested one; a CJP test covers any."""
    if piece.word("weld_type") != "butt_pjp":
        return ()
    clause = GROOVE_DEPTH.of(piece.book)
    when = (when_is("weld_type", "butt_pjp"),)
    depth = piece.most("groove_depth")
    if depth is None:
        return (unrecorded("groove_depth", clause, when=when),)
    said = piece.said(depth)
    because = f"tested groove depth {said}: up to it"
    return (Limit("groove_depth", Within(Interval(None, depth, "mm")), clause, because, when, tested=said),)
