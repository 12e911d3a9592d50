"""A text of a judge in the language of the screen: laid over the finished English where it is shown, never before.

What is kept, compared and printed stays as it was said. A text is a message of its own, or fits a frame whose places
are told one by one, or is a row of such texts; what no catalogue knows stays as it is: names, designations, figures.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from functools import cache, lru_cache

from django.conf import settings
from django.utils.translation import get_language, gettext

from register.base.days import day_told
from register.judged_words.frames import WORD, Frame, is_plain
from register.judged_words.texts import texts

LIGHT = 6
"""Frames that say less than that ("{1} or {2}") are tried after the signs that part a sentence."""
APART = ("; ", ": ")
PARTED_BY = (*APART, ", ", " · ", " + ")
SENTENCES = re.compile(r"(?<=[a-z0-9)]\.) (?=[A-Z])")
CLOSED = re.compile(r"(.*?)( ?)\(([^()]*(?:\([^()]*\)[^()]*)*)\)(.*)", re.DOTALL)
DAY = re.compile(r"\d{1,2} [A-Z][a-z]{2} \d{4}")


def told(text: str) -> str:
    """The text in the language of the request, as it is where that is the language of the register itself."""
    return text if not text or speaks_english(get_language()) else _inner(text)


def speaks_english(language: str | None) -> bool:
    """True in the register's own language, and where none is active."""
    return language is None or language == settings.LANGUAGE_CODE


@lru_cache(maxsize=16384)
def _told(text: str, language: str) -> str:
    """Kept by language: equal findings stand in many answers."""
    return _known(text) or _split(text) or text


def _inner(text: str) -> str:
    core = text.strip()
    return text if is_plain(core) else text.replace(core, _told(core, get_language() or ""))


def _known(text: str) -> str | None:
    """A day, a message as it stands, in any case of its first letter, or what a frame that says much holds.

    A frame without the sign that parts the text most would take two texts for one.
    """
    if DAY.fullmatch(text):
        return day_told(text)
    if (said := _message(text)) is not None:
        return said
    if SENTENCES.search(text):
        return None
    sign = next((one for one in APART if one in text), "")
    frames = (frame for frame in _near(text) if frame.weight >= LIGHT and sign in frame.key)
    return _framed(text, frames)


def _message(text: str) -> str | None:
    """A capital at the begin of a sentence stays one; a label within a sentence is as its language writes it."""
    messages, first, rest = texts().messages, text[:1], text[1:]
    if text in messages:
        return gettext(text)
    if first.lower() + rest in messages:
        said = gettext(first.lower() + rest)
        return said[:1].upper() + said[1:]
    other = _by_small_letters().get(text)
    return None if other is None else gettext(other)


def _framed(text: str, frames: Iterable[Frame]) -> str | None:
    for frame in frames:
        found = frame.pattern.fullmatch(text)
        if found and all(place.count("(") == place.count(")") for place in found.groups()):
            return _filled(gettext(frame.key), [_inner(place) for place in found.groups()])
    return None


def _filled(message: str, places: list[str]) -> str:
    return re.sub(r"\{(\d+)\}", lambda place: places[int(place[1]) - 1], message)


def _split(text: str) -> str | None:
    """A row of texts: sentences, what stands in brackets, then what signs part, then what short words part."""
    steps: tuple[Callable[[str], str | None], ...] = (_sentences, _signs, _short, _brackets, _side_by_side)
    return next((said for step in steps if (said := step(text)) is not None), None)


def _sentences(text: str) -> str | None:
    parts = SENTENCES.split(text)
    if len(parts) > 1:
        return " ".join(map(_inner, parts))
    return f"{_inner(text[:-1])}." if text.endswith(".") and len(text) > 1 else None


def _brackets(text: str) -> str | None:
    found = CLOSED.fullmatch(text)
    if found is None:
        return None
    before, blank, inside, behind = found.groups()
    return f"{_inner(before)}{blank}({_inner(inside)}){_inner(behind)}"


def _signs(text: str) -> str | None:
    for sign in PARTED_BY:
        before, found, behind = text.partition(sign)
        if found and before.count("(") == before.count(")"):
            return f"{_inner(before)}{sign}{_inner(behind)}"
    return None


def _short(text: str) -> str | None:
    return _framed(text, (frame for frame in _near(text) if frame.weight < LIGHT))


def _side_by_side(text: str) -> str | None:
    """A label before its value ("parent thickness 32 mm"), a figure before its noun: the longest known part first."""
    words = text.split(" ")
    for at in range(len(words) - 1, 0, -1):
        left, right = " ".join(words[:at]), " ".join(words[at:])
        said = left if is_plain(left) else _message(left) or _closed(left)
        rest = right if is_plain(right) else _known(right) or _split(right)
        if left and said is not None and rest is not None:
            return f"{said} {rest}"
    return None


def _closed(text: str) -> str | None:
    """By a frame that ends with a word of its own, so that it takes nothing from what follows."""
    return _framed(text, (frame for frame in _near(text) if frame.parts[-1].strip()))


def _near(text: str) -> Iterator[Frame]:
    """The frames whose longest word stands in the text, the heaviest first."""
    by_word = _by_word()
    found = {frame.key: frame for word in {*WORD.findall(text)} for frame in by_word.get(word, ())}
    yield from sorted(found.values(), key=lambda one: -one.weight)


@cache
def _by_word() -> dict[str, list[Frame]]:
    found: dict[str, list[Frame]] = defaultdict(list)
    for frame in texts().frames:
        found[max(WORD.findall(" ".join(frame.parts)), key=len)].append(frame)
    return found


@cache
def _by_small_letters() -> dict[str, str]:
    """Labels as they stand within a sentence. Example: "co2 content"."""
    return {message.lower(): message for message in reversed(texts().messages)}
