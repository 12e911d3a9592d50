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

from codes.words import lower_first
from register.base.signs import below_zero, in_print
from register.judged_words.frames import WORD, Frame, is_plain
from register.judged_words.texts import texts

LIGHT = 6
"""Frames that say less than that ("{1} or {2}") are tried after the signs that part a sentence."""
LONGEST = 80
"""Words of a sentence: people type longer ones, judges do not, and the steps grow with the cube."""
SIGNS_AT_MOST = 1000
"""Of a sentence, for the same reason."""
APART = ("; ", ": ")
PARTED_BY = (*APART, ", ", " · ", " + ")
SENTENCES = re.compile(r"(?<=[a-z0-9)]\.) (?=[A-Z])")
CLOSED = re.compile(r"(.*?)( ?)\(([^()]*(?:\([^()]*\)[^()]*)*)\)(.*)", re.DOTALL)
QUOTED = re.compile(r'"([^"]*)"')


def told(text: str) -> str:
    """The text in the language of the request, as it is where that is the language of the register itself.

    Its figures are set as print sets them. Example: "2 x 12 mm from -20 °C" is "2 × 12 mm from −20 °C"; what was
    typed stands in curly marks of quotation.
    """
    return _set(text if not text or speaks_english(get_language()) else _inner(text))


def told_term(text: str) -> str:
    """The same for what a field states: only where all of it is terms, figures and ranges, since people type too."""
    return below_zero(text if not text or speaks_english(get_language()) else _term(text, get_language() or "") or text)


def told_within(text: str) -> str:
    """A name within a sentence, "job 26-104": its first letter is small in English, else as its language writes it."""
    return lower_first(text) if speaks_english(get_language()) else told(text)


def speaks_english(language: str | None) -> bool:
    """True in the register's own language, and where none is active."""
    return language is None or language == settings.LANGUAGE_CODE


def _set(said: str) -> str:
    """The signs of a keyboard, in which the rules write and compare, as signs of print."""
    # Marks of quotation of a text only: what holds tags has them around its attributes.
    said = type(said)(QUOTED.sub("“\\1”", said)) if '"' in said and "<" not in said else said
    return in_print(said)


@lru_cache(maxsize=16384)
def _told(text: str, language: str) -> str:
    """Kept by language: equal findings stand in many answers."""
    if _is_long(text):
        parts = SENTENCES.split(text)
        return _message(text) or (" ".join(map(_inner, parts)) if len(parts) > 1 else text)
    return _known(text) or _split(text) or text


@lru_cache(maxsize=16384)
def _term(text: str, language: str) -> str | None:
    """A text of which every part is known; None where one is not."""
    if is_plain(text):
        return text
    if _is_long(text):
        return _message(text)
    if (said := _message(text)) is not None:
        return said
    ways = (_by_frames(text, language, True), _by_signs(text, language), _by_frames(text, language, False))
    return next((said for way in ways for said in way), None) or next(_by_rest(text, language), None)


def _by_frames(text: str, language: str, whole: bool) -> Iterator[str]:
    """By a frame all of whose places are known, one that the catalogue translates first.

    `whole`: only frames with the sign that parts the text most, others would take two texts for one; and only one that
    the catalogue translates, else the parts may be told.
    """
    sign = next((one for one in PARTED_BY if one in text), "")
    fits: list[str] = []
    for frame in _near(text):
        found = frame.pattern.fullmatch(text) if (sign in frame.key) is whole else None
        if not found or not all(map(_balanced, found.groups())):
            continue
        places = [_term(place, language) for place in found.groups()]
        if None not in places:
            message = gettext(frame.key)
            said = _filled(message, [place or "" for place in places])
            if message != frame.key:
                yield said
                return
            fits.append(said)
    yield from () if whole else fits[:1]


def _by_signs(text: str, language: str) -> Iterator[str]:
    for before, sign, behind in _parted(text):
        parts = [_term(before, language), _term(behind, language)]
        if None not in parts:
            yield sign.join(part or "" for part in parts)


def _parted(text: str) -> Iterator[tuple[str, str, str]]:
    """The text parted at each of its signs, the strongest first, none inside brackets."""
    for sign in PARTED_BY:
        at = text.find(sign)
        while at >= 0:
            if _balanced(text[:at]):
                yield text[:at], sign, text[at + len(sign) :]
            at = text.find(sign, at + 1)


