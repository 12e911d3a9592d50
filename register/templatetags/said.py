"""`{% translate "text" %}` as Django's own, without its detour for a plain text: a page may say a thousand.

In the settings it comes after Django's library, whose other tags stay as they are.
"""

import re
from typing import Any

from django import template
from django.template.base import Node, Parser, Token
from django.templatetags.i18n import TranslateNode, do_translate
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from register.judged_words import told as told_here
from register.judged_words import told_term as term_told_here

register = template.Library()


class Said(Node):
    """A text of a template in the language of the request. Catalogues double percent signs."""

    def __init__(self, text: str) -> None:
        self.text = text.replace("%", "%%")
        self.has_percent = "%" in text

    def render(self, context: Any) -> str:
        """The text, asked of the catalogue once while the template is rendered: the rows of a table say the same."""
        known = context.render_context.dicts[-1]
        said = known.get(self)
        if said is None:
            said = gettext(self.text)
            known[self] = said = said.replace("%%", "%") if self.has_percent else said
        return said

    render_annotated = render  # a text that raises nothing needs no note of where it stood


@register.tag
def translate(parser: Parser, token: Token) -> Node:
    """Django's tag; a text alone, without filter, context or name, is a node of its own."""
    node = do_translate(parser, token)
    return node if (text := _plain(node)) is None else Said(text)


LONGEST_PART = 28
"""Characters that the head of a paper has room for on one line."""


@register.filter
def broken_at_commas(text: object) -> str:
    """A title whose lines end at its commas where they have to end: a person's name stays on one line."""
    parts = str(text).split(", ")
    return ", ".join(part if len(part) > LONGEST_PART else part.replace(" ", "\u00a0") for part in parts)


@register.filter
def told(text: object) -> str:
    """What a judge says, in the language of the request. `{{ finding.because|told }}`."""
    return told_here(str(text)) if text else ""


@register.filter
def told_unmarked(text: object) -> str:
    """The same for what may hold links, such as a message: what is marked up stays as it was made."""
    return text if isinstance(text, SafeString) else told(text)


@register.filter
def told_term(text: object) -> object:
    """What a field states, in the language of the request where it is terms and figures alone; else as it was typed."""
    return term_told_here(text) if isinstance(text, str) else text


@register.simple_tag
def side() -> SafeString:
    """Which side of how many, at the foot of a paper. The numbers come from the style sheet. `{% side %}`."""
    before, between, behind = re.split("{page}|{pages}", gettext("side {page} of {pages}"))
    words = '<span class="side" data-before="{}" data-between="{}" data-behind="{}"></span>'
    return format_html(words, before, between, behind)


FIRST_WORD = re.compile(r"(?:[a-zà-ÿ]{3,}|an?|as|at|by|in|it|no|of|on|to|up)(?=[,:;.]?(?: |$)|-[a-z])(?! [=<≤])")
"""A word that may open a sentence; a symbol or a unit ("k", "fvw,d", "mm") keeps its letter."""


@register.filter
def as_sentence(text: object) -> str:
    """A text that begins with a capital, unless with a symbol. Examples: "arc energy" gives "Arc energy", "k" stays."""
    said = str(text)
    return said[0].upper() + said[1:] if FIRST_WORD.match(said) else said


def _plain(node: TranslateNode) -> str | None:
    expression = node.filter_expression
    has_more = node.noop or node.asvar or node.message_context or expression.filters
    text = getattr(expression.var, "literal", None)
    return text if isinstance(text, str) and not has_more else None
