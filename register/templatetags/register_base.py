"""Tags and filters of the shared templates: answers, rulers, positions, strips of time, fields."""

import re
from collections.abc import Iterable
from datetime import date
from functools import lru_cache
from typing import Any

from django import template
from django.forms import BaseForm, BoundField, CheckboxInput, Field
from django.forms.models import ModelChoiceField, ModelChoiceIterator
from django.forms.widgets import ChoiceWidget, FileInput, RadioSelect
from django.template.loader import render_to_string
from django.utils.html import escape, format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

from codes.limits import Within
from codes.readings import in_reading
from codes.units import CONVERSIONS
from codes.values import Interval, atoms
from codes.verdict import Finding, Verdict
from register.base import draw
from register.base.draw.shapes import WORDS, css_class, outcome_text
from register.base.draw.strip import Span
from register.base.untorn import UNTORN
from register.held.firm import resting_on, ticked
from register.judged_words import told, told_term
from register.judged_words.told import speaks_english

register = template.Library()


@register.simple_tag
def answer(outcome: object) -> SafeString:
    """The shape of an answer and its word. `{% answer verdict.outcome %}`."""
    shape = _safe(draw.answer_shape(outcome, beside_word=True))
    return format_html(
        '<span class="answer {}">{} {}</span>', css_class(outcome), shape, told(WORDS[outcome_text(outcome)])
    )


@register.simple_tag
def finding_rows(findings: Iterable[Finding]) -> SafeString:
    """The lines of a table of findings. Equal findings stand in many answers: each line is made once a language."""
    language = get_language() or ""
    return _safe("".join(_row_of(one, language) for one in findings))


def _row_of(finding: Finding, language: str) -> str:
    try:
        return _kept_row(finding, language)
    except TypeError:  # a value that cannot be a key
        return render_to_string("_finding.html", {"f": finding})


@lru_cache(maxsize=4096)
def _kept_row(finding: Finding, language: str) -> str:
    return render_to_string("_finding.html", {"f": finding})


@register.filter
def in_lines(cell: object) -> SafeString:
    """The parts of a full cell below each other. "3/16 in [5 mm]; T" is two lines."""
    return format_html_join(mark_safe("<br>"), "{}", ((part,) for part in str(cell).split("; ")))


def without_word(outcome: object, sentence: str) -> str:
    """A sentence in the language of the screen, without the word of the outcome where it begins with it."""
    text, word = told(sentence), told(WORDS[outcome_text(outcome)])
    return text[len(word) :] if text.startswith(word) else f" {text}"


@register.filter
def named(reading: str) -> str:
    """A reading in words (codes.readings.in_reading)."""
    return in_reading(reading)


@register.filter
def outcome_class(outcome: object) -> str:
    """The class of an outcome: is-covered, is-outside, is-not-stated."""
    return css_class(outcome)


@register.simple_tag
def verdict_rest(verdict: Verdict, sentence: str = "") -> str:
    """The sentence of a verdict without its first word, which `answer` prints with the shape."""
    return without_word(verdict.outcome, sentence or verdict.sentence)


@register.simple_tag
def ruler_of(finding: Finding) -> SafeString:
    """The ruler of a finding whose limit is an interval; nothing for terms and for limits without ends."""
    span = finding.limit.interval if isinstance(finding.limit, Within) else None
    if span is None or (span.lo is None and span.hi is None):
        return mark_safe("")
    lo, hi = _worst(finding, span)
    return _safe(
        draw.ruler(span.lo, span.hi, lo, finding.unit or span.unit, span.lo_open, span.hi_open, finding.outcome, hi)
    )


@register.simple_tag
def ruler(interval: Interval, value: object = None, outcome: object = "covered") -> SafeString:
    """The ruler of an interval with a number, or nothing, on it."""
    number = value if value is None or hasattr(value, "as_tuple") else None
    return _safe(
        draw.ruler(interval.lo, interval.hi, number, interval.unit, interval.lo_open, interval.hi_open, outcome)
    )


@register.simple_tag
def position(token: str, name: str = "", fillet: bool = False) -> SafeString:
    """The picture of a position, or nothing where the token has none. `{% position "PB" "PB · 2F" %}`."""
    return _safe(draw.position_icon(token, name, fillet)) if token in draw.POSITIONS else mark_safe("")


@register.simple_tag
def time_strip(periods: Iterable[Span], today: date, start: date, end: date) -> SafeString:
    """Validity between two days. `{% time_strip periods asof.date start end %}`."""
    return _safe(draw.time_strip(periods, today, start, end))


@register.simple_tag
def untorn() -> str:
    """The pattern of what no line ends in, for `register.js`."""
    return UNTORN


@register.simple_tag
def mark() -> SafeString:
    """The register's own sign: a fillet in the corner of two plates."""
    return _safe(
        '<svg class="sign" width="22" height="22" viewBox="0 0 22 22" aria-hidden="true" focusable="false">'
        '<path d="M3 2V19H20" fill="none" stroke="currentColor" stroke-width="3"/>'
        '<path class="bead" d="M6.5 7V15.5H15Z" fill="currentColor"/></svg>'
    )


