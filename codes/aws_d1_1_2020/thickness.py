"""AWS D1.1, Tables 6.2, 6.3 [4.2, 4.3] and the tubular table: thickness and diameter that a test covers.

T is the thickness of the parent metal tested. Figures in inch and, apart from them, in mm.
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.book import CVN_FORUM, D1_3, TABLE_9_10, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Size
from codes.clauses import Clause, Mark
from codes.limits import Allowed, Limit, Nothing, When, Within, unless, when_is
from codes.values import Interval, number

PJP_RULE = rule("PJP")
SCOPE = rule("scope", Mark.CONFIRMED, D1_3)
GIRTH = rule("positions", Mark.CONFIRMED, "public copy of D1.1:2020 clause 6, note c")
PLATE_RULE = rule("CJP", Mark.MEMORY, f"from memory; pattern of {TABLE_9_10}")
THICK_PLATE_RULE = rule("CJP", Mark.CONFIRMED, CVN_FORUM)
PIPE_RULE = rule("CJP pipe", Mark.CONFIRMED, TABLE_9_10)

EIGHTH, THREE_EIGHTHS = Size("1/8", "3"), Size("3/8", "10")
THREE_QUARTERS, INCH = Size("3/4", "20"), Size("1", "25")


@dataclass(frozen=True, slots=True)
class Row:
    """Tested T from `start` (open where `above`) to `end` (open where `below`; None: no end), and what it covers.

    The least is a size or `least_times` T; the most is `times` T, a size, or without end.
    """

    start: Size
    end: Size | None
    above: bool = False
    below: bool = False
    least: Size | None = EIGHTH
    least_times: Decimal | None = None
    times: Decimal | None = None
    specimens: str = ""

    def serves(self, t: Decimal, piece: Piece) -> bool:
        """True where a tested T lies in the row."""
        lo, hi = piece.mm(self.start), piece.mm(self.end) if self.end else None
        return Interval(lo, hi, "mm", self.above, self.below).holds(t)

    def least_at(self, t: Decimal, piece: Piece) -> Decimal:
        """The smallest thickness covered."""
        return t * self.least_times if self.least_times is not None else piece.mm(self.least or EIGHTH)

    def most_at(self, t: Decimal) -> Decimal | None:
        """The greatest thickness covered; None is without limit."""
        return t * self.times if self.times is not None else None

    @property
    def words(self) -> str:
        """What the row covers. Example: "1/8 in [3 mm] to 2 T"."""
        least = f"{number(self.least_times)} T" if self.least_times is not None else str(self.least)
        return f"{least} to {f'{number(self.times)} T' if self.times is not None else 'unlimited'}"


TWICE, HALF = Decimal(2), Decimal("0.5")
BENDS = "2 tension, 2 root and 2 face bends (4 side bends may replace them at 3/8 in)"
SIDE_BENDS = "2 tension, 4 side bends"

CJP_PLATE = (
    Row(EIGHTH, THREE_EIGHTHS, times=TWICE, specimens=BENDS),
    Row(THREE_EIGHTHS, INCH, above=True, below=True, times=TWICE, specimens=SIDE_BENDS),
    Row(INCH, None, specimens=SIDE_BENDS),
)
CJP_PIPE = (
    Row(EIGHTH, THREE_EIGHTHS, times=TWICE, specimens=BENDS),
    Row(THREE_EIGHTHS, THREE_QUARTERS, True, True, None, HALF, TWICE, SIDE_BENDS),
    Row(THREE_QUARTERS, None, least=THREE_EIGHTHS, specimens=SIDE_BENDS),
)
# Test plates over 1 in [25 mm] have no row in Table 6.3: the last one is taken (own reading).
PJP_PLATE = (
    Row(EIGHTH, THREE_EIGHTHS, times=TWICE, specimens="3 macros, 2 tension, 2 root and 2 face bends"),
    Row(THREE_EIGHTHS, None, above=True, specimens="3 macros, 2 tension, 4 side bends"),
)

LARGE_PIPE = Size("24", "600")


@dataclass(frozen=True, slots=True)
class StandardPipe:
    """A standard test pipe: outside diameters that count as one, and what it covers."""

    diameters: tuple[Size, ...]
    diameter_from: Size
    diameter_to: Size | None
    wall_from: Size
    wall_to: Size | None
    words: str


STANDARD_PIPES = (
    StandardPipe(
        (Size("2-3/8", "60.3"), Size("3-1/2", "88.9")),
        Size("3/4", "20"),
        Size("4", "100"),
        EIGHTH,
        THREE_QUARTERS,
        "2 in Sch 80 or 3 in Sch 40",
    ),
    StandardPipe(
        (Size("6-5/8", "168.3"), Size("8-5/8", "219.1")),
        Size("4", "100"),
        None,
        Size("3/16", "5"),
        None,
        "6 in Sch 120 or 8 in Sch 80",
    ),
)

CJP: tuple[When, ...] = (when_is("weld_type", "butt_cjp", "branch"),)
PJP: tuple[When, ...] = (when_is("weld_type", "butt_pjp"),)
ROUND = (when_is("product", "pipe"), unless("weld_axis", "straight"))


def limits(piece: Piece) -> tuple[Limit, ...]:
    """The scope of D1.1, then thickness and diameter by kind of test; a CJP test covers PJP and fillets of any size."""
    kind = piece.word("weld_type")
    scope = _scope(piece)
    if kind in ("butt_cjp", "branch"):
        cjp = _pipe(piece) if piece.word("product") == "pipe" else _plate(piece)
        return (scope, *cjp)
    if kind == "butt_pjp":
        return (scope, *_plate_rows(piece, PJP_PLATE, PJP_RULE.of(piece.book), PJP), *_girth(piece, PJP))
    return (scope,)


def _scope(piece: Piece) -> Limit:
    least = piece.mm(EIGHTH)
    clause = SCOPE.of(piece.book)
    because = f"under {EIGHTH} the sheet steel code applies"
    return Limit("parent_t", Within(Interval(least, None, "mm")), clause, because, reason="thickness")


def _plate(piece: Piece) -> tuple[Limit, ...]:
    t = piece.least("parent_t")
    thick = t is not None and t >= piece.mm(INCH)
    found = THICK_PLATE_RULE if thick else PLATE_RULE
    return (*_plate_rows(piece, CJP_PLATE, found.of(piece.book), CJP), *_girth(piece, CJP))


def _plate_rows(piece: Piece, rows: tuple[Row, ...], clause: Clause, when: tuple[When, ...]) -> tuple[Limit, ...]:
    tested = piece.numbers("parent_t")
    if not tested:
        return (unrecorded("parent_t", clause, when=when, reason="thickness"),)
    # The thinner part of the test gives the smaller range.
    t = min(tested)
    row = next((row for row in rows if row.serves(t, piece)), None)
    said = piece.said(t)
    if row is None:
        because = f"tested T = {said}: under {EIGHTH}, outside this code"
        return (Limit("parent_t", Nothing(), clause, because, when, reason="thickness", tested=said),)
    allowed, words = _allowed(piece, row, t)
    because = f"tested T = {said}: {words}"
    return (Limit("parent_t", allowed, clause, because, when, reason="thickness", tested=said),)


def _allowed(piece: Piece, row: Row, t: Decimal) -> tuple[Allowed, str]:
    most, words = row.most_at(t), row.words
    if piece.word("groove_type") == "square" and piece.word("gouging") not in ("mechanical", "thermal"):
        most, words = t, "square groove without backgouging: up to T"
    return Within(Interval(row.least_at(t, piece), most, "mm")), words


def _girth(piece: Piece, when: tuple[When, ...]) -> tuple[Limit, ...]:
    """A plate test covers straight welds on pipe and box, and girth welds of large pipe."""
    clause = GIRTH.of(piece.book)
    least = piece.mm(LARGE_PIPE)
    because = f"tested on plate: girth welds of pipe from {LARGE_PIPE} outside diameter"
    return (Limit("diameter", Within(Interval(least, None, "mm")), clause, because, (*when, *ROUND)),)


def _pipe(piece: Piece) -> tuple[Limit, ...]:
    clause = PIPE_RULE.of(piece.book)
    kind, diameter = piece.word("pipe_test"), piece.least("diameter")
    if diameter is None:
        return (unrecorded("diameter", clause, "the outside diameter of the test pipe", CJP),)
    if not kind:
        field = "whether the test pipe was of job size or a standard test pipe"
        return (unrecorded("diameter", clause, field, CJP), unrecorded("parent_t", clause, field, CJP, "thickness"))
    if kind == "standard":
        return _standard(piece, clause, diameter)
    return (*_plate_rows(piece, CJP_PIPE, clause, CJP), _job_size(piece, clause, diameter))


def _job_size(piece: Piece, clause: Clause, diameter: Decimal) -> Limit:
    large, wall = piece.mm(LARGE_PIPE), piece.least("parent_t")
    thick = wall is not None and wall > piece.mm(THREE_EIGHTHS)
    least = min(large, diameter) if thick else diameter
    said = piece.said(diameter)
    because = f"tested D = {said}: {'24 in [600 mm]' if least == large else 'D'} and over"
    return Limit("diameter", Within(Interval(least, None, "mm")), clause, because, (*CJP, *ROUND), tested=said)


def _standard(piece: Piece, clause: Clause, diameter: Decimal) -> tuple[Limit, ...]:
    pipe = next((p for p in STANDARD_PIPES if diameter in {piece.mm(d) for d in p.diameters}), None)
    if pipe is None:
        known = ", ".join(str(size) for p in STANDARD_PIPES for size in p.diameters)
        return (unrecorded("diameter", clause, f"the diameter of a standard test pipe ({known})", CJP),)
    because = f"standard test pipe {pipe.words}"
    spans = [
        Within(Interval(piece.mm(lo), piece.mm(hi) if hi else None, "mm"))
        for lo, hi in ((pipe.diameter_from, pipe.diameter_to), (pipe.wall_from, pipe.wall_to))
    ]
    return (
        Limit("diameter", spans[0], clause, because, (*CJP, *ROUND), tested=pipe.words),
        Limit("parent_t", spans[1], clause, because, CJP, reason="thickness", tested=pipe.words),
    )
