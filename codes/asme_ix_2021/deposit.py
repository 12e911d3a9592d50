"""QW-404.30 with QW-451: deposited thickness of each process and F-number; QW-404.32 to 2019. Units: mm.

The weld metal of the demand is that of the process asked about, without reinforcement; a partial-penetration groove
counts its depth. The tables give no lower end.
"""

from decimal import Decimal

from codes.asme_ix_2021.edition_table import stands
from codes.asme_ix_2021.piece import NOT_FILLET, Piece
from codes.asme_ix_2021.sources import CHANGES_2021, TABLE_UPLOAD, Rule
from codes.asme_ix_2021.thickness import coupon_t, row_of
from codes.asme_ix_2021.thresholds import THICK_PASS
from codes.clauses import Mark
from codes.limits import Limit, span, times, when_is
from codes.parse import BadField

TABLE = Rule("QW-404.30, QW-451.1", Mark.CONFIRMED, TABLE_UPLOAD)
TABLE_LONG = Rule("QW-404.30, QW-451.2", Mark.MEMORY)
SHORT_CIRCUIT = Rule("QW-404.32", Mark.CONFIRMED, CHANGES_2021)

REASON = "deposit_thickness"
TENTH = Decimal("1.1")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """The highest deposit; a fillet has none."""
    if piece.is_fillet:
        return ()
    rule = TABLE_LONG if piece.word("bend_direction") == "longitudinal" else TABLE
    coupon, deposit = coupon_t(piece), piece.least("deposit_t")
    if coupon is None or deposit is None:
        field = "the deposit of the process in the coupon" if deposit is None else "the coupon thickness T"
        return (piece.unrecorded("deposit_t", rule, REASON, (NOT_FILLET,), field),)
    if deposit <= 0:
        raise BadField("deposit_t", "a deposit must be thicker than 0 mm")
    most = row_of(piece, coupon).deposit(coupon, deposit, piece.system)
    because = f"coupon T = {piece.size(coupon)}, t = {piece.size(deposit)}: up to {piece.size(most)}"
    tested = piece.size(deposit)
    found = Limit(
        "deposit_t", span(None, most, "mm"), piece.at(rule), because, (NOT_FILLET,), (), REASON, tested=tested
    )
    return (found, *_short_circuit(piece, deposit))


def _short_circuit(piece: Piece, deposit: Decimal) -> tuple[Limit, ...]:
    on = stands("404.32", piece.year) and piece.wire_fed and "dip" in piece.words("transfer_mode")
    if not on or deposit >= piece.mm(THICK_PASS):
        return ()
    because = f"short-circuiting transfer: {times(TENTH, deposit)}"
    when = (NOT_FILLET, when_is("transfer_mode", "dip"))
    return (Limit("deposit_t", span(None, TENTH * deposit, "mm"), piece.at(SHORT_CIRCUIT), because, when, (), REASON),)
