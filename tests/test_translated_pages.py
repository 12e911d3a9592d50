"""With a catalogue that puts marks around every message, what main pages say of their own stands inside the marks."""

import re
from collections.abc import Callable, Iterable
from datetime import date
from html.parser import HTMLParser

import pytest
from django.conf import settings
from django.contrib.auth.models import User
from django.db import models
from django.template.loader import render_to_string
from django.test import Client
from django.urls import reverse
from django.utils import translation

from codes.editions import all_editions
from codes.terms import term, tokens
from codes.units import System
from codes.variables import VARIABLES
from codes.vocabulary import TERMS
from joints.choices import label
from joints.papers import coverage
from register.papers import printing
from register.papers.printing import PaperChoice
from tests.joints.makers import make_joint
from tests.test_translatable import words
from wps.languages import LANGUAGES
from wps.preparation import KINDS

SPOKEN = {"title", "aria-label", "placeholder", "alt", "data-label"}
SILENT = {"script", "style", "svg"}
PAGES = (
    "joints:home", "joints:job_list", "joints:joint_list", "joints:job_new", "joints:workstation_new",
    "wps:procedure_list", "wps:record_list", "qualifications:person_list", "qualifications:person_new",
    "qualifications:due", "background:list", "second:own",
)  # fmt: skip
OF_A_JOINT = ("joints:joint_edit", "joints:joint_remove")
NAMES = {"CSV", "XLSX", "PDF"}  # the same in every language
# Said by the codes, and by what judges with them: English in this edition.
JUDGED = re.compile(r"(covered|outside|not stated|no procedure)\b.*|.* joints? (is|are) covered.*", re.IGNORECASE)
SIZE = re.compile(r"[asz] [\d.]+")
"""The letter of a size is a symbol, the same in every language."""


@pytest.fixture
def marked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every message of a page between ⟦ and ⟧, as its translation would stand."""

    def of_number(one: str, many: str, number: int) -> str:
        return f"⟦{one if number == 1 else many}⟧"

    monkeypatch.setattr(translation._trans, "gettext", lambda message: f"⟦{message}⟧", raising=False)
    monkeypatch.setattr(translation._trans, "ngettext", of_number, raising=False)


class Outside(HTMLParser):
    """Collects what stands outside the marks, as text or as spoken attribute."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._silent = self._inside = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in SILENT
        for name, said in attrs:
            if name in SPOKEN:
                self._take(said or "")

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in SILENT

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self._take(data)

    def _take(self, text: str) -> None:
        for piece in re.split("([⟦⟧])", text):
            if piece in ("⟦", "⟧"):
                self._inside += 1 if piece == "⟦" else -1
            elif not self._inside and words(piece):
                self.found.append(" ".join(piece.split()).strip(" ·,:."))


def outside(html: str) -> set[str]:
    """The texts of a page that no message holds."""
    reader = Outside()
    # What only keeps a number on its line does not part the text that it stands in.
    reader.feed(re.sub(r'<span class="day">([^<]*)</span>', r"\1", html))
    return set(reader.found)


def of_the_trade() -> Iterable[str]:
    """Words as the codes hold them: terms, variables, editions; a catalogue may name them, English stands till then."""
    for vocabulary in TERMS:
        for one in (term(vocabulary, token) for token in tokens(vocabulary)):
            yield from (one.token, one.iso, one.aws, one.words, one.both, label(vocabulary, one.token))
    for variable in VARIABLES.values():
        yield from (variable.label, variable.help)
    for edition in all_editions():
        yield from (edition.key, edition.title, f"{edition.key}: {edition.title}")
    yield from (name for _, name in (*KINDS, *LANGUAGES.items()))


def entered(*rows: models.Model) -> Iterable[str]:
    """What somebody entered, as it stands in the rows."""
    for row in rows:
        yield from (str(getattr(row, field.attname)) for field in row._meta.concrete_fields)
        yield str(row)


def test_marks_are_told_from_what_stands_outside() -> None:
    page = '<p title="x">⟦a <b>b</b>⟧ 5 mm <i aria-label="⟦c⟧">Not marked</i></p><script>y</script>'
    assert outside(page) == {"x", "Not marked"}


def test_main_pages_say_nothing_outside_the_catalogue(
    marked: None, people: dict[str, User], client_of: Callable[[str], Client]
) -> None:
    joint = make_joint()
    job = joint.assembly.job
    accounts = User.objects.all()
    data = {
        *NAMES,
        *of_the_trade(),
        *entered(joint, joint.assembly, joint.final_workstation, job, *accounts),
        f"{job}: {job.title}",
    }
    data |= {account.get_full_name() for account in accounts}
    client = client_of("coordinator")
    found = {}
    for address in (*map(reverse, PAGES), *(reverse(name, args=[joint.pk]) for name in OF_A_JOINT)):
        reply = client.get(address)
        assert reply.status_code == 200, address
        said = outside(reply.content.decode()) - data
        found |= {text: address for text in said if not (JUDGED.fullmatch(text) or SIZE.fullmatch(text))}
    assert not found, "\n".join(f"{address}: {text}" for text, address in found.items())


def test_papers_are_made_in_the_registers_own_language(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Else the check code would depend on who printed the paper, and a paper of one would be changed to another."""

    def of_reader(text: str) -> str:
        return text if translation.get_language() == settings.LANGUAGE_CODE else f"⟦{text}⟧"

    monkeypatch.setattr(translation._trans, "gettext", of_reader, raising=False)
    monkeypatch.setattr(printing, "render", lambda html, *args: (html, 1))
    assembly, day = make_joint().assembly, date(2026, 11, 30)
    with translation.override("de"):
        draft = coverage.draft(assembly, day, System.SI)
        html, _ = printing.rendered(draft, PaperChoice(), "")
        said = [html, str(draft.content), str(coverage.content(str(assembly.pk), day))]
        screen = render_to_string("404.html")
        assert translation.get_language() == "de"
    assert "⟦" in screen
    assert not [text for text in said if "⟦" in text]
