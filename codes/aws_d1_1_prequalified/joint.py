"""AWS D1.1, 5.4 [3.9 to 3.13]: a groove of a prequalified procedure lies in one row of one figure, tolerances included.

CJP needs steel backing, or both sides with backgouging (B-L1-S excepted). Backing other than steel needs a test.
"""

from collections.abc import Iterator
from decimal import Decimal

from codes.aws_d1_1.book import BACKING_THREAD, DETAIL_NOTES, SKEWED, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1_2020.groove import GOUGED as BY_GOUGING
from codes.aws_d1_1_prequalified.detail_rows import (
    BACKED,
    DETAILED_ANGLE,
    DETAILED_OPENING,
    DETAILS,
    FIT_UP_ANGLE,
    FIT_UP_FACE,
    FIT_UP_OPENING,
    GOUGED,
    TIMES_T,
    Detail,
    Opening,
)
from codes.aws_positions import within
from codes.clauses import Clause, Mark
from codes.limits import Limit, Nothing, OneOf, When, Within, unless, when_is
from codes.pieces import IfStated
from codes.values import Interval

FIGURES = rule("joint details")
SKEWED_JOINTS = rule("joint details", Mark.PART, SKEWED)
NOTES = rule("joint details", Mark.CONFIRMED, DETAIL_NOTES)
SUPPORT = rule("joint details", Mark.CONFIRMED, f"{DETAIL_NOTES}; {BACKING_THREAD}")

ON_GROOVE: tuple[When, ...] = (unless("weld_type", "fillet"),)
FILLET_JOINTS = ("tee", "lap", "corner")
SKEW = (Decimal(60), Decimal(135))


def rows_of(piece: Piece) -> tuple[tuple[Detail | None, Opening | None], ...]:
    """The rows of the named detail, each a road of its own; (None, None) where none is named or known."""
    detail = DETAILS.get(piece.word("joint_detail").upper())
    return tuple((detail, opening) for opening in detail.openings) if detail else ((None, None),)


def limits(piece: Piece, detail: Detail | None, opening: Opening | None) -> Iterator[Limit]:
    """Fillet joints, then everything that the row of the detail asks of a groove."""
    clause = FIGURES.of(piece.book)
    fillet = (when_is("weld_type", "fillet"),)
    yield Limit("joint_type", OneOf(FILLET_JOINTS), clause, "fillets: T-, lap and corner joints", fillet)
    skewed = SKEWED_JOINTS.of(piece.book)
    angled = IfStated("dihedral_angle", Within(Interval(Decimal(0), None, "°")))
    allowed = Within(Interval(*SKEW, "°"))
    yield Limit("dihedral_angle", allowed, skewed, "skewed T-joints as fillets: 60 to 135 degrees", (*fillet, angled))
    if detail is None or opening is None:
        yield _unknown(piece, clause)
        return
    yield from _figure(piece, detail, clause)
    yield from _root(piece, detail, opening, clause)
    yield from _angle(opening, clause)
    yield from _face(piece, detail, clause)
    yield from _support(piece, detail)


def _unknown(piece: Piece, clause: Clause) -> Limit:
    written = piece.word("joint_detail")
    if not written:
        return unrecorded("joint_detail", clause, "the prequalified detail", ON_GROOVE)
    needs = f"the figure of {written}, which is not entered here"
    return Limit("joint_detail", Nothing(), clause, "", ON_GROOVE, needs=needs)


def _figure(piece: Piece, detail: Detail, clause: Clause) -> Iterator[Limit]:
    """Joint, groove, kind of weld, process and thickness."""
    name = detail.name
    yield Limit("joint_type", OneOf(detail.joints), clause, name, ON_GROOVE, reason="joint_detail")
    yield Limit("groove_type", OneOf(detail.groove), clause, name, ON_GROOVE, reason="joint_detail")
    kind = "butt_cjp" if detail.cjp else "butt_pjp"
    yield Limit("weld_type", OneOf((kind, "fillet")), clause, name, reason="joint_detail")
    if piece.family not in detail.processes:
        notes = NOTES.of(piece.book)
        because = f"{name} is for {', '.join(detail.processes)}, not {piece.family}"
        yield Limit("joint_detail", Nothing(), notes, because, ON_GROOVE)
    lo, hi = (piece.mm(size) if size else None for size in (detail.thinnest, detail.thickest))
    if lo is not None or hi is not None:
        span = Within(Interval(lo, hi, "mm"))
        yield Limit("parent_t", span, clause, f"thickness of {name}", ON_GROOVE, reason="joint_detail")
    for missing in detail.not_entered:
        needs = f"the figure of {name}: {missing}"
        yield Limit("joint_detail", Nothing(), clause, "", ON_GROOVE, needs=needs)


