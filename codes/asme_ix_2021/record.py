"""The limits of one process of one coupon, all paragraphs together."""

from codes.asme_ix_2021 import (
    arc,
    deposit,
    filler,
    flux,
    gas,
    heat,
    metals,
    nonessential,
    passes,
    position,
    process,
    temperatures,
    thickness,
    toughness,
    treatment,
    weld_type,
)
from codes.asme_ix_2021.piece import Piece
from codes.asme_ix_2021.sources import standard
from codes.limits import Limit, LimitSet

CLAUSE_GROUPS = (
    process, weld_type, metals, thickness, deposit, filler, flux, temperatures, treatment, gas, arc, toughness, heat,
    passes, position, nonessential,
)  # fmt: skip
"""In the order of evaluation: essential, supplementary essential, nonessential variables."""


def limits_of(piece: Piece) -> tuple[Limit, ...]:
    """Every limit of the piece; a process whose rules are not entered has no other limit than that."""
    if piece.process and not piece.family:
        return process.limits(piece)
    found: list[Limit] = []
    for group in CLAUSE_GROUPS:
        found.extend(group.limits(piece))
    return tuple(found)


def limit_set(piece: Piece) -> LimitSet:
    """The limits of the piece as one set."""
    return LimitSet(piece.label, limits_of(piece), standard(piece.year))
