"""QW-403.8 with QW-451: base thickness; QW-202.2 to 202.4, 403.6, 403.9, 403.10 and 407.4. Units: mm.

Every range is worked out in the record's own unit system. A fillet coupon or a fillet weld has no limit (QW-451.3
and 451.4), but for the lowest thickness where toughness is required.
"""

from decimal import Decimal

from codes.asme_ix_2021.edition_table import stands
from codes.asme_ix_2021.piece import FCAW, FILLET, GMAW, NOT_FILLET, TOUGH, Piece
from codes.asme_ix_2021.sources import (
    CHANGES_2021,
    FILLETS,
    IMPACT_THREADS,
    PASS_THREAD,
    PWHT_THREAD,
    TABLE_UPLOAD,
    UNEQUAL,
    Rule,
)
from codes.asme_ix_2021.switches import TOUGH_FILLETS, lenient
from codes.asme_ix_2021.table_451 import LONGITUDINAL, TRANSVERSE, Row, row_for
from codes.asme_ix_2021.thresholds import HEAVY, SIX, THICK_PASS, TOUGH_LEAST
from codes.clauses import Mark
from codes.limits import Free, Limit, When, Within, span, times, unless, when_is
from codes.parse import BadField
from codes.values import Interval

TABLE = Rule("QW-403.8, QW-451.1", Mark.CONFIRMED, TABLE_UPLOAD)
TABLE_LONG = Rule("QW-403.8, QW-451.2", Mark.MEMORY)
FILLET_COUPON = Rule("QW-451.3", Mark.MEMORY)
FILLET_WELD = Rule("QW-451.4", Mark.CONFIRMED, FILLETS)
THICKER = Rule("QW-202.4", Mark.CONFIRMED, UNEQUAL)
PARTIAL = Rule("QW-202.2(b), QW-202.3", Mark.MEMORY)
TOUGH_MINIMUM = Rule("QW-403.6", Mark.CONFIRMED, IMPACT_THREADS)
THICK_PASSES = Rule("QW-403.9", Mark.CONFIRMED, PASS_THREAD)
SHORT_CIRCUIT = Rule("QW-403.10", Mark.CONFIRMED, CHANGES_2021)
NORMALISED = Rule("QW-407.4", Mark.CONFIRMED, PWHT_THREAD)

TENTH = Decimal("1.1")
REASON = "base_thickness"
THICKER_FREE = (
    "P8", *(f"P{n}" for n in range(41, 47)), "P49", "P51", "P52", "P53", "P61", "P62",
)  # fmt: skip
"""QW-202.4: joints of one of these P-numbers have no upper limit on the thicker member from a coupon of 6 mm on."""
NOT_NORMALISED = ("P7", "P8", "P45")


def coupon_t(piece: Piece) -> Decimal | None:
    """T of the coupon: its thinner part. Raises BadField for a coupon of no thickness."""
    t = piece.least("parent_t")
    if t is not None and t <= 0:
        raise BadField("parent_t", "a coupon must be thicker than 0 mm")
    return t


def row_of(piece: Piece, t: Decimal) -> Row:
    """The row of the table that serves the coupon."""
    row = row_for(LONGITUDINAL if _longitudinal(piece) else TRANSVERSE, t, piece.system)
    if row is None:
        raise BadField("parent_t", "a coupon must be thicker than 0 mm")
    return row


def _longitudinal(piece: Piece) -> bool:
    return piece.word("bend_direction") == "longitudinal"


def limits(piece: Piece) -> tuple[Limit, ...]:
    """All limits on the base thickness and on the thickest run."""
    if piece.is_fillet:
        because = "fillet coupon: every base thickness, size and diameter"
        return (Limit("parent_t", Free(), piece.at(FILLET_COUPON), because, reason=REASON),)
    t = coupon_t(piece)
    if t is None:
        return (piece.unrecorded("parent_t", TABLE, REASON, field="the coupon thickness T"),)
    return (
        *_table(piece, t),
        Limit("parent_t", Free(), piece.at(FILLET_WELD), "fillets: every base thickness", (FILLET,), reason=REASON),
        *tough_minimum(piece, t),
        *_thick_pass(piece, t),
        *_short_circuit(piece, t),
        *_normalised(piece, t),
    )


def lowest(piece: Piece, t: Decimal) -> Decimal:
    """Lowest base thickness without toughness. Example: a coupon of 12 mm gives 5 mm."""
    return row_of(piece, t).lowest(t, piece.system)