def _by_rest(text: str, language: str) -> Iterator[str]:
    """What stands in brackets and around them; a label and its value, a figure and its noun."""
    if brackets := CLOSED.fullmatch(text):
        before, blank, *rest = brackets.groups()
        parts = [_term(part, language) for part in (before, *rest)]
        if None not in parts:
            yield f"{parts[0]}{blank}({parts[1]}){parts[2]}"
    words = text.split(" ")
    for at in range(len(words) - 1, 0, -1):
        left, right = " ".join(words[:at]), " ".join(words[at:])
        said = left if is_plain(left) else _message(left)
        rest = _term(right, language) if said is not None else None
        if rest is not None:
            yield f"{said} {rest}"


def _is_long(text: str) -> bool:
    return text.count(" ") > LONGEST or len(text) > SIGNS_AT_MOST


def _balanced(text: str) -> bool:
    return text.count("(") == text.count(")")


def forget() -> None:
    """Drop what is kept, where a catalogue has changed."""
    _told.cache_clear()
    _right.cache_clear()
    _term.cache_clear()


def _inner(text: str) -> str:
    core = text.strip()
    return text if is_plain(core) else text.replace(core, _told(core, get_language() or ""))


def _known(text: str) -> str | None:
    """A text of which every part is known, or what a frame that says much holds.

    A frame without the sign that parts the text most would take two texts for one.
    """
    language = get_language() or ""
    if text[:1].isupper() and (said := _term(text[:1].lower() + text[1:], language)) is not None:
        return said[:1].upper() + said[1:]
    if (said := _term(text, language) or _side_by_side(text, lambda rest: _term(rest, language))) is not None:
        return said
    sign = next((one for one in APART if one in text), "")
    frames = (frame for frame in _near(text) if frame.weight >= LIGHT and sign in frame.key)
    return None if SENTENCES.search(text) else _framed(text, frames)


def _message(text: str) -> str | None:
    """A capital at the begin of a sentence stays one; a label within a sentence is as its language writes it.

    Of several spellings that are messages, one that the catalogue translates is taken.
    """
    messages, first, rest = texts().messages, text[:1], text[1:]
    found = [(one, one) for one in (text,) if one in messages]
    if first.isupper() and (small := first.lower() + rest) in messages:
        found.append((small, small[:1].upper() + small[1:]))
    if (label := _by_small_letters().get(text)) is not None:
        found.append((label, label))
    for one, english in found:
        if (said := gettext(one)) != one:
            return said[:1].upper() + said[1:] if english != one else said
    return found[0][1] if found else None


def _framed(text: str, frames: Iterable[Frame]) -> str | None:
    """By the first frame that the catalogue translates: without one the parts of the text are told."""
    for frame in frames:
        message = gettext(frame.key)
        found = frame.pattern.fullmatch(text) if message != frame.key else None
        if found and all(map(_balanced, found.groups())):
            return _filled(message, [_inner(place) for place in found.groups()])
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
    language = get_language() or ""
    ways = list(_parted(text))
    known = (way for way in ways if (not is_plain(way[0]) and _term(way[0], language)) or _term(way[2], language))
    for before, sign, behind in [*known, *ways][:1]:
        return f"{_inner(before)}{sign}{_inner(behind)}"
    return None


def _short(text: str) -> str | None:
    return _framed(text, (frame for frame in _near(text) if frame.weight < LIGHT))


def _side_by_side(text: str, tell: Callable[[str], str | None] | None = None) -> str | None:
    """A label before its value ("parent thickness 32 mm"), a figure before its noun: the longest known part first."""
    tell = tell or (lambda rest: _right(rest, get_language() or ""))
    words = text.split(" ")
    for at in range(len(words) - 1, 0, -1):
        left, right = " ".join(words[:at]), " ".join(words[at:])
        said = left if is_plain(left) else _message(left) or _closed(left)
        if said is None or (said == left and not is_plain(left)):
            continue
        rest = right if is_plain(right) else tell(right)
        if left and rest is not None:
            return f"{said} {rest}"
    return None


@lru_cache(maxsize=16384)
def _right(text: str, language: str) -> str | None:
    """What stands on the right; kept, else every figure in a row of figures would double the steps."""
    return _known(text) or _split(text)


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
    """Labels as they stand within a sentence. Example: "run type", and "accepted by the Engineer"."""
    messages = list(reversed(texts().messages))
    return {message.lower(): message for message in messages} | {lower_first(message): message for message in messages}
