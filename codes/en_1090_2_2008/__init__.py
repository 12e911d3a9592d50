"""EN 1090-2:2008+A1:2011: the gates of the older edition, where its figures differ from 2018."""

from collections.abc import Sequence

from codes.editions import Edition, Tested
from codes.en_1090_2_2018.facts import DEMAND, FIELDS
from codes.en_1090_2_2018.figures import FIGURES_2008
from codes.en_1090_2_2018.gates import gates
from codes.limits import LimitSet
from codes.readings import Settings


def gate_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """One limit set for each set of facts."""
    return tuple(gates(piece, settings, FIGURES_2008) for piece in pieces)


EDITIONS = (
    Edition(
        key="EN 1090-2:2008+A1:2011",
        title="Execution of steel structures, technical requirements (older edition): rules by execution class",
        kinds=("gate",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=gate_sets,
        aliases=("EN 1090-2:2008", "EN 1090-2:2011", "EN 1090-2:2008+A1"),
    ),
)
