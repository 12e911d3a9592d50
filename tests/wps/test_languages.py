"""Sheets in other languages: every term there is, figures as they were but for the decimal sign.

Nobody's own words are changed.

The terms are those of EN ISO 15609-1, 6947, 4063, 9692-1 and 17659 in their German and French editions, from memory.
"""

import re
import string
from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from codes.terms import term, tokens
from codes.values import Interval
from wps.languages import CATALOGUES, LANGUAGES, translated
from wps.languages.translate import Catalogue, is_figure, phrases
from wps.preparation import KINDS
from wps.sheet_cautions import ARC, DEFERENCE, MACHINE, ROBOT

SHOWN = ("process", "weld_type", "joint_type", "product", "transfer_mode", "run_type", "gouging")
each_language = pytest.mark.parametrize("language", CATALOGUES)


def plain(html: str) -> str:
    return re.sub(r"<[^>]*>", " ", html)


@each_language
def test_every_term_kind_and_caution_that_a_sheet_prints_has_a_translation(language: str) -> None:
    known = CATALOGUES[language].phrases
    terms = [term(vocabulary, token).words for vocabulary in SHOWN for token in tokens(vocabulary)]
    cautions = [text for one in (*ARC, ROBOT, MACHINE) for text in one]
    wanted = [*terms, *cautions, DEFERENCE, *dict(KINDS).values()]
    assert not [text for text in wanted if text not in known and not is_figure(text)]


def test_the_languages_translate_the_same_phrases_and_sentences() -> None:
    first, *others = ((set(one.phrases), set(one.sentences)) for one in CATALOGUES.values())
    assert all(one == first for one in others)
    assert set(CATALOGUES) == set(LANGUAGES) - {"en"}


@each_language
def test_a_sentence_keeps_its_places(language: str) -> None:
    def places(text: str) -> list[str]:
        return sorted(name for _, name, _, _ in string.Formatter().parse(text) if name)

    for english, other in CATALOGUES[language].sentences.items():
        assert places(english) == places(other), english


