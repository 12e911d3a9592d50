"""The tag of the advice on preheat: `{% preheat_advice revision %}`."""

from typing import Any

from django import template

from wps.models import ProcedureRevision
from wps.preheat_check import preheat_advice as advice_on

register = template.Library()


@register.inclusion_tag("wps/_preheat.html")
def preheat_advice(revision: ProcedureRevision) -> dict[str, Any]:
    """The section on the page of a revision."""
    return {"advices": advice_on(revision)}
