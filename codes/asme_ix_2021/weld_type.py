"""QW-202.2: a groove coupon serves grooves and fillets; a fillet coupon only fillets that retain no pressure."""

from codes.asme_ix_2021.piece import Piece
from codes.asme_ix_2021.sources import FILLETS, OWN_RULE, Rule
from codes.clauses import Mark
from codes.limits import Limit, Nothing, OneOf

GROOVE = Rule("QW-202.2(a), QW-202.2(c)", Mark.CONFIRMED, FILLETS)
PARTIAL = Rule("QW-202.2(b), partial-penetration coupon", Mark.DOUBT, OWN_RULE)
FILLET = Rule("QW-202.2(c), fillet coupon", Mark.CONFIRMED, FILLETS)
OVERLAY = Rule("QW-214, QW-216", Mark.OWN, "overlay and buttering are not entered")
TOUGHNESS_COUPON = Rule("QW-202.1, coupon for toughness only", Mark.OWN, OWN_RULE)

GROOVE_COVERS = ("butt_cjp", "butt_pjp", "branch", "fillet", "buildup")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Which kinds of weld the coupon serves."""
    tested = piece.word("weld_type")
    if tested is None:
        return (piece.unrecorded("weld_type", GROOVE),)
    if piece.word("toughness_only") == "yes":
        because = "without tension and bend tests a coupon only extends the thickness of another record"
        return (Limit("weld_type", Nothing(), piece.at(TOUGHNESS_COUPON), because),)
    if tested in ("buildup", "buttering"):
        return (Limit("weld_type", Nothing(), piece.at(OVERLAY), "rules of overlay coupons are not entered"),)
    if tested == "fillet":
        return _fillet(piece)
    if tested == "butt_pjp":
        because = "tested as partial penetration: partial penetration and fillets (strict)"
        return (Limit("weld_type", OneOf(("butt_pjp", "fillet")), piece.at(PARTIAL), because, tested=tested),)
    because = "groove coupon: grooves, build-up and every fillet"
    return (Limit("weld_type", OneOf(GROOVE_COVERS), piece.at(GROOVE), because, tested=tested),)


def _fillet(piece: Piece) -> tuple[Limit, ...]:
    clause = piece.at(FILLET)
    because = "fillet coupon: fillets that retain no pressure"
    return (
        Limit("weld_type", OneOf(("fillet",)), clause, because, tested="fillet"),
        Limit("pressure_retaining", OneOf(("no",)), clause, because, reason="weld_type"),
    )
