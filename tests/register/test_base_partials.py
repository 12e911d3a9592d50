"""The partials: a verdict in words first, findings worst first; the places of the register."""

from dataclasses import replace
from decimal import Decimal as D

import pytest
from django import forms
from django.contrib.auth.models import AnonymousUser
from django.template.loader import render_to_string
from django.urls import NoReverseMatch, reverse
from django.utils.safestring import mark_safe

from codes.clauses import Clause, Mark
from codes.limits import OneOf, span
from codes.verdict import Finding, Outcome, Verdict
from register.base import nav
from register.base.nav import ENTRIES, Entry, places, rows
from register.roles import Capability
from register.templatetags.register_base import in_lines

CLAUSE = Clause("ISO 9606-1:2012", "5.7, Table 6", Mark.MEMORY)
TOO_THICK = Finding(
    "deposit_t", "Deposited thickness", Outcome.OUTSIDE, "32 mm", "3 to 30 mm", CLAUSE, "tested s = 15 mm: 3 to 2 s",
    "15 mm", D(-2), "mm", limit=span(D(3), D(30), "mm"), value=D(32),
)  # fmt: skip
POSITION = Finding(
    "position", "Position", Outcome.COVERED, "PB", "PA, PB", CLAUSE, limit=OneOf(("PA", "PB")), value="PB"
)
VERDICT = Verdict({}, Outcome.OUTSIDE, (TOO_THICK, POSITION), "WPS 14 rev C", "ISO 9606-1:2012")


@pytest.mark.django_db
def test_a_verdict_says_its_answer_first_and_every_finding() -> None:
    html = render_to_string("_verdict.html", {"verdict": VERDICT})
    text = " ".join(html.split())
    assert text.index("Outside</span> for WPS 14 rev C") < text.index("<table")
    assert text.index('scope="row">Deposited thickness') < text.index('scope="row">Position')
    for piece in ("32 mm", "3 to 30 mm", "misses by 2 mm", "ISO 9606-1:2012, 5.7, Table 6", "from memory"):
        assert piece in html
    assert "32 mm on 3 to 30 mm: outside" in html, "the ruler"
    assert html.count("<svg") == 4, "a shape for the answer and each finding, one ruler"


@pytest.mark.django_db
def test_another_sentence_may_replace_the_verdicts_own() -> None:
    covered = Verdict({}, Outcome.COVERED, (POSITION,), "WPS 14")
    html = render_to_string(
        "_verdict.html", {"verdict": covered, "sentence": "Covered by WPS 14; 3 people may weld it today."}
    )
    assert "Covered</span> by WPS 14; 3 people may weld it today." in " ".join(html.split())


@pytest.mark.django_db
def test_places_are_shown_to_whoever_may_open_them(people, monkeypatch: pytest.MonkeyPatch) -> None:
    entries = (
        Entry("Health", "health"),
        Entry("Out", "logout", Capability.MANAGE_USERS),
        Entry("Later", "nowhere:yet"),
    )
    monkeypatch.setattr(nav, "ENTRIES", entries)
    assert [p.label for p in places(people["coordinator"], "/")] == ["Health", "Out"]
    assert [p.label for p in places(people["auditor"], "/")] == ["Health"]
    assert places(people["no_role"], "/") == [] == places(AnonymousUser(), "/")


@pytest.mark.django_db
def test_the_current_place_is_marked(people, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nav, "ENTRIES", (Entry("Health", "health"), Entry("Ready", "ready")))
    auditor = people["auditor"]
    assert [p.current for p in places(auditor, "/health/")] == ["page", ""]
    assert [p.current for p in places(auditor, "/ready/5/")] == ["", "true"]
    assert [p.current for p in places(auditor, "/")] == ["", ""]


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/jobs/", "/assemblies/3/", "/imports/3/columns/"])
def test_what_belongs_to_a_job_stands_under_jobs(people, path: str) -> None:
    assert [p.label for p in places(people["auditor"], path) if p.current] == ["Jobs"]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.label)
