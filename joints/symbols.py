"""The welding symbol of a joint as the list states it."""

from decimal import Decimal

from joints.models import Joint
from wps.sketch import Size
from wps.symbol import Form, Side, Symbol

EDGES = {"square": Form.SQUARE, "v": Form.V, "bevel": Form.BEVEL, "u": Form.U, "j": Form.J}
BACKINGS = {"ss_mb": Form.BACKING}


def symbol_of_joint(joint: Joint) -> Symbol | None:
    """What would stand on a drawing; None where the list states neither the weld nor its preparation."""
    form, double = _form(joint)
    if form is None:
        return None
    arrow = Side(
        form,
        throat=_size(joint.throat_mm) if form is Form.FILLET else None,
        leg=_size(joint.leg_mm) if form is Form.FILLET else None,
        penetration=_size(joint.penetration_mm) if joint.weld_type == "butt_pjp" else None,
        length=_size(joint.length_mm),
    )
    processes = tuple(part for part in joint.final_process.split("+") if part)
    return Symbol(arrow, arrow if double else _other(joint), processes)


def _form(joint: Joint) -> tuple[Form | None, bool]:
    """The elementary symbol, and whether both sides are prepared alike."""
    if joint.weld_type == "fillet":
        return Form.FILLET, joint.weld_detail == "bs"
    sides, _, edge = joint.preparation.rpartition("_")
    both = sides == "double" or (edge == "square" and joint.weld_detail == "bs")
    return EDGES.get(edge), both


def _other(joint: Joint) -> Side | None:
    if joint.weld_detail == "bs":
        return Side(Form.BACK_RUN)
    backing = BACKINGS.get(joint.weld_detail)
    return Side(backing) if backing else None


def _size(value: Decimal | None) -> Size | None:
    return None if value is None else Size(value, value)
