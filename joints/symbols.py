"""The welding symbol of a joint as the list states it."""

from decimal import Decimal
from typing import Any

from joints.models import Joint
from joints.sizes import welds_of
from wps.sketch import Size
from wps.symbol import Form, Side, Symbol

EDGES = {"square": Form.SQUARE, "v": Form.V, "bevel": Form.BEVEL, "u": Form.U, "j": Form.J}
BACKINGS = {"ss_mb": Form.BACKING}
SLACK = Decimal(1)
"""A millimetre of rounding is no difference."""


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
        **_along(joint),
    )
    processes = tuple(part for part in joint.final_process.split("+") if part)
    return Symbol(arrow, arrow if double else _other(joint), processes)


def _along(joint: Joint) -> dict[str, Any]:
    """Length, and of an intermittent weld number, length and gap of its elements; nothing while these are missing.

    The number is known where the elements fill the run to a millimetre. Example: 50 mm at gaps of 100 mm are three in
    350 mm.
    """
    if joint.intermittent != "yes":
        return {"length": _size(joint.length_mm)}
    element, gap = joint.element_length_mm, joint.element_gap_mm
    if not element or not gap:
        return {}
    count = None
    if joint.length_mm:
        count = int(((joint.length_mm + gap) / (element + gap)).to_integral_value())
        if abs(count * (element + gap) - gap - joint.length_mm) > SLACK:
            count = None
    return {"length": _size(element), "gap_between": _size(gap), "count": count}


def _form(joint: Joint) -> tuple[Form | None, bool]:
    """The elementary symbol, and whether both sides are prepared alike."""
    if joint.weld_type == "fillet":
        return Form.FILLET, welds_of(joint.weld_type, joint.weld_detail) == 2
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
