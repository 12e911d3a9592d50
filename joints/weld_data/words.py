"""Fields and values of joints in the words of the trade."""

from joints import choices
from joints.models import Joint

UNITS = ("_mm", " mm"), ("_deg", "°")
NOT_STATED = "not stated"


def field_words(field: str) -> str:
    """The name of a field. Example: "throat_mm" gives "fillet throat a"."""
    label = str(Joint._meta.get_field(field).verbose_name)
    return label.partition(" [")[0]


def value_words(field: str, plain: str) -> str:
    """A plain value as people read it. Example: ("throat_mm", "5") gives "5 mm", "" gives "not stated"."""
    if not plain:
        return NOT_STATED
    held = Joint._meta.get_field(field)
    if held.choices:
        return dict(held.flatchoices).get(plain, plain)
    if field.endswith("_process"):
        return " + ".join(choices.label("process", one) for one in plain.split("+"))
    unit = next((unit for end, unit in UNITS if field.endswith(end)), "")
    return f"{plain}{unit}"
