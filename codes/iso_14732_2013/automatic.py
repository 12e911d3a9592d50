"""ISO 14732:2013, 4.2: what else binds automatic welding, robots included: the unit, its sensors, its arcs.

Position, backing, dimensions, parent and filler metal and gas are recorded and do not bind.
"""

from codes.editions import Tested
from codes.iso_14732_2013.clauses import ARCS, SENSOR_ADDED, SENSOR_KEPT, UNIT
from codes.iso_14732_2013.common import stated, unrecorded
from codes.iso_14732_2013.switches import SENSOR_ADDED as ADDED
from codes.limits import Free, Limit, OneOf
from codes.readings import Settings

SENSORS = {"arc_sensor": "arc sensor", "joint_sensor": "joint sensor"}


def automatic_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """Unit, both sensors, number of arcs."""
    sensors = (sensor_limit(piece, name, settings) for name in SENSORS)
    return (unit_limit(piece), *sensors, arcs_limit(piece), *(free_limit(name) for name in ("position", "weld_detail")))


def free_limit(name: str) -> Limit:
    """A variable of mechanised welding that automatic welding only records."""
    return Limit(name, Free(), UNIT, "automatic welding: recorded, does not bind", reason=name)


def unit_limit(piece: Tested) -> Limit:
    """The welding unit tested: power source, control, sensors, manipulator, jigs. Another unit is a new test."""
    tested = stated(piece, "unit")
    if tested is None:
        return unrecorded("unit", UNIT, "unit")
    because = f"tested on {tested}: a change of the unit or its control is a new test"
    return Limit("unit", OneOf((tested,)), UNIT, because, reason="unit", tested=tested)


def sensor_limit(piece: Tested, name: str, settings: Settings) -> Limit:
    """A sensor in use in the test must be in use; one that was not is refused too, unless the firm reads it wider."""
    tested = stated(piece, name)
    if tested is None:
        return unrecorded(name, SENSOR_KEPT, "sensor")
    words = SENSORS[name]
    if tested == "yes":
        because = f"tested with {words}: without it is a new test"
        return Limit(name, OneOf(("yes",)), SENSOR_KEPT, because, reason="sensor", tested=tested)
    wide = ADDED.option(settings) == "wide"
    because = f"tested without {words}: {'it may be added' if wide else 'with it is taken as a new test'}"
    allowed = Free() if wide else OneOf(("no",))
    used = (ADDED.used(settings),)
    return Limit(name, allowed, SENSOR_ADDED, because, readings=used, reason="sensor", tested=tested)


def arcs_limit(piece: Tested) -> Limit:
    """One arc or several: a change is taken as a change of the unit."""
    tested = stated(piece, "multi_arc")
    if tested is None:
        return unrecorded("multi_arc", ARCS, "unit")
    because = f"tested with {'several arcs' if tested == 'yes' else 'one arc'}: a change is taken as another unit"
    return Limit("multi_arc", OneOf((tested,)), ARCS, because, reason="unit", tested=tested)
