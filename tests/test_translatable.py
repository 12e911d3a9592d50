"""Every text of a template stands in a translation tag, so that a catalogue reaches it; the house rules ask all."""

import re

import pytest
from django.template import engines
from django.utils import translation

# What is no text: comments, names of style classes, style sheets of papers, and what a tag or a variable puts in.
SILENT = re.compile(
    r"{% comment .*?{% endcomment %}|{% block main_class %}.*?{% endblock %}|<style\b.*?</style>"
    r"|{% blocktranslate\b.*?{% endblocktranslate %}|{%.*?%}|{{.*?}}",
    re.DOTALL,
)
TAG = re.compile(r"<[^>]*>")
SAID = re.compile(r'\s(?:title|aria-label|placeholder|alt|data-label)="([^"]*)"')
ENTITY = re.compile(r"&#?\w+;")
SAME_EVERYWHERE = re.compile(r"\b(?:mm²?|kg|l|min|s|A|V|kJ|SHA)\b")  # signs of units, and the name of a method
PLAIN_ARGUMENT = re.compile(
    r'{{[^}]*\|default:"[^"]*[A-Za-z][^"]*"|{% include [^%]*\b(?:title|teach|more|action_label|word|old)="[^"]+"'
)


def words(text: str) -> bool:
    """True for a text that somebody reads and that a translator would have to see."""
    return bool(re.search(r"[^\W\d_]", SAME_EVERYWHERE.sub("", ENTITY.sub("", text))))


def untranslated(source: str) -> list[str]:
    """The texts of a template, and its spoken attributes, that no translation tag holds."""
    bare = SILENT.sub("", source)
    found = [text.strip() for text in TAG.split(bare) if words(text)]
    found += [said for tag in TAG.findall(bare) for said in SAID.findall(tag) if words(said)]
    return found + PLAIN_ARGUMENT.findall(source)


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("<p>Not stated</p>", ["Not stated"]),
        ('<p>{% translate "Not stated" %}</p>', []),
        ("<b>{% blocktranslate trimmed %}{{ a }} of {{ b }}{% endblocktranslate %}</b>, {{ c }} mm", []),
        ("{% if a %}{{ a }} of {% endif %}{{ b }}", ["of"]),
        ('<td data-label="Margin">–</td>', ["Margin"]),
        ('{{ a|default:"none" }}', ['{{ a|default:"none"']),
        ('{{ a|default:_("none") }}{{ b|default:"–" }}', []),
        ('{% include "_empty.html" with title="Nothing" %}', ['{% include "_empty.html" with title="Nothing"']),
    ],
)
def test_the_rule_sees_what_it_is_for(source: str, found: list[str]) -> None:
    assert untranslated(source) == found


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ('{% translate "None yet." %}', "None yet."),
        ('{% translate "Analysis, mass %" %}', "Analysis, mass %"),
        ("{% translate '<b>Not saved.</b>' %}", "<b>Not saved.</b>"),
        ('{% translate "none"|capfirst %}', "None"),
        ('{% translate word %}{% translate "x" as y %}{{ y }}{% translate "z" noop %}', "a &lt; bxz"),
    ],
)
def test_a_text_is_said_as_it_stands_where_no_catalogue_has_it(source: str, said: str) -> None:
    assert engines["django"].from_string(source).render({"word": "a < b"}) == said


def test_a_text_is_said_in_the_language_of_the_request(monkeypatch: pytest.MonkeyPatch) -> None:
    german = {"Analysis, mass %%": "Analyse, Massenanteil in %%", "Events": "Ereignisse"}
    monkeypatch.setattr(translation._trans, "gettext", lambda text: german.get(text, text), raising=False)
    source = '{% translate "Analysis, mass %" %}; {% translate "Events" %}; {% translate "Other" %}'
    assert engines["django"].from_string(source).render() == "Analyse, Massenanteil in %; Ereignisse; Other"
