"""Tags of the pages of people: the state of a certificate, and terms with both their names."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from codes.terms import both_names
from register.base.draw.shapes import answer_shape, css_class

register = template.Library()


@register.simple_tag
def state_shape(outcome: str, word: str) -> SafeString:
    """The shape and the word of a state. `{% state_shape view.outcome view.word %}`."""
    shape = mark_safe(answer_shape(outcome, beside_word=True))
    return format_html('<span class="answer {}">{} {}</span>', css_class(outcome), shape, word)


@register.filter
def both(token: str, vocabulary: str) -> str:
    """Both names of a term. Example: "135"|both:"process" gives "135 · GMAW"; nothing stays nothing."""
    return both_names(vocabulary, token) if token else ""
