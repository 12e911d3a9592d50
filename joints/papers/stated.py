"""What a joint states, in a line for paper."""

from collections.abc import Iterator
from decimal import Decimal

from codes.position_names import position_of
from codes.terms import both_names, term
from codes.units import System, figure_in, unit_in
from joints.models import Joint
from joints.sizes import welds_of
from joints.stations import station_of


def joint_words(joint: Joint, system: System) -> str:
    """Example: "Fillet weld a 6.5 mm, T-joint, S355J2+N, 19 + 20 mm, PB · 2F, 135 · GMAW at Cell R1"."""
    said = ", ".join(part for part in _parts(joint, system) if part)
    return said[:1].upper() + said[1:] if said else "Nothing is stated"


def _parts(joint: Joint, system: System) -> Iterator[str]:
    sizes = [_size(mark, value, system) for mark, value in _sizes(joint)]
    weld = term("weld_type", joint.weld_type).words if joint.weld_type else ""
    yield " ".join(filter(None, (weld, *sizes, on_both_sides(joint))))
    yield term("joint_type", joint.joint_type).words if joint.joint_type else ""
    yield " to ".join(dict.fromkeys(filter(None, (joint.grade_1, joint.grade_2))))
    thick = [figure_in(t, "mm", system) for t in (joint.t1_mm, joint.t2_mm) if t is not None]
    yield f"{' + '.join(thick)} {unit_in('mm', system)}" if thick else ""
    yield _size("Ø", joint.diameter_mm, system) if joint.diameter_mm else ""
    yield position_of(joint.position, joint.weld_type) if joint.position else "position not stated"
    yield _made(joint)


def on_both_sides(joint: Joint) -> str:
    """Said of a row that stands for two fillets."""
    return "on both sides" if welds_of(joint.weld_type, joint.weld_detail) > 1 else ""


def _sizes(joint: Joint) -> Iterator[tuple[str, Decimal]]:
    for mark, value in (("a", joint.throat_mm), ("z", joint.leg_mm), ("s", joint.penetration_mm)):
        if value is not None:
            yield mark, value


def _size(mark: str, value: Decimal, system: System) -> str:
    return f"{mark} {figure_in(value, 'mm', system)} {unit_in('mm', system)}"


def _made(joint: Joint) -> str:
    """By which process and where. Tacks are named where they are made otherwise."""
    final = _by(joint.final_process, station_of(joint, "final"))
    tack = _by(joint.tack_process, station_of(joint, "tack"))
    return f"{final}; tacks {tack}" if tack and tack != final else final


def _by(process: str, station: object) -> str:
    names = " + ".join(both_names("process", one) for one in process.split("+") if one)
    return f"{names} at {station}" if names and station else names or str(station or "")
