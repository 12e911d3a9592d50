"""The positions that a joint on file comes into at its workstation, in order of preference."""

from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.calc.result import Refused
from joints.models import Joint, Workstation
from joints.stations import station_of
from joints.turning.models import BEAM, Vector
from joints.turning.sweep import PER_DEGREE, VERTICAL, sweep

BUTT_TYPES = ("butt_cjp", "butt_pjp")
LETTERS: Mapping[str, Mapping[str, tuple[str, ...]]] = {
    "fillet": {"F": ("PA",), "H": ("PB",), "V": ("PF", "PG"), "O": ("PE",)},
    "butt": {"F": ("PA",), "H": ("PC",), "V": ("PF", "PG"), "O": ("PE",)},
}
"""AWS position -> ISO positions of the same weld: what a procedure or a person must be qualified for."""
PREFERENCE = ("PA", "PB", "PC", "PF", "PG", "PD", "PE")


def weld_kind(joint: Joint) -> str:
    """Either "fillet" or "butt" for straight welds, "" for kinds whose position one axis does not say."""
    if joint.weld_type == "fillet":
        return "fillet"
    return "butt" if joint.weld_type in BUTT_TYPES and joint.product != "pipe" else ""


def system_of(procedure_code: str) -> str:
    """The positions that govern: those of AWS for AWS codes, else ISO's."""
    return "aws" if procedure_code.startswith(("AWS", "ASME")) else "iso"


def tokens_of(system: str, kind: str, place: str) -> tuple[str, ...]:
    """What may be asked of a procedure for a place. Example: ("iso", "fillet", "vertical") gives PF and PG."""
    if system == "aws":
        return LETTERS[kind][place]
    return ("PF", "PG") if place == VERTICAL else (place,)


def arc_of(station: Workstation | None) -> tuple[int, int]:
    """The turns of a workstation in half degrees, inwards; 0 alone without a rotator. Example: 0 to 270 is (0, 540)."""
    if station is None or station.rotator_from_deg is None or station.rotator_to_deg is None:
        return 0, 0
    first = (station.rotator_from_deg * PER_DEGREE).to_integral_value(ROUND_CEILING)
    last = (station.rotator_to_deg * PER_DEGREE).to_integral_value(ROUND_FLOOR)
    return (int(first), int(last)) if first <= last else (int(first), int(first))


def beam_of(joint: Joint) -> Vector:
    """The axis that the assembly is turned about."""
    geometry = getattr(joint.assembly, "geometry", None)
    return geometry.beam if geometry is not None else BEAM


def plain_vector(vector: Vector) -> Vector:
    """The vector without trailing zeros, so that equal directions are worked out once."""
    first, second, third = (Decimal(part).normalize() for part in vector)
    return first, second, third


def reaches_of(joint: Joint) -> tuple[str, ...]:
    """The positions, the best first; none where the geometry is not stated or says nothing."""
    geometry, kind = getattr(joint, "geometry", None), weld_kind(joint)
    if geometry is None or not kind:
        return ()
    directions = map(plain_vector, (geometry.axis, geometry.face, beam_of(joint)))
    try:
        places = set(sweep("iso", kind, *directions, *arc_of(station_of(joint, "final"))))
    except Refused:
        return ()
    found = {token for place in places for token in tokens_of("iso", kind, place)}
    return tuple(token for token in PREFERENCE if token in found)
