"""Nonessential variables, and supplementary ones where no toughness is required: a change revises the WPS, no new test.

The limits are free; their derivation is the advice. They speak only where the demand differs from the record.
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_2021.listed import LISTS, TABLES, Listed, listed
from codes.asme_ix_2021.piece import NOT_TOUGH, Piece
from codes.asme_ix_2021.sources import Rule
from codes.limits import Free, Limit, When
from codes.pieces import IfStated
from codes.values import Atom, Interval, atoms
from codes.variables import label_of
from codes.words import lower_first

REVISE = "revise the WPS, no new test"


@dataclass(frozen=True, slots=True)
class AsTested:
    """The values of the record, ranges with all they hold."""

    tested: tuple[Atom, ...]

    def admits(self, atom: Atom) -> bool:
        if isinstance(atom, Decimal):
            return any(one.holds(atom) if isinstance(one, Interval) else one == atom for one in self.tested)
        if isinstance(atom, Interval):
            return any(isinstance(one, Interval) and one.holds_all(atom) for one in self.tested)
        return atom in self.tested

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return "as tested"


def limits(piece: Piece) -> tuple[Limit, ...]:
    """The advice of every listed variable that the register holds and that a change leaves without a new test."""
    if not piece.family:
        return ()
    found = []
    for row in listed(piece.family, piece.year):
        kind = row.kind(piece.family)
        if kind == "N":
            found += _advice(piece, row, ())
        elif kind == "S/N":
            found += _advice(piece, row, (NOT_TOUGH,))
    return tuple(found)


def _advice(piece: Piece, row: Listed, when: tuple[When, ...]) -> list[Limit]:
    where = piece.at(Rule(f"{TABLES[piece.family]}, QW-{row.paragraph}", LISTS.mark, LISTS.source))
    found = []
    for name in row.variables:
        tested = atoms(piece.values.get(name, ()))
        changed = IfStated(name, AsTested(tested), negate=True)
        kind = "nonessential without toughness" if when else "nonessential"
        because = f"{row.subject}, {lower_first(label_of(name))} not as recorded: {kind}, {REVISE}"
        found.append(Limit(name, Free(), where, because, (changed, *when), reason=name))
    return found
