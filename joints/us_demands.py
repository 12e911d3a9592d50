"""What a joint asks under AWS D1.1 or ASME IX: the same weld in the terms that their limits look at.

A demand under these codes states its phase; a test of a tack welder covers tacks only. What does not follow from
what the joint states (a fillet in PC has no AWS position for certain) stays unstated.
"""

from collections.abc import Mapping
from decimal import Decimal

from codes.terms import tokens
from codes.us_terms import with_us_terms
from codes.values import Value

TACK = "tack"
SIZES = frozenset({"throat_a", "leg_z", "deposit_t", "joint_deposit_t"})
"""Of a tack not asked: it becomes part of the weld, whose own size is judged."""
TACK_NOTE = "the size of tacks is not asked under this code; what the procedure writes stands"
GROOVES = frozenset({"butt_cjp", "butt_pjp", "branch"})


def us_demand(demand: Mapping[str, Value], phase: str, leg: Decimal | None, preparation: str) -> dict[str, Value]:
    """A demand in ISO terms with the US ones added. `leg`: of a fillet, stated or from its throat [mm].

    Example: a fillet in PF of leg 8 mm gains 3F, uphill and leg_z 8; the same as a tack gains 3F and uphill.
    """
    found = dict(demand) | {"phase": phase}
    if phase == TACK:
        found = {name: value for name, value in found.items() if name not in SIZES}
    elif leg is not None and demand.get("weld_type") == "fillet":
        found["leg_z"] = leg
    if demand.get("weld_type") in GROOVES and preparation in tokens("groove_type"):
        found["groove_type"] = preparation
    return with_us_terms(found)
