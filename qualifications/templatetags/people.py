"""Tags of the pages of people: the state of a certificate, and terms with both their names."""

from collections.abc import Iterable

from django import template
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext

from codes.terms import both_names
from qualifications.due import DueItem
from qualifications.models import Certificate
from register.base.draw.shapes import answer_shape, css_class
from register.judged_words import told, told_term

register = template.Library()


@register.simple_tag
def state_shape(outcome: str, word: str) -> SafeString:
    """The shape and the word of a state. `{% state_shape view.outcome view.word %}`."""
    shape = mark_safe(answer_shape(outcome, beside_word=True))
    return format_html('<span class="answer {}">{} {}</span>', css_class(outcome), shape, told(word))


@register.filter
def both(token: str, vocabulary: str) -> str:
    """Both names of a term. Example: "135"|both:"process" gives "135 · GMAW"; nothing stays nothing."""
    return both_names(vocabulary, token) if token else ""


@register.filter
def first_name(token: str, vocabulary: str) -> str:
    """The first name of a term, as lists have it. Example: "partly_mechanised" gives "partly mechanised"."""
    return both_names(vocabulary, token).split(" · ")[0] if token else ""


@register.filter
def unended(text: str) -> str:
    """A text without its full stop, for a sentence that ends behind it."""
    return text.rstrip(". ")


@register.filter
def kind_words(kind: str) -> str:
    """A kind of certificate in words. Example: "tack_welder"|kind_words gives "tack welder"."""
    return Certificate.Kind(kind).label if kind in Certificate.Kind.values else kind


@register.filter
def due_rows(items: Iterable[DueItem]) -> SafeString:
    """The rows of what falls due, in one pass: a page holds a hundred."""
    # Two hundred addresses by `reverse` take longer than the rest of the rows; a test holds these to it.
    people = reverse("qualifications:person_list")
    rows = format_html_join("\n", ROW, (_cells(item, people) for item in items))
    return rows or format_html('<tr><td colspan="8" class="soft">{}</td></tr>', gettext("Nothing."))


# In a block of the phone each value says by itself what it is: a day, a person, a clause.
ROW = (
    '<tr{}><th scope="row" class="day">{}</th><td class="day">{}</td><td>{}</td>'
    '<td class="line"><a href="{}">{}</a></td><td class="day"><a href="{}">{}</a></td>'
    '<td>{}</td><td class="{}">{}</td><td class="line">{}</td></tr>'
)


def _cells(item: DueItem, people: str) -> tuple[object, ...]:
    return (
        mark_safe(' class="is-outside"' if item.is_lapse else ""),
        item.by.isoformat(),
        told(item.when),
        told(item.what),
        f"{people}{item.person_id}/",
        item.person_name,
        f"{people}certificates/{item.certificate_id}/",
        item.number,
        format_html_join(
            ", ", '<span class="day">{}</span>', ((told_term(both_names("process", p)),) for p in item.processes)
        ),
        "line" if item.site else "none",
        item.site,
        told(str(item.clause)),
    )
