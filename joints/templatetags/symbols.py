"""Welding symbols of joints."""

from typing import Any

from django import template

from joints.models import Joint
from joints.symbols import symbol_of_joint
from joints.systems import is_us
from wps.symbol import aws_symbol, iso_symbol

register = template.Library()


@register.inclusion_tag("wps/_symbols.html")
def symbols_of(joint: Joint) -> dict[str, Any]:
    """The symbol after both standards, that of the job's own code first. `{% symbols_of joint %}`."""
    found = symbol_of_joint(joint)
    if found is None:
        return {"symbols": ()}
    both = (iso_symbol(found), aws_symbol(found))
    return {"symbols": both[::-1] if is_us(joint.assembly.job.procedure_code) else both, "heading": True}
