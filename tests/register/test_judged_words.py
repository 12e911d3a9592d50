"""What judges say is found in their source and told on the screen: whole sentences, the facts in them untouched."""

import re
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from django.utils import translation
from django.utils.safestring import mark_safe

from codes.verdict import Outcome
from register.judged_words import told, told_term
from register.judged_words.frames import frames_of, is_said
from register.judged_words.texts import texts
from register.judged_words.told import forget
from register.management.commands.texts import entry

GERMAN = {
    "{1} is outside {2}": "{1} liegt außerhalb von {2}",
    "{1} is not stated, {2} would be covered": "{1} ist nicht angegeben, {2} wäre abgedeckt",
    "Parent thickness": "Werkstückdicke", "Position": "Position", "fillet weld": "Kehlnaht", "plate": "Blech",
    "{1} to {2}": "{1} bis {2}", "from {1}": "ab {1}", "above {1} to below {2}": "über {1} bis unter {2}",
    "misses by {1}": "es fehlen {1}", "{1} on {2}": "{1} bei {2}",
    "{1} to spare": "{1} Spielraum", "the range {1}": "der Bereich {1}",
    "outside": "außerhalb", "Outside": "Außerhalb", "none": "keine", "{1} is {2}": "{1} ist {2}",
    "unknown: the record does not state {1}": "unbekannt: der Prüfbericht nennt {1} nicht",
    "the process": "den Prozess", "the records of {1} allow": "die Berichte von {1} erlauben",
}  # fmt: skip


@contextmanager
def in_german(gettext: Callable[[str], str]) -> Iterator[None]:
    forget()
    with pytest.MonkeyPatch.context() as patch, translation.override("de"):
        translation.gettext("")
        patch.setattr(translation._trans, "gettext", gettext, raising=False)
        yield
    forget()


def keys(source: str) -> list[str]:
    return [frame.key for frame in frames_of(source)]


def filled(key: str, thing: str = "PB") -> str:
    """A text of a frame, with figures and names in its places."""
    return re.sub(r"\{(\d+)\}(?=([a-z])?)", lambda place: f"{place[1]} mm ({thing}){', ' if place[2] else ''}", key)


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('x = "tested without backing"', ["tested without backing"]),
        ('x = f"tested {name} = {number(s)} mm: {rule}"', ["tested {1} = {2} mm: {3}"]),
        ("x = f\"{a}{'not ' if b else ''}allowed\"", ["{1}not allowed", "{1}allowed"]),
        ('x = f"{label} {wanted}".rstrip() + f" is covered by {what}{source}"', ["{1} is covered by {2}"]),
        ('x = ("above " if low else "") + number(lo)', ["above {1}"]),
        ('x = " and ".join(names)', ["{1} and {2}"]),
        ("x = f\"covers {', '.join(terms or ('no position',))}\"", ["covers {1}", "no position"]),
        ('x = f"{label} {value}, {unit}"', []),
        ('"""What it is for."""\ndef f():\n    """What it does."""', []),
        ('WHERE = clause("5.7, thickness of the piece")\nx = gettext("Said in a catalogue.")', []),
        ('raise ValueError("an interval cannot run that way")', []),
        ('x = {"fillet": "single_run"}; y = "mm"; z = "PB"', []),
    ],
)
def test_texts_are_found_in_the_source(source: str, found: list[str]) -> None:
    assert keys(source) == found


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("", ""),
        ("12 mm", "12 mm"),
        ("3 to 24 mm", "3 bis 24 mm"),
        ("from 3 mm", "ab 3 mm"),
        ("above 3 to below 24 mm", "über 3 bis unter 24 mm"),
        ("parent thickness 32 mm", "Werkstückdicke 32 mm"),
        ("misses by 2 mm", "es fehlen 2 mm"),
        (
            "Outside: parent thickness 32 mm, the records of WPS 14 rev C allow 3 to 30 mm.",
            "Außerhalb: Werkstückdicke 32 mm, die Berichte von WPS 14 rev C erlauben 3 bis 30 mm.",
        ),
        (
            "Parent thickness 32 mm is outside 3 to 30 mm: tested plate (ISO 15614-1:2017, 8.3.2).",
            "Werkstückdicke 32 mm liegt außerhalb von 3 bis 30 mm: tested Blech (ISO 15614-1:2017, 8.3.2).",
        ),
        (
            "Position is not stated, the range from 3 mm would be covered",
            "Position ist nicht angegeben, der Bereich ab 3 mm wäre abgedeckt",
        ),
        ("unknown: the record does not state the process", "unbekannt: der Prüfbericht nennt den Prozess nicht"),
        ("fillet weld, PB · 2F, plate", "Kehlnaht, PB · 2F, Blech"),
        ("misses by 2 mm on parent thickness", "es fehlen 2 mm bei Werkstückdicke"),
    ],
)
def test_a_text_is_told_with_its_parts_in_their_places(english: str, german: str) -> None:
    with in_german(lambda text: GERMAN.get(text, text)):
        assert told(english) == german
    assert told(english) == english


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("fillet weld + plate", "Kehlnaht + Blech"),
        ("3 to 24 mm", "3 bis 24 mm"),
        ("Plate to Beam", "Plate to Beam"),
        ("to be set up, fillet weld last", "to be set up, fillet weld last"),
    ],
)
def test_what_people_type_stays(typed: str, shown: str) -> None:
    with in_german(lambda text: GERMAN.get(text, text)):
        assert told_term(typed) == shown


