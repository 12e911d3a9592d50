"""The position as stated against the geometry and the turns of the workstation."""

from collections.abc import Iterator

from codes.calc.position import CLAUSE
from codes.position_names import position_of
from joints.sizes import welds_of
from joints.weld_data.finding import Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld


@rule("Position that no turn reaches")
def position_not_reached(weld: Weld) -> Iterator[Finding]:
    """By its geometry the weld does not come into the stated position, whatever turn the workstation makes."""
    place = weld.joint.position
    if place and weld.reaches and place not in weld.reaches:
        names = ", ".join(position_of(one, weld.joint.weld_type) for one in weld.reaches)
        reason = f"axis and face come into {names} there; the first of them suits best"
        yield weld.find("position", reason, CLAUSE, {"position": weld.reaches[0]})


@rule("Both sides in one row, and geometry of one")
def both_sides_in_one_row(weld: Weld) -> Iterator[Finding]:
    """The second fillet faces another way, so that it lies in a position of its own: each wants a row."""
    if weld.reaches and welds_of(weld.joint.weld_type, weld.joint.weld_detail) > 1:
        reason = "axis and face are those of one of the two fillets; a row for each lets both be placed and planned"
        yield weld.find("weld_detail", reason, CLAUSE)


@rule("Position not stated")
def position_missing(weld: Weld) -> Iterator[Finding]:
    """The best position that the geometry allows, else asked."""
    if weld.joint.position:
        return
    if weld.reaches:
        reason = "the best position that axis and face come into at the workstation"
        yield weld.find("position", reason, CLAUSE, {"position": weld.reaches[0]})
    else:
        yield weld.find("position", "neither list nor geometry says it", CLAUSE)
