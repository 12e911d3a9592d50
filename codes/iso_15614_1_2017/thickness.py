"""ISO 15614-1:2017, 8.3.2: parent thickness of butt welds (Table 7), impact cap, level-1 extras. Units: mm."""

from collections.abc import Sequence
from decimal import Decimal

from codes.clauses import Mark
from codes.iso_15614_1_2017.piece import Piece, mm, unrecorded
from codes.iso_15614_1_2017.position import tests_made
from codes.iso_15614_1_2017.rows import Row, common, row_for
from codes.iso_15614_1_2017.sources import OWN_RULE, TEXT, clause
from codes.iso_15614_1_2017.switches import (
    IMPACT_CAP_OF_FILLETS,
    RUN_TYPE,
    SINGLE_RUN_ABOVE_40,
    THICKER_PART,
    lenient,
)
from codes.iso_15614_1_2017.table_7 import (
    BUTT_LEVEL_1,
    BUTT_MULTI_RUN,
    BUTT_SINGLE_RUN,
    BUTT_SINGLE_RUN_OLDER,
    LEVEL_1_IMPACT_MINIMUM,
)
from codes.limits import Free, Limit, Nothing, When, Within, span, times, unless, when_is

TABLE_7 = clause("8.3.2, Table 7", Mark.MEMORY)
TABLE_7_DASH = clause("8.3.2, Table 7", Mark.DOUBT)
CAP = clause("8.3.2, Table 7 note a", Mark.PART, TEXT)
CAP_OF_FILLETS = clause("8.3.2, Table 7 note a", Mark.DOUBT, f"{TEXT}; the table is that of butt welds")
LEVEL_1_IMPACT = clause("8.3.2.2", Mark.PART, TEXT)
LEVEL_1_RUN = clause("8.3.2.2, thick single pass", Mark.DOUBT, OWN_RULE)

NOT_FILLET: tuple[When, ...] = (unless("weld_type", "fillet"),)
IMPACT = when_is("impact_required", "yes")
CAP_MM = Decimal(12)
THICK_PASS_MM = Decimal(13)


def counted(piece: Piece) -> tuple[Decimal, ...]:
    """The tested thicknesses that count: the thinner part of a butt joint, else every part stated (strict)."""
    least = piece.least("parent_t")
    if least is None:
        return ()
    return (least,) if piece.word("joint_type") == "butt" else tuple(sorted(set(piece.numbers("parent_t"))))


def limits(piece: Piece) -> tuple[Limit, ...]:
    """All limits on the parent thickness of welds other than fillets, and the impact cap of every weld."""
    tested = counted(piece)
    if not tested:
        return (unrecorded("parent_t", TABLE_7, "the thickness of the test piece", reason="thickness"),)
    own = () if piece.is_fillet else (*_table_7(piece, tested), *_level_1(piece, tested))
    return (*own, *impact_cap(piece, tested))


def _table_7(piece: Piece, tested: Sequence[Decimal]) -> tuple[Limit, ...]:
    run = piece.word("run_type")
    if piece.level == 1:
        return _range(piece, BUTT_LEVEL_1, tested, "level 1", NOT_FILLET)
    if run is None:
        return (unrecorded("parent_t", TABLE_7, "single run or multi run", NOT_FILLET, "thickness"),)
    if run == "single_run":
        return _range(piece, _single_run_rows(piece), tested, "single run", NOT_FILLET)
    found = _range(piece, BUTT_MULTI_RUN, tested, "multi run", NOT_FILLET)
    if lenient(RUN_TYPE, piece.settings):
        single = (*NOT_FILLET, when_is("run_type", "single_run"))
        found += _range(piece, _single_run_rows(piece), tested, "single run", single)
    return found


def _single_run_rows(piece: Piece) -> tuple[Row, ...]:
    if not lenient(SINGLE_RUN_ABOVE_40, piece.settings):
        return BUTT_SINGLE_RUN
    older = BUTT_SINGLE_RUN_OLDER
    return tuple(older if row.serves == older.serves else row for row in BUTT_SINGLE_RUN)


