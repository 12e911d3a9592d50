"""EN 1090-2, 7.5.7: shortest tack weld: the smaller of four times the thicker part and 50 mm."""

from collections.abc import Iterator
from decimal import Decimal

from codes.clauses import Mark
from codes.editions import Tested
from codes.en_1090_2_2018.facts import decimal, term
from codes.en_1090_2_2018.figures import Figures
from codes.limits import Free, Limit, Unrecorded, Within, when_is
from codes.values import Interval, number

REASON = "tack_length"
REF = "7.5.7"
TIMES = Decimal(4)
ENOUGH = Decimal(50)
"""A tack of this length [mm] is long enough on any thickness."""
SOURCE = "note of a wire maker on tack welds (four times the thicker part); 50 mm from memory"


def tack_minimum_length(thicker_t: Decimal) -> Decimal:
    """The shortest tack [mm] where the thicker part is so thick [mm]. Raises ValueError if it is 0 or less.

    Example: 10 mm gives 40 mm; 12.5 mm and 20 mm give 50 mm.
    """
    if thicker_t <= 0:
        raise ValueError(f"thickness must be more than 0 mm, not {number(thicker_t)}")
    return min(TIMES * thicker_t, ENOUGH)


def tack_limits(piece: Tested, figures: Figures) -> Iterator[Limit]:
    """What a tack length serves: every part up to a quarter of it, or any part from 50 mm on.

    The rule is turned round, so that a procedure's tack length gives a limit on the thickness of the joint's parts.
    """
    clause = figures.clause(REF, Mark.PART, SOURCE)
    when = (when_is("phase", "tack"),)
    length = decimal(piece, "tack_length")
    if length is None:
        yield Limit("phase", Unrecorded("the tack length"), clause, when=when, reason=REASON)
        return
    tested = f"tack {number(length)} mm"
    if term(piece, "shorter_tack_proven") == "yes":
        because = f"a tack of {number(length)} mm shown to be enough by test"
        yield Limit("parent_t", Free(), clause, because, when, reason=REASON, tested=tested)
    elif length >= ENOUGH:
        because = f"a tack of {number(length)} mm is not below 50 mm"
        yield Limit("parent_t", Free(), clause, because, when, reason=REASON, tested=tested)
    else:
        serves = length / TIMES
        because = f"a tack of {number(length)} mm, below 50 mm, serves parts up to a quarter of it, {number(serves)} mm"
        allowed = Within(Interval(None, serves, "mm"))
        yield Limit("parent_t", allowed, clause, because, when, reason=REASON, tested=tested)