@pytest.mark.parametrize(
    ("english", "german", "french"),
    [
        ("Preheat", "Vorwärmen", "Préchauffage"),
        ("min 20 °C", "min. 20 °C", "min. 20 °C"),
        ("max 482 °F", "max. 482 °F", "max. 482 °F"),
        ("3 to 6 mm", "3 bis 6 mm", "3 à 6 mm"),
        ("from 100 °C", "ab 100 °C", "à partir de 100 °C"),
        ("up to 250 °C", "bis 250 °C", "jusqu'à 250 °C"),
        ("above 3 to below 6 mm", "über 3 bis unter 6 mm", "plus de 3 à moins de 6 mm"),
        (
            "4 x the thicker part, at most 50 mm needed (EN 1090-2:2018, 7.5.7)",
            "4 x Dicke des dickeren Teils, höchstens 50 mm nötig (EN 1090-2:2018, 7.5.7)",
            "4 x l'épaisseur de la pièce la plus épaisse, 50 mm suffisent (EN 1090-2:2018, 7.5.7)",
        ),
        (
            "50 mm from 12.5 mm on (EN 1090-2:2018, 7.5.7)",
            "50 mm ab 12,5 mm (EN 1090-2:2018, 7.5.7)",
            "50 mm dès 12,5 mm (EN 1090-2:2018, 7.5.7)",
        ),
        ("T-joint, lap joint", "T-Stoß, Überlappstoß", "assemblage en T, assemblage à recouvrement"),
        (
            "MAG, solid wire; partly mechanised · semiautomatic",
            "MAG, Massivdrahtelektrode; teilmechanisch",
            "MAG, fil plein; partiellement mécanisé",
        ),
        (
            "group 1.1, 275 MPa; group 1.1, 275 MPa to group 1.2, 355 MPa",
            "Gruppe 1.1, 275 MPa; Gruppe 1.1, 275 MPa mit Gruppe 1.2, 355 MPa",
            "groupe 1.1, 275 MPa; groupe 1.1, 275 MPa avec groupe 1.2, 355 MPa",
        ),
        (
            "141 · GTAW: DC- · DCEN; 135 · GMAW: spray",
            "141 · GTAW: DC- · DCEN; 135 · GMAW: Sprühlichtbogen",
            "141 · GTAW\u202f: DC- · DCEN; 135 · GMAW\u202f: pulvérisation axiale",
        ),
        ("137 · FCAW-G inert: pulsed", "137 · FCAW-G inert: Impulslichtbogen", "137 · FCAW-G inert\u202f: pulsé"),
        (
            "PF · 3G / 3F up, PG · 3G down",
            "PF · 3G / 3F steigend, PG · 3G fallend",
            "PF · 3G / 3F montante, PG · 3G descendante",
        ),
        ("fill 2-3", "Füllraupen 2-3", "remplissage 2-3"),
        ("2 to 4 fill", "2 bis 4 Füllraupen", "2 à 4 remplissage"),
        ("1 root", "1 Wurzel", "1 passe de fond"),
        ("5 to 6 cap, ground", "5 to 6 cap, ground", "5 to 6 cap, ground"),
        ("Polarity", "Polung", "Polarité"),
        (
            "12 mm at 3 mm, growing to 50 mm from 12.5 mm on (EN 1090-2:2018, 7.5.7)",
            "12 mm bei 3 mm, wachsend auf 50 mm ab 12,5 mm (EN 1090-2:2018, 7.5.7)",
            # Not "12 mm à 3 mm", which is a range.
            "12 mm pour 3 mm, croissant jusqu'à 50 mm dès 12,5 mm (EN 1090-2:2018, 7.5.7)",
        ),
        (
            "SUPERSEDED by rev C on 2026-08-31. Not for production.",
            "ERSETZT durch Rev. C am 2026-08-31. Nicht für die Fertigung.",
            "REMPLACÉ par rév. C le 2026-08-31. Ne pas utiliser en fabrication.",
        ),
        ("depth 8", "Tiefe 8", "profondeur 8"),
        ("depth ≥3", "Tiefe ≥3", "profondeur ≥3"),
        (
            "Not stated whether tack or final welding",
            "Nicht angegeben, ob Heft- oder Fertigschweißen",
            "Non précisé\u202f: pointage ou soudage final",
        ),
        (
            "No sketch: angle_deg: state the angle of the groove, for example 60 for a V or 45 for a bevel.",
            "Keine Skizze: Öffnungswinkel: den Öffnungswinkel angeben, zum Beispiel 60 für eine V- oder 45 für eine "
            "HV-Naht.",
            "Pas de croquis\u202f: angle d'ouverture\u202f: indiquer l'angle d'ouverture, par exemple 60 pour un V ou "
            "45 pour un demi-V.",
        ),
        (
            "No sketch: kind: is not stated; use one of: square, single_v.",
            "Keine Skizze: Art: ist nicht angegeben; möglich sind: square, single_v.",
            "Pas de croquis\u202f: type\u202f: n'est pas indiqué; valeurs possibles\u202f: square, single_v.",
        ),
        (
            "No sketch: root_face_mm: 12 mm is more than the thickness drawn, 10 mm.",
            "Keine Skizze: Steghöhe: 12 mm sind mehr als die gezeichnete Dicke, 10 mm.",
            "Pas de croquis\u202f: talon\u202f: 12 mm dépassent l'épaisseur dessinée, 10 mm.",
        ),
        ("Arc.", "Lichtbogen.", "Arc."),
        ("Weld:", "Naht:", "Soudure\u202f:"),
        ("rev B", "Rev. B", "rév. B"),
        (
            "Sequence of 3 runs: butt joint, single V",
            "Folge von 3 Raupen: Stumpfstoß, V-Fuge",
            "Suite de 3 passes : assemblage bout à bout, V",
        ),
        (
            "Position PB · 2F, vertical, welded upwards",
            "Position PB · 2F, Steigposition",
            "Position PB · 2F, verticale montante",
        ),
        (
            "SUPERSEDED on 2026-03-13. Not for production.",
            "ERSETZT am 2026-03-13. Nicht für die Fertigung.",
            "REMPLACÉ le 2026-03-13. Ne pas utiliser en fabrication.",
        ),
        ("60 to 90°", "60 bis 90°", "60 à 90°"),
        ("gap 0.079–0.157 in", "Stegabstand 0,079–0,157 in", "écartement 0,079–0,157 in"),
        ("root face 2 mm", "Steghöhe 2 mm", "talon 2 mm"),
        ("drawn for t 11 mm, a 5.5 mm", "gezeichnet für t 11 mm, a 5,5 mm", "dessiné pour t 11 mm, a 5,5 mm"),
        (
            "drawn for t 0.512 in [13 mm], a 0.217 in [5.5 mm]",
            "gezeichnet für t 0,512 in [13 mm], a 0,217 in [5,5 mm]",
            "dessiné pour t 0,512 in [13 mm], a 0,217 in [5,5 mm]",
        ),
        ("3.8 to 7 mm", "3,8 bis 7 mm", "3,8 à 7 mm"),
        (
            "ss mb · with backing (one side, material backing), bs · both sides",
            "ss mb · einseitig mit Schweißbadsicherung aus Werkstoff, bs · beidseitig",
            "ss mb · d'un seul côté avec support solide, bs · des deux côtés",
        ),
        (
            "WPQR 9 (ISO 15614-1:2017, level 2)",
            "WPQR 9 (ISO 15614-1:2017, Stufe 2)",
            "WPQR 9 (ISO 15614-1:2017, niveau 2)",
        ),
        (
            "group 1.1, 39.8 ksi to group 1.2, 51.4 ksi",
            "Gruppe 1.1, 39,8 ksi mit Gruppe 1.2, 51,4 ksi",
            "groupe 1.1, 39,8 ksi avec groupe 1.2, 51,4 ksi",
        ),
        ("branch joint · T-, Y-, K-joint", "Abzweigung · T-, Y- oder K-Knoten", "piquage · nœud en T, Y ou K"),
    ],
)
def test_terms_and_sentences(english: str, german: str, french: str) -> None:
    assert CATALOGUES["de"].of(english) == german
    assert CATALOGUES["fr"].of(english) == french