@register.filter
def is_checkbox(field: BoundField) -> bool:
    """True for a field that is one box to tick, whose label stands behind it."""
    return isinstance(field.field.widget, CheckboxInput)


@register.filter
def leads_to(field: BoundField) -> str:
    """The id that a label or a link leads to: the entry, of a group of boxes the first."""
    return field.id_for_label or f"{field.auto_id}_0"


@register.simple_tag
def as_shown(form: BaseForm, sections: Iterable[tuple[str, list[BoundField]]] | str | None) -> list[BoundField]:
    """The fields of a form in the order of the page: by its sections, then what stands in none.

    A tag, since pages without sections name none: as the argument of a filter that is a fault.
    """
    first = [field for _, fields in sections for field in fields] if sections and not isinstance(sections, str) else []
    names = {field.name for field in first}
    return [*first, *(field for field in form if field.name not in names)]


@register.filter
def takes_us(form: BaseForm) -> bool:
    """True where a form asks for a figure whose unit has a US customary counterpart."""
    return any(_unit_of(field) in CONVERSIONS for field in form.fields.values())


def _unit_of(field: Field) -> str:
    """The SI unit that the entries of figures, or of variables of the codes, say they are kept in."""
    return str(getattr(field, "unit", "") or getattr(getattr(field, "variable", None), "unit", ""))


@register.filter
def marked(form: BaseForm) -> str:
    """Which entries of a form are told by a word: the rarer kind, "needed" or "optional".

    "none" where nothing of several is needed, "" where all of it is.
    """
    asked = [field.field.required for field in form.visible_fields() if not is_checkbox(field)]
    needed = sum(asked)
    if needed == len(asked):
        return ""
    if not needed and len(asked) > 1:
        return "none"
    return "needed" if needed and needed * 2 <= len(asked) else "optional"


@register.filter
def described(field: BoundField) -> SafeString:
    """The input of a field, tied to its hint, its error and its live answer for whoever cannot see them."""
    ids = [f"{field.auto_id}_hint"] if field.help_text else []
    ids += [f"{field.auto_id}_error"] if field.errors else []
    attrs: dict[str, str] = {"aria-describedby": " ".join(ids)} if ids else {}
    if field.errors:
        attrs["aria-invalid"] = "true"
    widget = field.field.widget
    # Where the browser's own attribute is left out, the need is said all the same; a group of boxes has no such state.
    by_browser = field.form.use_required_attribute and widget.use_required_attribute(field.initial)
    if field.field.required and not by_browser and not isinstance(widget, RadioSelect | CheckboxInput | FileInput):
        attrs["aria-required"] = "true"
    if isinstance(field.field, ModelChoiceField) and field.field.empty_label:
        field.field.empty_label = told_term(str(field.field.empty_label))
    if isinstance(widget, ChoiceWidget):
        widget.choices = _told_choices(widget.choices)
    return field.as_widget(attrs=attrs)


def _told_choices(choices: Iterable[tuple[Any, Any]]) -> Iterable[tuple[Any, Any]]:
    """Choices with their terms in the language of the screen; groups, and rows of a table, stay as they are."""
    if speaks_english(get_language()) or isinstance(choices, ModelChoiceIterator):
        return choices
    return [(value, told_term(label) if isinstance(label, str) else label) for value, label in choices]


def _worst(finding: Finding, span: Interval) -> tuple[object, object]:
    """The value to show: the first that lies outside, else the first."""
    numbers = [a for a in atoms(finding.value) if not isinstance(a, str)] if finding.value is not None else []
    if not numbers:
        return None, None
    refused = [a for a in numbers if finding.limit is not None and not finding.limit.admits(a)]
    shown = (refused or numbers)[0]
    if isinstance(shown, Interval):
        lo = shown.lo if shown.lo is not None else shown.hi
        return lo, shown.hi
    return (shown, None) if hasattr(shown, "as_tuple") else (None, None)


def _safe(drawn: str) -> SafeString:
    """Our own drawings escape every text they hold."""
    return mark_safe(drawn)


@register.simple_tag(takes_context=True)
def to_tick(context: template.Context, verdict: Verdict) -> tuple[str, ...]:
    """The clauses that a verdict rests on and nobody checked yet; the ticks are read once for a request."""
    request = context.get("request")
    ticks: frozenset[str] | None = getattr(request, "_ticked_clauses", None)
    if ticks is None:
        ticks = ticked()
        if request is not None:
            request._ticked_clauses = ticks
    return resting_on([verdict], ticks)


@register.filter
def quoted_code(text: object) -> SafeString:
    """Names in backticks as code, the rest escaped. `{{ call.words|quoted_code }}`."""
    return _safe(re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(str(text))))


@register.filter
def broken_at_strokes(path: object) -> SafeString:
    """An address that goes on in a new line at a stroke, never within a name. `{{ call.path|broken_at_strokes }}`."""
    return _safe(re.sub("(?<=.)/", "<wbr>/", escape(str(path))))
