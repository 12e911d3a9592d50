"""AWS D1.1, prequalified welding procedures: the road without a test, a code of its own beside qualification by test.

The record is the procedure itself. Its limits are the code's own for the process, filler and joint it names, with the
tolerances around what it writes; the procedure's values, and those of a joint, are what is judged. Each row of a joint
detail is a road of its own. A prequalified procedure frees no person from qualification. Start at `prequalified`.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, Book
from codes.aws_d1_1.piece import Piece, units_of
from codes.aws_d1_1_2020.process import in_own_figures, no_unit_system, unit_system
from codes.aws_d1_1_prequalified import extras, filler, joint, preheat, sizes, tolerances, work
from codes.aws_d1_1_prequalified.fields import DEMAND, FIELDS
from codes.aws_d1_1_prequalified.preheat import Preheat, minimum_preheat
from codes.aws_d1_1_prequalified.switches import SWITCHES
from codes.check import best
from codes.editions import Edition, Tested
from codes.limits import Limit, LimitSet
from codes.readings import DEFAULTS, Settings
from codes.values import Value
from codes.verdict import Verdict

__all__ = ["EDITIONS", "Preheat", "limit_sets", "minimum_preheat", "prequalified"]


def prequalified(wps: Mapping[str, Value], book: Book = BOOK_2020, settings: Settings = DEFAULTS) -> Verdict:
    """Whether a procedure is prequalified: covered, or every reason why not. Raises BadField for two unit systems.

    Example: SMAW E7018 of 5/32 in, a 5/16 in fillet in one pass in 2F is covered, one of 3/8 in is outside.
    """
    return best(wps, limit_sets([wps], settings, book))


def limit_sets(pieces: Sequence[Tested], settings: Settings, book: Book = BOOK_2020) -> tuple[LimitSet, ...]:
    """The code's own limits for each written line and each row of its joint detail."""
    return tuple(found for written in pieces for found in _of_line(written, settings, book))


def _of_line(written: Tested, settings: Settings, book: Book) -> Iterator[LimitSet]:
    standard = f"{book.standard} prequalified"
    units = units_of(written)
    if units is None:
        yield LimitSet(standard, (no_unit_system(book),), standard)
        return
    piece = Piece(written, units, book, settings)
    base = work.process_limits(piece)
    if piece.family not in work.PREQUALIFIED:
        yield LimitSet(standard, (*base, unit_system(book, units, settings)), standard)
        return
    common = (*base, unit_system(book, units, settings), *_common(piece))
    for detail, opening in joint.rows_of(piece):
        limits = (*common, *joint.limits(piece, detail, opening), *sizes.limits(piece, detail))
        yield LimitSet(_label(piece), tuple(in_own_figures(limits, units, settings)), standard)


def _common(piece: Piece) -> Iterator[Limit]:
    yield from work.position_limits(piece)
    yield from work.pass_limits(piece)
    yield from filler.steel_limits(piece)
    yield from filler.filler_limits(piece)
    yield from filler.gas_limits(piece)
    yield from preheat.limits(piece)
    yield from tolerances.limits(piece)
    yield from extras.limits(piece)


def _label(piece: Piece) -> str:
    parts = (f"prequalified, process {piece.process}", piece.word("joint_detail"))
    return ", ".join(part for part in parts if part)


def _edition(book: Book) -> Edition:
    return Edition(
        key=f"{book.standard} prequalified",
        title="Structural welding code, steel: prequalified procedures",
        kinds=("prequalified",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=partial(limit_sets, book=book),
        switches=SWITCHES,
    )


EDITIONS = (_edition(BOOK_2020), _edition(BOOK_2015))