@each_language
@pytest.mark.parametrize(
    "own",
    [
        "gap up to 2 mm",
        "with care",
        "clamped and tacked, 300 mm apart",
        "Grind the root to sound metal and test for cracks before the second side.",
        "flame or plasma cut, ground bright 20 mm each side",
        "Marta Lindqvist",
        "WPQR 101",
        "",
    ],
)
def test_what_somebody_wrote_stays(language: str, own: str) -> None:
    assert CATALOGUES[language].of(own) == own


@each_language
@given(text=st.text(alphabet="0123456789 .,–-/to()mminax°C:;·ab", max_size=40))
@settings(max_examples=150, deadline=None)
def test_no_figure_is_ever_changed(language: str, text: str) -> None:
    assert re.findall(r"\d+", CATALOGUES[language].of(text)) == re.findall(r"\d+", text)


def test_markup_styles_and_drawings_stay() -> None:
    html = (
        '<html lang="en"><style>.gas { content: "Gas" }</style><svg viewBox="0 0 1 1" aria-label="Joint"><text>'
        "t 3 to 20 mm</text></svg><h2> Gas </h2><p>root &amp; fill &lt;b&gt;</p></html>"
    )
    found = translated(html, CATALOGUES["de"])
    assert found == (
        '<html lang="de"><style>.gas { content: "Gas" }</style><svg viewBox="0 0 1 1" aria-label="Stoß"><text>'
        "t 3 bis 20 mm</text></svg><h2> Gas </h2><p>root &amp; fill &lt;b&gt;</p></html>"
    )


@each_language
def test_the_decimal_sign_of_a_cell_or_a_drawing_is_the_comma_and_no_clause_has_one(language: str) -> None:
    """ISO 80000-1: the comma on the line in texts of these languages. A group of steels or a clause is no figure."""
    one = CATALOGUES[language]
    for english, said in (
        ("<td>0.637–1.074</td>", "<td>0,637–1,074</td>"),
        ("<td>1.2, 1.6</td>", "<td>1,2; 1,6</td>"),
        ("<text>a 3.8–7 mm</text>", "<text>a 3,8–7 mm</text>"),
        ("<b>77.5°</b>", "<b>77,5°</b>"),
        ("<p>7.5.7</p>", "<p>7.5.7</p>"),
        ("<p>AWS D1.1:2020</p>", "<p>AWS D1.1:2020</p>"),
        ("<p>1, 5, 10, 12 (PB · 2F)</p>", "<p>1, 5, 10, 12 (PB · 2F)</p>"),
    ):
        assert translated(english, one) == said
    assert "(EN 1090-2:2018, 7.5)" in one.of("50 mm from 12.5 mm on (EN 1090-2:2018, 7.5)")


def test_text_of_a_translation_is_escaped() -> None:
    one = Catalogue("de", {"Notes": 'a < b & "c"'}, {})
    assert translated("<p>Notes</p>", one) == "<p>a &lt; b &amp; &quot;c&quot;</p>"


@each_language
@pytest.mark.parametrize(("lo", "hi"), [(D(100), None), (None, D(250)), (D(100), D(250))])
@pytest.mark.parametrize("opened", [(False, False), (True, False), (False, True), (True, True)])
def test_no_range_of_preheat_or_interpass_stays_english(
    language: str, lo: D | None, hi: D | None, opened: tuple[bool, bool]
) -> None:
    """A limit that a welder does not read is none; figures and unit stay."""
    said = str(Interval(lo, hi, "°C", *opened))
    found = CATALOGUES[language].of(said)
    assert not re.search(r"\b(from|up|to|above|below)\b", found), found
    assert re.findall(r"\d+|°C", found) == re.findall(r"\d+|°C", said)


def test_two_translations_of_one_phrase_are_refused() -> None:
    with pytest.raises(ValueError, match='"root" has two translations'):
        phrases({"root": "Wurzel"}, {"root": "Grund"})


HEADS = ("Run", "Layer", "Process", "Filler", "Ø", "Polarity", "Current", "Voltage", "Wire feed", "Speed", "Gas",
         "Heat input", "Arc energy", "Note")  # fmt: skip
"""Every name of a column of runs (`wps.sheet_runs`)."""


@each_language
def test_every_column_of_the_runs_has_its_name(language: str) -> None:
    assert set(HEADS) - {"Ø"} <= set(CATALOGUES[language].phrases)


def test_a_long_name_may_break_only_where_it_heads_a_column() -> None:
    german = CATALOGUES["de"]
    html = "<h2>Process</h2><table><thead><tr><th>Process</th></tr></thead><tbody><tr><td>Process</td></tr></tbody>"
    assert plain(translated(html, german)).split() == ["Schweißprozess", "Schweiß\u00adprozess", "Schweißprozess"]
