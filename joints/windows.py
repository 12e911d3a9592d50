"""The ranges that a procedure states itself, against a phase."""

from joints.demands import PhaseDemand
from joints.merge import owned_by, window_for
from joints.misses import Misses, joined_misses, misses
from wps.offers import ProcedureOffer


def window_misses(offer: ProcedureOffer, phase: PhaseDemand) -> Misses:
    """What the procedure's own ranges refuse: no less is refused than this, whatever its records say."""
    owned = owned_by(phase.demands)
    return joined_misses(misses(d, window_for(offer.window, d, owned).limits) for d in phase.demands)
