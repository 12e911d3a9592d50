"""ISO 15614-1:2017 with Amd 1:2019: procedure tests for arc and gas welding of steels, levels 1 and 2.

From the variables a test piece was welded with to what the record (WPQR) covers. Start at `limit_sets`; each clause
group has its own file, tables are data. Not entered: nickel alloys (Table 6), hybrid processes, strip cladding.
"""

from collections.abc import Sequence

from codes.editions import Edition, Tested
from codes.iso_15614_1_2017 import (
    current,
    deposit,
    filler,
    gas,
    hardness,
    heat,
    joint,
    position,
    process,
    size,
    special,
    steels,
    temperatures,
    thickness,
    treatment,
)
from codes.iso_15614_1_2017.fields import DEMAND, FIELDS, RECORDED_ONLY
from codes.iso_15614_1_2017.piece import Piece, pieces_of
from codes.iso_15614_1_2017.sources import STANDARD
from codes.iso_15614_1_2017.switches import LEVEL_1_SERVICE, SWITCHES, lenient
from codes.limits import Limit, LimitSet
from codes.readings import Settings

CLAUSE_GROUPS = (
    process, steels, thickness, deposit, size, position, joint, filler, current, heat, temperatures, treatment, gas,
    special, hardness,
)  # fmt: skip


def limit_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """One limit set for each process of each test piece. Raises BadField for a value no test piece can have.

    Example: a multi-run butt test of t = 12 mm at level 2 covers 3 to 24 mm.
    """
    found = []
    for piece in pieces_of(pieces, settings):
        found.append(_limit_set(piece))
        if piece.level == 2 and piece.numbers("level") and lenient(LEVEL_1_SERVICE, settings):
            found.append(_limit_set(piece.at_level(1)))
    return tuple(found)


def _limit_set(piece: Piece) -> LimitSet:
    limits: list[Limit] = []
    for group in CLAUSE_GROUPS:
        limits.extend(group.limits(piece))
    return LimitSet(piece.label, tuple(limits), STANDARD)


EDITIONS = (
    Edition(
        key=STANDARD,
        title="Welding procedure test, arc and gas welding of steels",
        kinds=("procedure",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=limit_sets,
        aliases=("EN ISO 15614-1:2017", "ISO 15614-1:2017+A1:2019", "EN ISO 15614-1:2017+A1:2019", "ISO 15614-1"),
        switches=SWITCHES,
        recorded_only=RECORDED_ONLY,
    ),
)
