"""With a catalogue that marks every message, no English word of a calculation or a table of the codes is left bare."""

import re
from collections.abc import Callable, Iterator
from urllib.parse import urlencode

from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from codes.asme_ix_2021.edition_table import TOPICS
from codes.calc.registry import calculations
from codes.units import System
from register.calculations.examples import example
from register.calculations.families import families
from register.calculations.typed import texts_of
from register.held.laid_out import FIGURES_OF, LAYOUTS
from register.held.tables import data_tables, held_clauses
from register.judged_words.frames import is_plain
from tests.test_answers_told import IN_BOOKS, told_too
from tests.test_translated_pages import marked, outside

__all__ = ["marked", "told_too"]
SLUG = {one.name: found.slug for found in families() for one in found.members}
SYMBOLS = (
    r"(?<![A-Za-z])(?:Tp|dt|Pcm|SI|CEN|CET|CE|tanh|sin|cos|tan|asin|acos|log10|log₁₀|max|hc|fu|fvw|Rd|Lw|Lj|eff|run|wire)"
    r"(?![A-Za-z])"
)
WRONG = {"abc": "no figure", "-1": "a negative figure", "999999": "beyond every range"}


CITED = {
    *(clause.source for clause in held_clauses()),
    *(place.cited for package in LAYOUTS for table in data_tables(package) for place in table.places),
    *(topic.source for topic in TOPICS),
}


def given(name: str, system: System) -> dict[str, str]:
    """The address of the worked example."""
    asked, texts = calculations()[name], {"calculation": name, "units": system.value}
    for field, plain in example(asked, system).items():
        texts |= texts_of(asked.input(field), plain)
    return texts


def addresses() -> Iterator[str]:
    """Each calculation blank, answered in both systems of units, and with each kind of wrong figure in each field."""
    yield reverse("calc:calculations")
    for name in calculations():
        page = reverse("calc:family", args=[SLUG[name]])
        yield f"{page}?calculation={name}"
        for system in System:
            yield f"{page}?{urlencode(given(name, system))}"
        texts = given(name, System.SI)
        for wrong in WRONG:
            bad = {field: text if field in ("calculation", "units") else wrong for field, text in texts.items()}
            yield f"{page}?{urlencode(bad)}"


def left_bare(client: Client, pages: Iterator[str], same: str) -> dict[str, str]:
    left: dict[str, str] = {}
    for address in pages:
        reply = client.get(address)
        assert reply.status_code == 200, address
        left |= dict.fromkeys(outside(reply.content.decode()), address)
    pattern = re.compile(same)
    bare = {text: address for text, address in left.items() if not is_plain(pattern.sub("", text))}
    # A source is cited in its own words.
    return {text: address for text, address in bare.items() if not any(text.strip("; ") in one for one in CITED)}


def test_no_word_of_a_calculation_is_left_in_english(
    told_too: None, people: dict[str, User], client_of: Callable[[str], Client]
) -> None:
    names = "|".join(re.escape(user.get_full_name()) for user in User.objects.all() if user.get_full_name())
    same = "|".join(
        filter(
            None,
            (
                IN_BOOKS,
                SYMBOLS,
                names,
                "abc",
                r"\d+ (?:cfh|ft3)",
                "[Cc]oordinator",
                r"\(in, in/min, lb/h\)",
                r"\), deep penetration",
            ),
        )
    )
    words = left_bare(client_of("coordinator"), addresses(), same)
    assert not words, "\n".join(f"{address[:90]}: {text}" for text, address in words.items())


def test_no_word_of_a_table_of_the_codes_is_left_in_english(
    told_too: None, people: dict[str, User], client_of: Callable[[str], Client]
) -> None:
    pages = (reverse("held:tables", args=[package]) for package in (*LAYOUTS, *FIGURES_OF))
    words = left_bare(client_of("coordinator"), pages, f"{IN_BOOKS}|[Cc]oordinator")
    assert not words, "\n".join(f"{address}: {text}" for text, address in words.items())
