"""ASME IX, QW-405.1 with QW-461.9 and QW-405.3: positions and vertical progression as limits."""

from collections.abc import Iterable

from codes.asme_ix_people_2021.clauses import PROGRESSION, confirmed, memory
from codes.asme_ix_people_2021.position_rows import PositionRow, rows_for
from codes.aws_positions import CONTAINS, WITH_VERTICAL, letters, parts_of, within
from codes.clauses import Mark
from codes.editions import Tested
from codes.limits import Free, Limit, Nothing, OneOf, When, Within, when_is
from codes.pieces import term, terms, unrecorded
from codes.unit_sets import System, twin
from codes.values import Interval

LARGE_PIPE = twin("24", "610")
NOTE_PIPE = twin("2.875", "73")
GROOVES = ("butt_cjp", "butt_pjp", "branch")
IS_GROOVE = when_is("weld_type", *GROOVES)
IS_FILLET = when_is("weld_type", "fillet")
T_461_9 = memory("QW-461.9")
UP_DOWN = confirmed("QW-405.3", PROGRESSION)
CAP = memory("QW-405.3 (exceptions)")


def position_limits(piece: Tested, system: System, diameters: bool = True) -> tuple[Limit, ...]:
    """Positions by weld type and pipe size. Example: 3G on plate covers F and V, on pipe to 610 mm F only.

    `diameters`: False where the pipe sizes of the table do not bind; the plate column then serves all pipe.
    """
    tested, product = terms(piece, "aws_position"), term(piece, "product")
    rows = rows_for(tested, product) if tested and product else ()
    if not rows:
        field = "a test position, on plate or pipe, that the table has a row for"
        return (unrecorded("aws_position", T_461_9, "position", field=field),)
    fillet = _limit(tested, _union(row.fillet for row in rows), "fillets", rows, IS_FILLET)
    groove = _union(row.groove for row in rows)
    if not groove:
        # Without groove positions the weld type is what fails, and it says so itself.
        return (fillet,)
    small = _union(row.small_pipe for row in rows)
    if not diameters or small == groove:
        return (fillet, _limit(tested, groove, "grooves", rows, IS_GROOVE))
    pipe = (IS_GROOVE, when_is("product", "pipe"))
    edge = LARGE_PIPE.mm(system)
    above = When("diameter", Within(Interval(edge, None, "mm", lo_open=True)))
    below = When("diameter", Within(Interval(None, edge, "mm")))
    size = f"{edge.normalize():f} mm"
    return (
        fillet,
        _limit(tested, groove, "grooves in plate", rows, IS_GROOVE, when_is("product", "plate")),
        _limit(tested, groove, f"grooves in pipe above {size}", rows, *pipe, above),
        _limit(tested, small, f"grooves in pipe up to {size}", rows, *pipe, below),
    )


def note_limits(piece: Tested, system: System) -> tuple[Limit, ...]:
    """The note of plate tests: pipe of 73 mm (2-7/8 in) and more; for groove tests in grooves only."""
    if term(piece, "product") != "plate":
        return ()
    when = (when_is("product", "pipe"), *(() if term(piece, "weld_type") == "fillet" else (IS_GROOVE,)))
    least = NOTE_PIPE.mm(system)
    because = f"tested on plate: pipe of {least.normalize():f} mm and more ({system.upper()} set)"
    limit = Limit("diameter", Within(Interval(least, None, "mm")), T_461_9, because, when, reason="diameter")
    return (limit,)


def progression_limits(piece: Tested) -> tuple[Limit, ...]:
    """Uphill and downhill each need their own test; the cap may go either way."""
    if "V" not in parts_of(terms(piece, "aws_position")):
        return ()
    when = (when_is("aws_position", *WITH_VERTICAL),)
    free = Limit("cap_progression", Free(), CAP, "cover or wash passes may go either way", when)
    tested = terms(piece, "progression")
    if not tested:
        return (unrecorded("progression", UP_DOWN, "progression", when=when), free)
    because = f"tested {' and '.join(tested)}: uphill does not cover downhill, nor downhill uphill"
    said = ", ".join(tested)
    return (Limit("progression", OneOf(tested), UP_DOWN, because, when, reason="progression", tested=said), free)


def _limit(
    tested: tuple[str, ...], covers: frozenset[str], what: str, rows: tuple[PositionRow, ...], *when: When
) -> Limit:
    because = f"tested {' + '.join(tested)}: covers {letters(covers) or 'nothing'} in {what}"
    where = next((row.clause for row in rows if row.clause.mark is not Mark.CONFIRMED), rows[0].clause)
    said = ", ".join(tested)
    if not covers:
        return Limit("aws_position", Nothing(), where, because, when, reason="position", tested=said)
    allowed = OneOf(tuple(token for token in CONTAINS if token in within(covers)))
    return Limit("aws_position", allowed, where, because, when, reason="position", tested=said)


def _union(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset().union(*sets)
