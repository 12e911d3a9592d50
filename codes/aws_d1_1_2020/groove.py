"""AWS D1.1, Table 6.5 [4.5], lines 31 to 34: groove, fit-up, backing and backgouging."""

from decimal import Decimal

from codes.aws_d1_1.book import BACKING_THREAD, CVN_FORUM, FIT_UP_BLOG, line
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Size
from codes.clauses import Mark
from codes.limits import Limit, OneOf, When, Within, unless, when_is
from codes.values import Interval, number
from codes.vocabulary_aws import GROOVE_TYPES

LINES_31_32 = line("31 and 32", Mark.CONFIRMED, f"{FIT_UP_BLOG}; {BACKING_THREAD}")
LINE_33 = line("33", Mark.CONFIRMED, f"{FIT_UP_BLOG}; tolerances from memory")
LINE_34 = line("34", Mark.CONFIRMED, CVN_FORUM)
LINE_34_BACKING = line("34", Mark.CONFIRMED, BACKING_THREAD)

GOUGED = ("mechanical", "thermal")
GROOVES: tuple[When, ...] = (unless("weld_type", "fillet"),)
SMALLER_ANGLE = Decimal(5)
"""Fit-up tolerance of the groove angle [degrees] towards a smaller one."""
SMALLER_ROOT, SMALLER_ROOT_GOUGED = Size("1/16", "2"), Size("1/8", "3")
LARGER_FACE = Size("1/16", "2")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """What a groove test covers; a fillet test covers no groove, so it says nothing here."""
    if piece.word("weld_type") == "fillet":
        return ()
    return (*_groove(piece), *_fit_up(piece), *_backing(piece))


def backgouged(piece: Piece) -> bool:
    """True where the tested root was gouged before the second side."""
    return piece.word("gouging") in GOUGED


def _own_figures(piece: Piece) -> tuple[When, ...]:
    """A CJP test covers any CJP detail that meets the prequalified figures, so its own figures bind the others."""
    return (*GROOVES, unless("prequalified_detail", "yes"))


def _groove(piece: Piece) -> tuple[Limit, ...]:
    clause = LINES_31_32.of(piece.book)
    tested = piece.word("groove_type")
    if not tested:
        return (unrecorded("groove_type", clause, when=GROOVES, reason="groove_type"),)
    square = ("square",)
    kinds = square if tested == "square" else tuple(kind for kind in GROOVE_TYPES if kind not in square)
    because = f"tested {GROOVE_TYPES[tested][2]}; square to another groove, or back, needs a test"
    found = [Limit("groove_type", OneOf(kinds), clause, because, GROOVES, tested=tested)]
    when = _own_figures(piece) if piece.word("weld_type") != "butt_pjp" else GROOVES
    because = f"tested {GROOVE_TYPES[tested][2]}; another groove only where its detail meets the prequalified figures"
    found.append(Limit("groove_type", OneOf((tested,)), clause, because, when, tested=tested))
    if when is not GROOVES:
        # The exception names CJP details only.
        pjp = (when_is("weld_type", "butt_pjp"),)
        found.append(Limit("groove_type", OneOf((tested,)), clause, "the exception names CJP details", pjp))
    return tuple(found)


def _fit_up(piece: Piece) -> tuple[Limit, ...]:
    clause = LINE_33.of(piece.book)
    when = _own_figures(piece)
    angled = (*when, unless("groove_type", "square"))
    root = piece.mm(SMALLER_ROOT_GOUGED if backgouged(piece) else SMALLER_ROOT)
    angle, opening, face = (piece.least(name) for name in ("groove_angle", "root_opening", "root_face"))
    found = [_least(piece, "root_opening", opening, root, when, "mm")]
    if piece.word("groove_type") != "square":
        found.append(_least(piece, "groove_angle", angle, SMALLER_ANGLE, angled, "°"))
    if not backgouged(piece):
        if face is None:
            found.append(unrecorded("root_face", clause, when=when))
        else:
            most = face + piece.mm(LARGER_FACE)
            because = f"tested root face {piece.said(face)}, larger by the fit-up tolerance {LARGER_FACE} at most"
            found.append(Limit("root_face", Within(Interval(None, most, "mm")), clause, because, when))
    return tuple(found)


def _least(
    piece: Piece, name: str, tested: Decimal | None, tolerance: Decimal, when: tuple[When, ...], unit: str
) -> Limit:
    clause = LINE_33.of(piece.book)
    if tested is None:
        return unrecorded(name, clause, when=when)
    said = f"{number(tested)}°" if unit == "°" else piece.said(tested)
    less = f"{number(tolerance)}°" if unit == "°" else piece.said(tolerance)
    least = max(tested - tolerance, Decimal(0))
    because = f"tested {said}, smaller by the fit-up tolerance {less} at most"
    return Limit(name, Within(Interval(least, None, unit)), clause, because, when, tested=said)


def _backing(piece: Piece) -> tuple[Limit, ...]:
    """Line 34: backing or backgouging may be added, not left out. Backing other than steel is as tested only."""
    clause = LINE_34.of(piece.book)
    detail = piece.word("weld_detail")
    if not detail:
        return (unrecorded("weld_detail", clause, when=GROOVES, reason="backing"),)
    if detail == "bs" and not piece.word("gouging"):
        return (unrecorded("gouging", clause, "whether the root was backgouged", GROOVES, "backing"),)
    return (*_support(piece, detail), *_materials(piece, detail))


def _support(piece: Piece, detail: str) -> tuple[Limit, ...]:
    clause = LINE_34.of(piece.book)
    supported = detail in ("ss_mb", "ss_fb") or (detail == "bs" and backgouged(piece))
    named = {"ss_mb": "with backing", "ss_fb": "with backing other than steel"}.get(detail, "without backing")
    if not supported:
        because = f"tested {named}, not backgouged: backing or backgouging may be added"
        served = tuple(dict.fromkeys((detail, "ss_nb", "bs", "ss_mb")))
        return (Limit("weld_detail", OneOf(served), clause, because, GROOVES, reason="backing", tested=detail),)
    named = "with backgouging" if detail == "bs" else named
    because = f"tested {named}: backing or backgouging may not be left out"
    served = tuple(dict.fromkeys((detail, "ss_mb", "bs")))
    both = (*GROOVES, when_is("weld_detail", "bs"))
    return (
        Limit("weld_detail", OneOf(served), clause, because, GROOVES, reason="backing", tested=detail),
        Limit("gouging", OneOf(GOUGED), clause, because, both, reason="backing", tested=detail),
    )


def _materials(piece: Piece, detail: str) -> tuple[Limit, ...]:
    clause = LINE_34_BACKING.of(piece.book)
    tested = piece.words("backing_material") or (("steel",) if detail == "ss_mb" else ())
    if detail == "ss_fb" and not tested:
        return (unrecorded("backing_material", clause, when=GROOVES, reason="backing"),)
    # A test over ceramic or copper says nothing of a joint that melts a steel bar.
    served = tested if detail in ("ss_mb", "ss_fb") else ("steel",)
    because = f"tested with {', '.join(tested) if detail in ('ss_mb', 'ss_fb') else 'no'} backing"
    strip = (*GROOVES, when_is("weld_detail", "ss_mb"))
    other = (*GROOVES, when_is("weld_detail", "ss_fb"))
    return (
        Limit("backing_material", OneOf(served), clause, because, strip, reason="backing", assumed="steel"),
        Limit("backing_material", OneOf(served), clause, because, other, reason="backing"),
    )
