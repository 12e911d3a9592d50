"""The tag of the advice on preheat and cooling time: `{% preheat_advice revision %}`."""

from typing import Any

from django import template

from wps.cooling_check import cooling_advice
from wps.models import ProcedureRevision
from wps.preheat_check import preheat_advice as advice_on

register = template.Library()


@register.inclusion_tag("wps/_preheat.html")
def preheat_advice(revision: ProcedureRevision) -> dict[str, Any]:
    """The section on the page of a revision."""
    return {"advices": advice_on(revision), "coolings": cooling_advice(revision)}
