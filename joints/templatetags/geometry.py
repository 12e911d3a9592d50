"""Geometry and turning plans in words."""

from decimal import Decimal
from typing import Any

from django import template
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from codes.position_names import position_of
from codes.values import number
from joints.models import Joint
from joints.stations import station_of
from joints.turning.placed import Placed, placed
from joints.turning.reach import reaches_of
from register.base import draw
from register.judged_words import told_term
from register.roles import Capability, can

register = template.Library()
TENTH = Decimal("0.1")


@register.inclusion_tag("joints/_geometry.html", takes_context=True)
def geometry_of(context: template.Context, joint: Joint) -> dict[str, Any]:
    """Where the joint lies by its geometry. `{% geometry_of joint %}`."""
    found = placed(joint)
    may = can(context["request"].user, Capability.EDIT_JOBS)
    station = station_of(joint, "final")
    reaches = reaches_of(joint) if station else ()
    return {
        "joint": joint,
        "station": station,
        "placed": found,
        "reaches": told_term(", ".join(position_of(one, joint.weld_type) for one in reaches)),
        "agrees": joint.position in found.iso.split(" or ") if found and joint.position else None,
        "has_geometry": hasattr(joint, "geometry"),
        "edit_url": reverse("joints:joint_geometry", args=[joint.pk]) if may else "",
    }


@register.filter
def plain_number(value: Decimal) -> str:
    """A figure without trailing zeros."""
    return number(value)


@register.filter
def rounded(value: Decimal) -> str:
    """An angle to a tenth."""
    return number(value.quantize(TENTH))


@register.filter
def position_picture(iso: str, joint: Joint) -> SafeString:
    """The picture of a position; of a vertical one the way upwards."""
    token = iso.partition(" or ")[0]
    if token not in draw.POSITIONS:
        return mark_safe("")
    return mark_safe(draw.position_icon(token, position_of(token, joint.weld_type), joint.weld_type == "fillet"))


@register.filter
def placed_words(found: Placed | None, said: str) -> str:
    """Where a weld lies, with the letter of AWS. Example: "PB · 2F (AWS H)"."""
    return f"{said} (AWS {found.aws})" if found else said