def _table(piece: Piece, t: Decimal) -> tuple[Limit, ...]:
    row = row_of(piece, t)
    lo, hi = row.lowest(t, piece.system), row.highest(t, piece.system)
    rule = TABLE_LONG if _longitudinal(piece) else TABLE
    tested = piece.size(t)
    because = f"coupon T = {tested}: {piece.size(lo)} to {piece.size(hi)} ({row.words})"
    heavy = t >= piece.mm(HEAVY)
    thicker_free = heavy or _thicker_free(piece, t)
    when: tuple[When, ...] = (NOT_FILLET, unless("weld_type", "butt_pjp", "buildup")) if heavy else (NOT_FILLET,)
    found = [
        Limit(
            "parent_t", span(lo, hi, "mm"), piece.at(rule), because, when, (), REASON, "", tested,
            least_only=thicker_free,
        )
    ]  # fmt: skip
    if thicker_free:
        text = f"coupon T = {tested}: no upper limit for the thicker member"
        found.append(_from(piece, lo, THICKER, text, (NOT_FILLET,)))
    if heavy:
        text = f"coupon T = {tested}: no upper limit for partial penetration and build-up"
        found.append(_from(piece, lo, PARTIAL, text, (when_is("weld_type", "butt_pjp", "buildup"),)))
    return tuple(found)


def _from(piece: Piece, lo: Decimal, rule: Rule, because: str, when: tuple[When, ...]) -> Limit:
    return Limit("parent_t", span(lo, None, "mm"), piece.at(rule), because, when, (), REASON)


def _thicker_free(piece: Piece, t: Decimal) -> bool:
    alike = None not in piece.metals and len(piece.p_numbers) == 1
    return alike and not piece.p_numbers - set(THICKER_FREE) and t >= piece.mm(SIX)


def lowest_tough(piece: Piece, t: Decimal) -> Decimal:
    """QW-403.6: T / 2 below 1/4 in (6 mm), else the lesser of T and 5/8 in (16 mm)."""
    return t / 2 if t < piece.mm(SIX) else min(t, piece.mm(TOUGH_LEAST))


def tough_minimum(piece: Piece, t: Decimal) -> tuple[Limit, ...]:
    """The lowest base thickness where toughness is required; none for an austenitised coupon."""
    if piece.austenitised:
        return ()
    return (tough_limit(piece, lowest_tough(piece, t), f"coupon T = {piece.size(t)}"),)


def tough_limit(piece: Piece, least: Decimal, tested: str) -> Limit:
    """The limit of QW-403.6 for a lowest thickness."""
    because = f"{tested}, toughness required: at least {piece.size(least)}"
    when = (TOUGH, NOT_FILLET) if lenient(TOUGH_FILLETS, piece.settings) else (TOUGH,)
    used = (TOUGH_FILLETS.used(piece.settings),)
    return Limit("parent_t", span(least, None, "mm"), piece.at(TOUGH_MINIMUM), because, when, used, REASON)


def _cap(piece: Piece, t: Decimal, rule: Rule, why: str, needs: str = "", when: tuple[When, ...] = ()) -> Limit:
    because = f"{why}: {times(TENTH, t)}"
    allowed = span(None, TENTH * t, "mm")
    return Limit("parent_t", allowed, piece.at(rule), because, (NOT_FILLET, *when), (), REASON, needs, piece.size(t))


def _thick_pass(piece: Piece, t: Decimal) -> tuple[Limit, ...]:
    """A pass of more than 1/2 in (13 mm), in the coupon or planned: at most 1.1 T. Not in the list of GTAW."""
    if piece.family == "GTAW":
        return ()
    most = piece.mm(THICK_PASS)
    tested = piece.most("max_run_t")
    if tested is None and t > most:
        needs = f"the thickest pass of the coupon on the record, {piece.size(most)} at most"
        return (_cap(piece, t, THICK_PASSES, "a pass of the coupon may have been thicker", needs),)
    if tested is not None and tested > most:
        return (_cap(piece, t, THICK_PASSES, f"a pass of {piece.size(tested)} in the coupon"),)
    # Thinner than the figure no pass can be thick; within 1.1 T a thick pass is served as well.
    from_here = Interval(max(TENTH * t, most), None, "mm", lo_open=True)
    when = (NOT_FILLET, When("parent_t", Within(from_here)))
    because = f"no pass of the coupon over {piece.size(most)}: above 1.1 T no planned pass either"
    allowed = span(None, most, "mm")
    return (Limit("max_run_t", allowed, piece.at(THICK_PASSES), because, when, (), "pass_thickness"),)


def _short_circuit(piece: Piece, t: Decimal) -> tuple[Limit, ...]:
    on = stands("403.10", piece.year) and piece.family in (GMAW, FCAW) and "dip" in piece.words("transfer_mode")
    if not on or t >= piece.mm(THICK_PASS):
        return ()
    return (_cap(piece, t, SHORT_CIRCUIT, "short-circuiting transfer", when=(when_is("transfer_mode", "dip"),)),)


def _normalised(piece: Piece, t: Decimal) -> tuple[Limit, ...]:
    ferrous = not any(p in NOT_NORMALISED or int("".join(filter(str.isdigit, p))) >= 21 for p in piece.p_numbers)
    if not ferrous or piece.word("pwht") != "yes":
        return ()
    condition = piece.word("pwht_condition")
    if condition not in ("above", "above_then_below"):
        return ()
    return (_cap(piece, t, NORMALISED, "heat treated above the upper transformation temperature"),)