def _root(piece: Piece, detail: Detail, opening: Opening, clause: Clause) -> Iterator[Limit]:
    nominal = _nominal(piece, opening)
    if nominal is None:
        yield unrecorded("root_opening", clause, "the thickness that the root opening follows", ON_GROOVE)
        return
    lo, hi = nominal
    because = f"{detail.name}: root opening {piece.said(lo)} to {piece.said(hi)}, +{DETAILED_OPENING} -0"
    span = Interval(lo, hi + piece.mm(DETAILED_OPENING), "mm")
    yield Limit("root_opening", Within(span), clause, because, ON_GROOVE)
    less, more = FIT_UP_OPENING[detail.support]
    span = Interval(max(lo - piece.mm(less), Decimal(0)), hi + piece.mm(more), "mm")
    because = f"{detail.name} at fit-up: root opening +{more} -{less}"
    measured = (*ON_GROOVE, _stated("fit_up_root_opening", "mm"))
    yield Limit("fit_up_root_opening", Within(span), clause, because, measured)
    if opening.positions:
        names = OneOf(within(opening.positions))
        because = f"{detail.name}: this row for {', '.join(opening.positions)} only"
        yield Limit("aws_position", names, clause, because, ON_GROOVE, reason="position")


def _nominal(piece: Piece, opening: Opening) -> tuple[Decimal, Decimal] | None:
    if not opening.of_thickness:
        return piece.mm(opening.lo), piece.mm(opening.hi)
    t = piece.least("parent_t")
    if t is None:
        return None
    at = t if opening.of_thickness == TIMES_T else t / 2
    return at, at


def _stated(name: str, unit: str) -> When:
    """Fit-up is judged where it was measured; a procedure on paper has none."""
    return IfStated(name, Within(Interval(None, None, unit)))


def _angle(opening: Opening, clause: Clause) -> Iterator[Limit]:
    if opening.angle is None:
        return
    angle = Decimal(opening.angle)
    span = Within(Interval(angle, angle + DETAILED_ANGLE, "°"))
    yield Limit("groove_angle", span, clause, f"angle {angle}°, +{DETAILED_ANGLE}° -0°", ON_GROOVE)
    less, more = FIT_UP_ANGLE
    span = Within(Interval(angle - less, angle + more, "°"))
    because = f"at fit-up: angle {angle}°, +{more}° -{less}°"
    yield Limit("fit_up_angle", span, clause, because, (*ON_GROOVE, _stated("fit_up_angle", "°")))


def _face(piece: Piece, detail: Detail, clause: Clause) -> Iterator[Limit]:
    lo, hi = (piece.mm(size) if size is not None else None for size in detail.face)
    if lo is None and hi is None:
        return
    yield Limit("root_face", Within(Interval(lo, hi, "mm")), clause, f"root face of {detail.name}", ON_GROOVE)
    if detail.support != GOUGED:
        room = piece.mm(FIT_UP_FACE)
        least = None if lo is None else max(lo - room, Decimal(0))
        span = Within(Interval(least, None if hi is None else hi + room, "mm"))
        because = f"root face at fit-up ±{FIT_UP_FACE}"
        yield Limit("fit_up_root_face", span, clause, because, (*ON_GROOVE, _stated("fit_up_root_face", "mm")))


def _support(piece: Piece, detail: Detail) -> Iterator[Limit]:
    clause = SUPPORT.of(piece.book)
    because = f"{detail.name}: {detail.support}"
    if detail.support == BACKED:
        yield Limit("weld_detail", OneOf(("ss_mb",)), clause, because, ON_GROOVE, reason="backing")
        steel = "backing other than steel needs a test"
        yield Limit("backing_material", OneOf(("steel",)), clause, steel, ON_GROOVE, reason="backing")
    elif detail.support == GOUGED:
        yield Limit("weld_detail", OneOf(("bs",)), clause, because, ON_GROOVE, reason="backing")
        yield Limit("gouging", OneOf(BY_GOUGING), clause, because, ON_GROOVE, reason="backing")
