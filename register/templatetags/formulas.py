"""Formulas as they are set: each part on its own line, powers raised, indices lowered."""

import re

from django import template
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

register = template.Library()
PARTS = re.compile(r"[;,] (?=\S+ = )|; ")
"""Where a formula goes on to its next part."""
POWER = re.compile(r"\^(-?[\d.]+)")
TERM = re.compile(r"(?<=\S) ([+−]) (?=\S)")
FACTOR = re.compile(r"·(?=[\[({√]|10[⁰-⁹¹²³])")
"""Where a long formula may break: before the sign of a sum, which stays with what it adds, and before a bracket that
multiplies."""
INDEX = re.compile(r"(?<=[A-Za-zα-ω])_(\w+)")


@register.filter
def formula_parts(formula: str) -> list[str]:
    """The parts of a formula. Example: "E = U·I·60 / (1000·v); Q = k·E" gives two."""
    return PARTS.split(formula)


@register.filter
def set_formula(text: str) -> SafeString:
    """A formula with its powers and indices. Example: "62·HD^0.35" gives "62·HD<sup>0.35</sup>"."""
    terms = TERM.sub(" \\1\N{NO-BREAK SPACE}", escape(text))
    raised = POWER.sub(r"<sup>\1</sup>", FACTOR.sub("<wbr>·", terms))
    return mark_safe(INDEX.sub(r"<sub>\1</sub>", raised))
