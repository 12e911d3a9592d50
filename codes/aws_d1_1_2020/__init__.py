"""AWS D1.1, qualification of a welding procedure by test (PQR): editions 2020 and 2015.

From the variables of a test to what its record covers. The two editions hold the same rules here under different
numbers; where 2020 may have moved a line of the table of variables, the 2015 line is named. A record has no expiry.
Start at `limit_sets`; each group of variables has its own file.
"""

from collections.abc import Sequence
from functools import partial

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, Book
from codes.aws_d1_1.piece import Piece, units_of
from codes.aws_d1_1_2020 import (
    consumable,
    electrical,
    groove,
    heat,
    impact,
    metals,
    position,
    process,
    thickness,
    weld,
)
from codes.aws_d1_1_2020.fields import DEMAND, FIELDS
from codes.aws_d1_1_2020.heat import conventional, from_energy, from_power
from codes.aws_d1_1_2020.pieces import pieces_of
from codes.aws_d1_1_2020.switches import SWITCHES
from codes.editions import Edition, Tested
from codes.limits import Limit, LimitSet
from codes.readings import Settings

__all__ = ["EDITIONS", "conventional", "from_energy", "from_power", "limit_sets"]

GROUPS = (process, metals, position, thickness, weld, groove, consumable, electrical, heat, impact)


def limit_sets(pieces: Sequence[Tested], settings: Settings, book: Book = BOOK_2020) -> tuple[LimitSet, ...]:
    """One limit set for each entry of the record. Raises BadField for an entry that no test can have.

    Example: a CJP plate test of 3/8 in in US figures covers 1/8 to 3/4 in; one of 25 mm in SI 3 mm and over.
    """
    stated = {units_of(piece) for piece in pieces} - {None}
    if len(stated) != 1:
        # Without its unit system no figure of the record can be compared with a demand.
        return (LimitSet(book.standard, (process.no_unit_system(book),), book.standard),)
    units = next(one for one in stated if one is not None)
    return tuple(_limit_set(piece) for piece in pieces_of(pieces, book, units, settings))


def _limit_set(piece: Piece) -> LimitSet:
    if not piece.family:
        groups: tuple[Limit, ...] = process.limits(piece)
    else:
        found = (limit for group in GROUPS for limit in group.limits(piece))
        groups = tuple(process.in_own_figures(found, piece.units, piece.settings))
    parts = (f"process {piece.process}" if piece.process else "", piece.word("run_type").replace("_", " "))
    return LimitSet(", ".join(part for part in parts if part) or piece.book.standard, groups, piece.book.standard)


def _edition(book: Book, aliases: tuple[str, ...]) -> Edition:
    return Edition(
        key=book.standard,
        title="Structural welding code, steel: qualification of procedures by test",
        kinds=("procedure",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=partial(limit_sets, book=book),
        aliases=aliases,
        switches=SWITCHES,
    )


EDITIONS = (
    _edition(BOOK_2020, ("AWS D1.1/D1.1M:2020", "D1.1:2020")),
    _edition(BOOK_2015, ("AWS D1.1/D1.1M:2015", "D1.1:2015")),
)