def test_every_message_is_told_by_itself() -> None:
    """What a judge says is found again in what it said: no frame is hidden by another that takes its words apart."""
    with in_german(lambda text: f"⟦{text}⟧"):
        hidden = [key for key in texts().messages if is_said(key) and "⟦" not in told(filled(key))]
    assert not hidden


def test_nothing_is_said_that_was_not_said() -> None:
    """A catalogue that says everything in English leaves every text as it was, but for capitals."""
    said = [filled(key, "plate") for key in texts().messages]
    in_english = [told(text) for text in said]
    with in_german(lambda text: text):
        for text, english in zip(said, in_english, strict=True):
            assert told(text).casefold() == english.casefold()


def test_words_of_the_answers_have_messages() -> None:
    assert {one.value for one in Outcome} <= texts().messages.keys()
    assert {"{1} is covered by {2}", "{1} is outside {2}", "{1} to {2}", "Parent thickness"} <= texts().messages.keys()


def test_an_entry_of_the_template_says_where_a_text_is_said() -> None:
    assert entry('say "{1}" at most', "codes/x.py ({1}: size)") == (
        '\n#. codes/x.py ({1}: size)\nmsgid "say \\"{1}\\" at most"\nmsgstr ""\n'
    )


@pytest.mark.parametrize("words", ["or ", "none, ", "1 and ", "tested welder valid ", "a. B "])
def test_a_text_longer_than_any_that_a_judge_says_is_not_taken_apart(words: str) -> None:
    """People type notes of any length; taken apart word by word they would hold up the page, or break it."""
    with in_german(lambda text: GERMAN.get(text, text)):
        assert told(words * 400 + "q") == told_term(words * 400 + "q") == words * 400 + "q"


def test_a_row_of_figures_takes_steps_by_its_length_and_not_by_its_powers(monkeypatch: pytest.MonkeyPatch) -> None:
    """People type them; twenty figures took a minute, forty would have taken years."""
    module, steps = sys.modules["register.judged_words.told"], Counter[str]()
    known = module._known

    def counted(text: str) -> str | None:
        steps[text] += 1
        assert steps.total() < 1000
        return known(text)

    monkeypatch.setattr(module, "_known", counted)
    typed = "1 " * 40 + "xxyzzy"
    with in_german(lambda text: GERMAN.get(text, text)):
        assert told(typed) == typed
    assert steps.total() >= 40


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("1.25 x 0.8 kJ/mm = 1 kJ/mm at most", "1.25 × 0.8 kJ/mm = 1 kJ/mm at most"),
        ("impact below -20 °C: another make", "impact below −20 °C: another make"),
        ("from -40 °F", "from −40 °F"),
        ("-20 to below 500 °C", "−20 to below 500 °C"),
        ("Strict: 1.25 x the tested value", "Strict: 1.25 × the tested value"),
        ("+25 % or -20 %", "+25 % or −20 %"),
        ("Tp Q -3.7382 K, ψ' = (-45°) + 45°", "Tp Q −3.7382 K, ψ' = (−45°) + 45°"),
        ("500 − (-10), 30-45°, (WPS-3), (EN 1090-2)", "500 − (−10), 30-45°, (WPS-3), (EN 1090-2)"),
        ("written 40 ft³/h, -20 %, +25 %; M21 (CO2 15-25 %)", "written 40 ft³/h, −20 %, +25 %; M21 (CO2 15-25 %)"),
        (
            "root opening 6 mm to 8 mm, +1.6 -0; angle 45°, +10° -0°",
            "root opening 6 mm to 8 mm, +1.6 −0; angle 45°, +10° −0°",
        ),
        ("gap +1 / -0 mm", "gap +1 / −0 mm"),
        ("0; -0.707; 0.707", "0; −0.707; 0.707"),
        ("ISO 3834-2 or -3, EN 10025-3, -4 and -6", "ISO 3834-2 or -3, EN 10025-3, -4 and -6"),
        ("ISO 15614-1, 180-200 °C, strip x 30", "ISO 15614-1, 180-200 °C, strip x 30"),
    ],
)
def test_the_signs_of_a_keyboard_are_set_as_signs_of_print(written: str, shown: str) -> None:
    assert told(written) == shown


def test_what_was_typed_stands_in_curly_marks_of_quotation() -> None:
    assert told('"ST52-3" is not a steel grade held here; near are "S355J2"') == (
        "“ST52-3” is not a steel grade held here; near are “S355J2”"
    )
    tagged = mark_safe('<a href="/x/">"y"</a>')
    assert told(tagged) == tagged
    assert told('3" wide') == '3" wide'
