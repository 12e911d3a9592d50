"""ASME IX, QW-461.9: positions that a test covers, as printed; and which of them carry the small-pipe note."""

from dataclasses import dataclass

from codes.asme_ix_people_2021.clauses import INTERPRETATIONS, POSITIONS, confirmed, memory, partly
from codes.aws_positions import ALL, OH, F, H, V
from codes.clauses import Clause

NONE: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class PositionRow:
    """Tested positions (all of them) and what they cover.

    `groove`: plate and pipe above 610 mm (24 in); `small_pipe`: grooves in pipe up to that; `fillet`: plate and pipe.
    """

    tested: tuple[str, ...]
    product: str
    groove: frozenset[str]
    small_pipe: frozenset[str]
    fillet: frozenset[str]
    clause: Clause


_SEEN = confirmed("QW-461.9", POSITIONS)
# Of the pair, grooves in small pipe are from memory.
_PAIR = partly("QW-461.9", INTERPRETATIONS)
_MEMORY = memory("QW-461.9")


def _row(product: str, tested: str, groove: str, small_pipe: str, fillet: str, where: Clause = _MEMORY) -> PositionRow:
    return PositionRow(tuple(tested.split("+")), product, _set(groove), _set(small_pipe), _set(fillet), where)


def _set(letters: str) -> frozenset[str]:
    names = {"F": F, "H": H, "V": V, "O": OH}
    return ALL if letters == "all" else frozenset(names[letter] for letter in letters)


ROWS = (
    _row("plate", "1G", "F", "F", "F", _SEEN),
    _row("plate", "2G", "FH", "FH", "FH", _SEEN),
    _row("plate", "3G", "FV", "F", "FHV", _SEEN),
    _row("plate", "4G", "FO", "F", "FHO", _SEEN),
    _row("plate", "3G+4G", "FVO", "F", "all", _PAIR),
    _row("plate", "2G+3G+4G", "all", "FH", "all", _SEEN),
    _row("plate", "1F", "", "", "F"),
    _row("plate", "2F", "", "", "FH"),
    _row("plate", "3F", "", "", "FHV"),
    _row("plate", "4F", "", "", "FHO"),
    _row("plate", "3F+4F", "", "", "all"),
    _row("pipe", "1G", "F", "F", "F", _SEEN),
    _row("pipe", "2G", "FH", "FH", "FH", _SEEN),
    _row("pipe", "5G", "FVO", "FVO", "all", _SEEN),
    _row("pipe", "6G", "all", "all", "all"),
    _row("pipe", "2G+5G", "all", "all", "all"),
    _row("pipe", "1F", "", "", "F"),
    _row("pipe", "2F", "", "", "FH"),
    _row("pipe", "4F", "", "", "FHO"),
    _row("pipe", "5F", "", "", "all"),
)


def rows_for(tested: tuple[str, ...], product: str) -> tuple[PositionRow, ...]:
    """The rows that tested positions meet, pairs included; empty where one of them has no row for the product."""
    found = tuple(row for row in ROWS if row.product == product and set(row.tested) <= set(tested))
    met = {position for row in found for position in row.tested}
    return found if met == set(tested) else ()