def test_every_place_has_a_page(entry: Entry) -> None:
    try:
        reverse(entry.url_name)
    except NoReverseMatch:
        pytest.fail(f"{entry.label} leads to {entry.url_name}, which no app has")


@pytest.mark.django_db
def test_a_place_of_the_second_row_marks_its_question(people, monkeypatch: pytest.MonkeyPatch) -> None:
    entries = (Entry("Health", "health"), Entry("Ready", "ready", head="Health"), Entry("In", "login"))
    monkeypatch.setattr(nav, "ENTRIES", entries)
    found = rows(places(people["auditor"], "/ready/"))
    assert [(p.label, p.current) for p in found.first] == [("Health", "true"), ("In", "")]
    assert [(p.label, p.current) for p in found.second] == [("Health", ""), ("Ready", "page")]
    assert rows(places(people["auditor"], "/accounts/login/")).second == ()
    assert rows(places(people["auditor"], "/elsewhere/")).second == ()


@pytest.mark.django_db
def test_a_place_whose_question_is_closed_stands_in_the_first_row(people, monkeypatch: pytest.MonkeyPatch) -> None:
    entries = (Entry("Out", "logout", Capability.MANAGE_USERS), Entry("Ready", "ready", head="Out"))
    monkeypatch.setattr(nav, "ENTRIES", entries)
    assert [p.label for p in rows(places(people["auditor"], "/")).first] == ["Ready"]


def drawn(needed: int, optional: int) -> str:
    """A form of so many entries, as a page draws it."""
    kinds = [True] * needed + [False] * optional
    fields = {f"entry_{n}": forms.CharField(required=is_needed) for n, is_needed in enumerate(kinds)}
    made = type("Made", (forms.Form,), {**fields, "use_required_attribute": False})
    return render_to_string("_form.html", {"form": made()})


@pytest.mark.parametrize(
    ("needed", "optional", "marks"),
    [(1, 2, (1, 0)), (2, 2, (2, 0)), (3, 2, (0, 2)), (3, 0, (0, 0)), (0, 3, (0, 0)), (0, 1, (0, 1))],
)
def test_the_rarer_kind_of_entry_is_marked(needed: int, optional: int, marks: tuple[int, int]) -> None:
    page = drawn(needed, optional)
    assert (page.count("(needed)"), page.count("(may stay empty)")) == marks
    assert page.count('aria-required="true"') == needed
    assert ("all else may stay empty" in page) == (marks[0] > 0)
    assert ("Every entry may stay empty." in page) == ((needed, optional) == (0, 3))


def test_markup_among_facts_stays() -> None:
    facts = [
        ("Made by", "H. Obermaier, 2026-11-29"),
        ("Link", mark_safe('<a href="/?on=2026-11-29">x</a>')),
        ("R", "<b>"),
    ]
    said = render_to_string("_definition_list.html", {"facts": facts})
    assert "H. Obermaier, 2026-11-29" in said
    assert facts[1][1] in said and "&lt;b&gt;" in said


def test_a_form_without_sections_says_what_is_wrong() -> None:
    class Asked(forms.Form):
        because = forms.CharField(label="Why")

    assert 'href="#id_because"' in render_to_string("_form.html", {"form": Asked({})})


def test_parts_of_a_full_cell_stand_below_each_other() -> None:
    assert in_lines("1/4 in [6 mm], 45° (F, V); T ≤ 0–1/8 in") == "1/4 in [6 mm], 45° (F, V)<br>T ≤ 0–1/8 in"
    assert in_lines("<b>") == "&lt;b&gt;"


@pytest.mark.django_db
@pytest.mark.parametrize("template", ["_verdict.html", "joints/_basis.html"])
def test_a_reading_is_named_in_words(template: str) -> None:
    finding = replace(POSITION, readings=("yield_by_band (8.3.1): strict",))
    html = render_to_string(template, {"verdict": Verdict({}, Outcome.COVERED, (finding,), "WPS 14")})
    assert "yield by band (8.3.1)" in html and "yield_by_band" not in html
