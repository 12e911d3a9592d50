"""ISO 14732:2013, welding operators and weld setters for mechanised and automatic welding: ranges and validity.

Start at `common`, then `automatic` or `mechanised`. The third edition (2025) is known and not judged.
"""

from collections.abc import Sequence

from codes.editions import Edition, Tested
from codes.iso_14732_2013.automatic import automatic_limits
from codes.iso_14732_2013.clauses import STANDARD
from codes.iso_14732_2013.common import common_limits, stated
from codes.iso_14732_2013.fields import DEMAND, FIELDS, RECORDED
from codes.iso_14732_2013.mechanised import mechanised_limits
from codes.iso_14732_2013.switches import SWITCHES
from codes.iso_14732_2013.validity import periods
from codes.limits import LimitSet
from codes.readings import Settings


def limit_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """One limit set for each test. The standard names no combination of tests, so none is made."""
    return tuple(_limits(piece, settings) for piece in pieces)


def _limits(piece: Tested, settings: Settings) -> LimitSet:
    mode = stated(piece, "mechanisation")
    own = automatic_limits(piece, settings) if mode == "automatic" else ()
    if mode == "fully_mechanised":
        own = mechanised_limits(piece, settings)
    label = f"{stated(piece, 'process') or 'process not stated'}, {(mode or 'mode not stated').replace('_', ' ')}"
    return LimitSet(label, (*common_limits(piece), *own), STANDARD)


_2025 = (
    "its ranges are not held, and those of 2013 are not applied to it without the coordinator's decision; "
    "record the certificate and judge it by hand"
)
NOT_JUDGED = {
    "ISO 14732:2025": _2025,
    "EN ISO 14732:2025": _2025,
    "DIN EN ISO 14732:2025": _2025,
    "ISO 14732": 'state the edition; the one held here is "ISO 14732:2013"',
    "EN ISO 14732": 'state the edition; the one held here is "EN ISO 14732:2013"',
    "EN 1418:1997": "the edition is withdrawn and its rules are not held; record the certificate and judge it by hand",
    "EN 1418": "the edition is withdrawn and its rules are not held; record the certificate and judge it by hand",
}

EDITIONS = (
    Edition(
        key=STANDARD,
        title="Qualification of welding operators and weld setters for mechanised and automatic welding",
        kinds=("operator",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=limit_sets,
        aliases=("EN ISO 14732:2013", "DIN EN ISO 14732:2013", "BS EN ISO 14732:2013"),
        switches=SWITCHES,
        periods=periods,
        recorded_only=RECORDED,
    ),
)
