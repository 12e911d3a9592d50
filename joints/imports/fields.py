"""The fields of a joint that a list states, and their values as plain text."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from joints.models import Joint
from register.lists.cells import figure

PLAIN_FIELDS = (
    "number", "weld_type", "joint_type", "product", "grade_1", "grade_2", "heat_1", "heat_2", "intermittent", "rotated",
    "position", "weld_detail", "gouging", "preparation", "final_process", "tack_process", "remarks", "model_id",
)  # fmt: skip
DECIMAL_FIELDS = (
    "t1_mm", "t2_mm", "throat_mm", "leg_mm", "penetration_mm", "length_mm", "element_length_mm", "element_gap_mm",
    "diameter_mm", "branch_angle_deg", "tack_length_mm", "tack_throat_mm", "tack_spacing_mm",
)  # fmt: skip
STATION_FIELDS = ("final_workstation", "tack_workstation")
STATED_FIELDS = (*PLAIN_FIELDS, *DECIMAL_FIELDS, *STATION_FIELDS, "weld_date")
"""All but the assembly, which is a row of its own."""


def plain_of(joint: Joint, name: str) -> str:
    """A field of a joint as the list would state it. Example: Decimal("5.000") gives "5"."""
    value = joint.assembly.mark if name == "assembly" else getattr(joint, name)
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return figure(value)
    return value.isoformat() if isinstance(value, date) else str(value)


def value_of(name: str, said: str, stations: Mapping[str, Any]) -> tuple[str, Any]:
    """The attribute of a field and its value from plain text. Raises KeyError for a workstation that is not on file."""
    if name in DECIMAL_FIELDS:
        return name, Decimal(said) if said else None
    if name in STATION_FIELDS:
        return f"{name}_id", stations[said] if said else None
    if name == "weld_date":
        return name, date.fromisoformat(said) if said else None
    return name, said
