"""AWS D1.1:2020, Tables 6.10 and 10.12: positions of a person's test as limits, and the notes on pipe and T-Y-K."""

from collections.abc import Iterable
from decimal import Decimal as D

from codes.aws_d1_1_people_2020.clauses import TABLE_6_10_COPY, TUBULAR_COPY, confirmed, memory
from codes.aws_d1_1_people_2020.position_rows import PositionRow, rows_for
from codes.aws_positions import CONTAINS, letters, parts_of, within
from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Limit, Nothing, OneOf, When, span, when_is
from codes.pieces import term, terms, unrecorded, yes

TABLE_6_10 = confirmed("Table 6.10", TABLE_6_10_COPY)
ANGLE = confirmed("Table 6.10, note; Table 10.12, note", TABLE_6_10_COPY, TUBULAR_COPY)
CORNER = memory("Table 10.12, note on box sections")
GROOVES = ("butt_cjp", "butt_pjp")
IS_GROOVE = when_is("weld_type", *GROOVES)
LEAST_ANGLE = D(30)


def position_limits(piece: Tested) -> tuple[Limit, ...]:
    """Positions by weld type. Example: 4G on plate covers F and OH in grooves, F, H and OH in fillets."""
    tested = terms(piece, "aws_position")
    product = term(piece, "product")
    if not tested or product is None:
        field = "the test position" if not tested else "plate or pipe"
        return (unrecorded("aws_position", TABLE_6_10, "position", field=field),)
    rows = rows_for(tested, product)
    if not rows:
        field = f"a test position that a test on {product} can have ({', '.join(tested)})"
        return (unrecorded("aws_position", TABLE_6_10, "position", field=field),)
    groove = _union(row.groove for row in rows)
    where = _where(rows)
    limits = (
        _limit(tested, _union(row.fillet for row in rows), "fillets", where, when_is("weld_type", "fillet")),
        _limit(tested, parts_of(tested), "plug welds", where, when_is("weld_type", "plug")),
    )
    # Without groove positions the weld type is what fails, and it says so itself.
    return (*limits, *_groove_limits(tested, groove, rows)) if groove else limits


def _groove_limits(tested: tuple[str, ...], groove: frozenset[str], rows: tuple[PositionRow, ...]) -> tuple[Limit, ...]:
    branch = _union(row.branch for row in rows)
    where = _where(rows)
    grooves = _limit(tested, groove, "grooves", where, IS_GROOVE)
    if not branch:
        return (grooves,)
    return (grooves, _limit(tested, branch, "T-Y-K connections", where, when_is("weld_type", "branch")))


def branch_limits(piece: Tested) -> tuple[Limit, ...]:
    """Full-penetration T-Y-K connections: from 6GR only; on box tubing with the corner test."""
    is_branch = when_is("weld_type", "branch")
    rows = rows_for(terms(piece, "aws_position"), term(piece, "product") or "")
    if not any(row.branch for row in rows):
        because = "only a test in 6GR covers full penetration in T-Y-K connections"
        where = rows[0].clause if rows else TABLE_6_10
        return (Limit("weld_type", Nothing(), where, because, (is_branch,), reason="weld_type"),)
    if yes(piece, "corner_tested") or yes(piece, "box_section"):
        return ()
    because = "tested in 6GR on pipe, without the corner macro test: round pipe only"
    return (Limit("box_section", OneOf(("no",)), CORNER, because, (is_branch,), reason="box_section"),)


def angle_limits() -> tuple[Limit, ...]:
    """Groove angles below 30 degrees are covered neither in T-Y-K connections nor in partial penetration."""
    allowed = span(LEAST_ANGLE, None, "°")
    because = "groove angles below 30 degrees are outside the tables"
    on_types = (when_is("weld_type", "branch", "butt_pjp"),)
    return (Limit("groove_angle", allowed, ANGLE, because, on_types, reason="groove_angle"),)


def tack_position_limit(piece: Tested) -> Limit:
    """Tack welds: the tested positions and no other."""
    tested = terms(piece, "aws_position")
    if not tested:
        return unrecorded("aws_position", TABLE_6_10, "position", field="the test position")
    return _limit(tested, parts_of(tested), "tack welds", memory("6.16, Table 6.12, line 3"))


def tested_position_limit(piece: Tested, where: Clause) -> Limit:
    """The tested positions and no other (electroslag and electrogas)."""
    tested = terms(piece, "aws_position")
    if not tested:
        return unrecorded("aws_position", where, "position", field="the test position")
    return _limit(tested, parts_of(tested), "these processes", where)


def _limit(tested: tuple[str, ...], covers: frozenset[str], what: str, where: Clause, *when: When) -> Limit:
    because = f"tested {' + '.join(tested)}: covers {letters(covers) or 'nothing'} in {what}"
    if not covers:
        return Limit("aws_position", Nothing(), where, because, when, reason="position", tested=", ".join(tested))
    allowed = OneOf(tuple(token for token in CONTAINS if token in within(covers)))
    return Limit("aws_position", allowed, where, because, when, reason="position", tested=", ".join(tested))


def _union(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset().union(*sets)


def _where(rows: tuple[PositionRow, ...]) -> Clause:
    return next((row.clause for row in rows if row.clause.mark.value != "confirmed"), rows[0].clause)
