"""Figures in the reader's units: `{% figure value "mm" 1 %}`, `{% unit "mm" %}`, and the switch `{% units_switch %}`.

The page gives `system` (codes.units.System); without it figures are SI.
"""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import template
from django.utils.translation import gettext

from codes.calc.conversions import US_UNITS, in_us
from codes.units import System
from codes.values import Interval
from codes.verdict import Finding
from register.judged_words import told
from register.own_units.findings import finding_in
from register.own_units.reader import usual_units
from register.own_units.words import sentence_in

register = template.Library()
FINER = {"mm²": 2, "mm": 1, "l": 1}
"""So many decimals more in the larger US unit."""


@register.simple_tag(takes_context=True)
def figure(context: Any, value: Decimal | None, unit: str, decimals: int) -> str:
    """A stored SI figure to so many decimals, "not known" where there is none."""
    if value is None:
        return gettext("not known")
    if context.get("system") is System.US and unit in US_UNITS:
        value, decimals = in_us(value, unit)[0], decimals + FINER.get(unit, 0)
    return f"{value:,.{decimals}f}"


@register.simple_tag(takes_context=True)
def unit(context: Any, unit: str) -> str:
    """The unit as the reader writes it."""
    return US_UNITS.get(unit, unit) if context.get("system") is System.US else unit


@register.simple_tag(takes_context=True)
def in_own_units(context: Any, findings: Iterable[Finding]) -> list[Finding]:
    """Findings in the reader's units: `{% in_own_units findings as shown %}`."""
    system = context.get("system")
    return [finding_in(one, system) if isinstance(system, System) else one for one in findings]


@register.simple_tag(takes_context=True)
def in_own_words(context: Any, text: str, beside: Interval | None = None, typed: Iterable[str] = ()) -> str:
    """A sentence in the reader's units and language, also where the page gives no `system`.

    `beside`: in SI, what is allowed in the same line, `{% in_own_words line.because line.interval %}`; `typed`: what
    somebody named.
    """
    return told(in_own_figures(context, text, beside, typed))


@register.simple_tag(takes_context=True)
def in_own_figures(context: Any, text: str, beside: Interval | None = None, typed: Iterable[str] = ()) -> str:
    """A sentence with its figures in the reader's units, in the words it came in."""
    system, request = context.get("system"), context.get("request")
    if not isinstance(system, System):
        system = usual_units(request) if request is not None else System.SI
    return sentence_in(str(text), system, *([beside] if isinstance(beside, Interval) else []), typed=typed or ())


@register.inclusion_tag("_units.html", takes_context=True)
def units_switch(context: Any) -> dict[str, str]:
    """Which units the page is in, and the way to the others."""
    system = context.get("system")
    return {"units": (system if isinstance(system, System) else System.SI).value}