def _range(
    piece: Piece, rows: Sequence[Row], tested: Sequence[Decimal], column: str, when: tuple[When, ...]
) -> tuple[Limit, ...]:
    used = [row_for(rows, t, "parent_t") for t in tested]
    allowed = common([row.at(t) for row, t in zip(used, tested, strict=True)])
    because = f"tested t = {_sizes(tested)}, {column}: " + " and ".join(dict.fromkeys(row.words("t") for row in used))
    over_40 = column == "single run" and Decimal(40) < max(tested) <= 100
    thick_butt = min(tested) >= 30 and piece.word("joint_type") == "butt"
    readings = _readings(piece, over_40, thick_butt)
    where = TABLE_7_DASH if over_40 else TABLE_7
    free_thicker = lenient(THICKER_PART, piece.settings) and thick_butt and isinstance(allowed, Within)
    limit = Limit(
        "parent_t", allowed, where, because, when, readings, "thickness", "", _sizes(tested), least_only=free_thicker
    )
    if not (free_thicker and isinstance(allowed, Within)):
        return (limit,)
    floor = span(allowed.interval.lo, None, "mm")
    return (limit, Limit("parent_t", floor, where, because, when, readings, "thickness", tested=_sizes(tested)))


def _readings(piece: Piece, over_40: bool, thick_butt: bool) -> tuple[str, ...]:
    used = ((SINGLE_RUN_ABOVE_40, over_40), (THICKER_PART, thick_butt))
    return tuple(switch.used(piece.settings) for switch, counts in used if counts)


def _level_1(piece: Piece, tested: Sequence[Decimal]) -> tuple[Limit, ...]:
    if piece.level != 1:
        return ()
    used = [(row_for(LEVEL_1_IMPACT_MINIMUM, t, "parent_t"), t) for t in tested]
    least = max(row.lo.at(t) for row, t in used if row.lo)
    because = f"tested t = {_sizes(tested)}, level 1 with impact requirement: at least {mm(least)}"
    minimum = Limit(
        "parent_t", span(least, None, "mm"), LEVEL_1_IMPACT, because, (*NOT_FILLET, IMPACT), (), "thickness"
    )
    return (minimum, *_thick_pass(piece, min(tested)))


def _thick_pass(piece: Piece, t: Decimal) -> tuple[Limit, ...]:
    """A pass of more than 13 mm anywhere in the test: at most 1.1 t. It cannot be in a test of 13 mm or less."""
    run = t if piece.word("run_type") == "single_run" else piece.most("max_run_t")
    if t <= THICK_PASS_MM or (run is not None and run <= THICK_PASS_MM):
        return ()
    needs = "" if run is not None else "the thickest single run of the test on the record, 13 mm at most"
    because = f"a run of more than 13 mm in the test: {times(Decimal('1.1'), t)}"
    allowed = span(None, Decimal("1.1") * t, "mm")
    return (Limit("parent_t", allowed, LEVEL_1_RUN, because, NOT_FILLET, (), "thickness", needs),)


def impact_cap(piece: Piece, tested: Sequence[Decimal]) -> tuple[Limit, ...]:
    """No impact tests on the record: at most 12 mm, and only from tests of more than 3 and up to 12 mm.

    The note stands in the table of butt welds: whether it binds a fillet test is for the firm to say (strict: it does).
    """
    if tests_made(piece, "impact"):
        return ()
    where = CAP
    readings: tuple[str, ...] = ()
    if piece.is_fillet:
        where, readings = CAP_OF_FILLETS, (IMPACT_CAP_OF_FILLETS.used(piece.settings),)
        if lenient(IMPACT_CAP_OF_FILLETS, piece.settings):
            because = "fillet test: the cap without impact tests is read as one of butt welds"
            return (Limit("parent_t", Free(), where, because, (IMPACT,), readings, "impact_cap"),)
    if piece.word("impact_tested") is None:
        return (unrecorded("parent_t", CAP, "whether impact tests were made", (IMPACT,), "impact_cap"),)
    because = f"no impact tests, tested t = {_sizes(tested)}: "
    if all(3 < t <= CAP_MM for t in tested):
        allowed: Within | Nothing = span(None, CAP_MM, "mm")
        because += "at most 12 mm where impact properties are required"
    else:
        allowed = Nothing()
        because += "the 12 mm note serves only tests of more than 3 mm and up to 12 mm"
    return (Limit("parent_t", allowed, where, because, (IMPACT,), readings, "impact_cap", tested=_sizes(tested)),)


def _sizes(tested: Sequence[Decimal]) -> str:
    return " and ".join(mm(t) for t in tested)
