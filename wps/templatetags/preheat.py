"""The tag of the advice on preheat and cooling time: `{% preheat_advice revision %}`."""

from typing import Any

from django import template

from codes.units import System
from wps.cooling_check import cooling_advice
from wps.models import ProcedureRevision
from wps.preheat_check import preheat_advice as advice_on

register = template.Library()


@register.inclusion_tag("wps/_preheat.html", takes_context=True)
def preheat_advice(context: Any, revision: ProcedureRevision) -> dict[str, Any]:
    """The section on the page of a revision, in the reader's units."""
    system = context.get("system", System.SI)
    return {"advices": advice_on(revision, system=system), "coolings": cooling_advice(revision)}
