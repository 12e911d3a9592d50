"""With a catalogue that marks every message, each page of the register says no English word outside the marks.

Each address is asked once, by somebody who may do all, with the thing that the access test puts into it.
"""

import re
from collections.abc import Callable, Iterator

from django.apps import apps
from django.contrib.auth.models import User
from django.db.models import JSONField
from django.test import Client

from register.judged_words.acts import OWN
from register.judged_words.frames import WORD, is_plain
from tests.conftest import PEOPLE
from tests.register.test_access import GUARDED, Address, location, taken_back
from tests.test_answers_told import IN_BOOKS, SAME, told_too
from tests.test_translated_pages import marked, outside

__all__ = ["marked", "told_too"]
OF_OTHERS = ("calc:", "api_")
"""The calculations have a test of their own; the description of the API speaks English."""
STAYS = (
    r"\bLesnewich\b|\b(?:read|write|propose):\w+|\b(?:Pcm|CEN) = .*$|\bPcm\b|\bA\(C\)"
    r"|\b(?:English|Deutsch|français|Welding register|CSV|XLSX|JSON|IFC)\b"
)
"""Names, formulas, what a system may ask as the API names it, languages by their own names, forms of files."""

CELLS = re.compile(r"<t[dh][^>]*>.*?</t[dh]>|; <cite>.*?</cite>", re.DOTALL)
"""Of the tables of a code: rows as its source has them, to be laid beside the standard, and its name."""


def in_json(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for part in value.values():
            yield from in_json(part)
    elif isinstance(value, list):
        for part in value:
            yield from in_json(part)
    elif isinstance(value, str):
        yield value


def on_file() -> Iterator[str]:
    """What somebody typed, or what bears a name."""
    for model in apps.get_models():
        if model is User or model.__module__.split(".")[0] in OWN:
            for row in model._base_manager.all():
                for field in row._meta.concrete_fields:
                    held = getattr(row, field.attname)
                    if not field.choices and field.name != "act":
                        yield from in_json(held if isinstance(field, JSONField) else str(held))
    yield from (user.get_full_name() for user in User.objects.all())
    yield from PEOPLE


def left(html: str, names: list[str]) -> set[str]:
    """Texts of a page with a word of English that is no name."""
    same = re.compile("|".join((IN_BOOKS, SAME, STAYS, *map(re.escape, names))))
    return {text for text in outside(html) if not is_plain(same.sub("", text))}


def asked(address: Address) -> bool:
    return not address.name.startswith(OF_OTHERS)


def test_no_page_says_a_word_outside_the_catalogue(
    told_too: None, people: dict[str, User], client_of: Callable[[str], Client]
) -> None:
    client, found, pages = client_of("coordinator"), {}, 0
    for address in filter(asked, GUARDED):
        with taken_back():
            url = location(address)
            reply = client.get(url)
            if reply.status_code != 200 or "html" not in reply.headers.get("Content-Type", "") or reply.streaming:
                continue
            pages += 1
            names = sorted({text for text in on_file() if WORD.search(text) and "⟦" not in text}, key=len, reverse=True)
            html = reply.content.decode()
            if address.name == "held:tables":
                html = CELLS.sub("", html)
            found |= dict.fromkeys(left(html, names), address.name)
    assert pages > 90
    assert not found, "\n".join(f"{name}: {text}" for text, name in sorted(found.items(), key=lambda one: one[1]))
