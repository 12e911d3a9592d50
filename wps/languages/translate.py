"""HTML of a sheet with its words in another language.

Translated are pieces of text as a whole, by a catalogue of phrases and of sentences with places for figures; what the
catalogue does not know stays as it is. So nothing of a figure is changed but its decimal sign (ISO 80000-1, 7.3.2), and
nothing of what somebody wrote.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import escape, unescape

FIGURE = r"[-−±≥≤]?\d[\d.,–/ ]*"
RUN_NAME = "root|hot pass|fill|cap|fill and cap|tack|first side|second side|back"
UNIT = r"(?:mm|in|°C|°F|kJ/mm|kJ/in|MPa|ksi|°)"
PLACES = {"n": FIGURE, "unit": UNIT, "group": r"\d[\d.]*", "day": r"\d{4}-\d\d-\d\d", "x": r".+?"} | {
    "name": r"[A-Z][A-Z0-9-]*", "proc": r"\d{2,3} · [A-Z0-9-]+(?: [a-z-]+)*", "aws": r"[1-6][FG]R?",
    "xrun": RUN_NAME,
}  # fmt: skip
"""Places of a sentence by the letters they begin with: {n1} a figure, {unit} its unit, {group} the number of a group of
steels, which has a point in every language, {day}, {name}, {x} words, {proc} both names of a process, {aws} a position
of AWS, {xrun} the name of a run; those with an x are translated."""
_PLACE = re.compile(r"\{([a-z]+)(\d*)\}")
_TAG = re.compile(r"(<[^>]*>)")
_SAID = re.compile(r'\b(aria-label|alt)="([^"]*)"')
_SILENT = re.compile(r"<(style|script)\b", re.IGNORECASE)
SEPARATORS = (", ", " · ")
"""The looser first: "ss nb · open root, bs · both sides" are two."""
_IN_BRACKETS = re.compile(r"\([^()]*\)")
_DECIMAL = re.compile(r"(?<![\d.])(\d+)\.(?=\d+(?![\d.]))")
_WITH_UNIT = re.compile(rf"(?:[a-z]\d? )?{FIGURE}{UNIT}(?: \[{FIGURE}{UNIT}\])?")
"""A figure with its unit, which alone is one for sure: "7.5" may be a clause."""
_ALONE = re.compile(rf"{FIGURE}|{_WITH_UNIT.pattern}")
"""What a cell of a table or a word of a drawing holds, where a clause never stands alone."""


@dataclass(frozen=True)
class Catalogue:
    """Phrases of one language, and sentences with places, both by their English; `colon` is what stands before one.

    `parted`: long words with a soft hyphen, where they head a narrow column. `point`: the decimal sign.
    """

    code: str
    phrases: Mapping[str, str]
    sentences: Mapping[str, str]
    colon: str = ""
    parted: tuple[str, ...] = ()
    point: str = ","

    @cached_property
    def patterns(self) -> tuple[tuple[re.Pattern[str], str], ...]:
        """The sentences as patterns, the longest first, so that the most telling one is taken."""
        ordered = sorted(self.sentences.items(), key=lambda item: -len(item[0]))
        return tuple((_pattern(english), other) for english, other in ordered)

    def of(self, text: str) -> str:
        """A piece of text in this language; the text itself, with the blanks it had, where it is the same."""
        plain = " ".join(text.split())
        found = self._known(plain)
        return text if found in (None, plain) else found

    def heading(self, text: str) -> str:
        """As `of`; a long word may break."""
        said = self.of(text)
        for word in self.parted:
            said = said.replace(word.replace("\u00ad", ""), word)
        return said

    def alone(self, text: str) -> str:
        """A text that is all that its element holds: as `heading`, or a figure."""
        return self.figure(text) if _ALONE.fullmatch(text) else text

    def figure(self, text: str) -> str:
        """A figure as this language writes it. Example: "0.5, 1.2" is "0,5; 1,2"."""
        said = _DECIMAL.sub(rf"\1{self.point}", text)
        return said if said == text else said.replace(", ", "; ")

    def _known(self, text: str) -> str | None:
        if text in self.phrases:
            return self.phrases[text]
        if "; " in text and (found := self._list(text, "; ")):
            return found
        for pattern, other in self.patterns:
            if match := pattern.fullmatch(text):
                places = match.groupdict()
                return other.format(**{key: self._place(key, said) for key, said in places.items()})
        for end, other in ((":", f"{self.colon}:"), (".", ".")):
            if text.endswith(end) and (found := self._known(text.removesuffix(end))):
                return found + other
        return self._sentence_by_sentence(text) or self._parts(text)

    def _place(self, key: str, said: str) -> str:
        if key.startswith("x"):
            return self.of(said)
        return self.figure(said) if key.rstrip("0123456789") == "n" else said

    def _sentence_by_sentence(self, text: str) -> str | None:
        parts = re.split(r"(?<=\.) ", text)
        found = [self._known(part) for part in parts] if len(parts) > 1 else [None]
        return None if None in found else " ".join(part or "" for part in found)

    def _parts(self, text: str) -> str | None:
        """A list of phrases; with commas only where each part is known, since a comma also stands within a sentence."""
        return next((found for one in SEPARATORS if one in text and (found := self._list(text, one))), None)

    def _list(self, text: str, separator: str) -> str | None:
        parts = _split(text, separator)
        if len(parts) < 2:
            return None
        found = [self._known(part) or (self._same(part) if is_figure(part) else None) for part in parts]
        if separator == ", " and None in found:
            return None
        return separator.join(other or part for other, part in zip(found, parts, strict=True)) if any(found) else None

    def _same(self, text: str) -> str:
        """A part of a list that has the same words in every language."""
        return self.figure(text) if _WITH_UNIT.fullmatch(text) else text


def _split(text: str, separator: str) -> list[str]:
    """The parts of a text, not parted within brackets."""
    masked = _IN_BRACKETS.sub(lambda found: "(" + "x" * (len(found[0]) - 2) + ")", text)
    parts, at = [], 0
    for one in masked.split(separator):
        parts.append(text[at : at + len(one)])
        at += len(one) + len(separator)
    return parts


def is_figure(text: str) -> bool:
    """True for what is the same in every language: figures with their units, and names such as "PA" or "M21"."""
    return not re.search(r"[a-z]{3}", re.sub(r"\b(mm|min|kJ|MPa|ksi)\b", "", text))


def translated(html: str, catalogue: Catalogue) -> str:
    """The HTML with each text, label and alternative text in the language."""
    parts: list[str] = []
    silent = heads = False
    for part in _TAG.split(html):
        if part.startswith("<"):
            heads = part == "<thead>" or (heads and part != "</thead>")
            silent = bool(_SILENT.match(part)) or (silent and not part.startswith("</s"))
            parts.append(_SAID.sub(lambda found: f'{found[1]}="{_put(found[2], catalogue)}"', part))
        else:
            parts.append(part if silent or not part.strip() else _around(part, catalogue, heads))
    return "".join(parts).replace('<html lang="en">', f'<html lang="{catalogue.code}">', 1)


def _around(text: str, catalogue: Catalogue, is_head: bool) -> str:
    """A text with the white space that it had."""
    begin = text[: len(text) - len(text.lstrip())]
    end = text[len(text.rstrip()) :]
    return begin + _put(text.strip(), catalogue, is_head) + end


def _put(text: str, catalogue: Catalogue, is_head: bool = False) -> str:
    plain = unescape(text)
    said = catalogue.heading(plain) if is_head else catalogue.of(plain)
    return escape(catalogue.alone(said) if said == plain else said, quote=True)


def _pattern(english: str) -> re.Pattern[str]:
    """A sentence as a pattern. Example: "max {n} {unit}"."""
    parts: list[str] = []
    at = 0
    for place in _PLACE.finditer(english):
        parts += [re.escape(english[at : place.start()]), f"(?P<{place[1]}{place[2]}>{PLACES[place[1]]})"]
        at = place.end()
    return re.compile("".join([*parts, re.escape(english[at:])]))


def phrases(*tables: Iterable[tuple[str, str]] | Mapping[str, str]) -> dict[str, str]:
    """Several tables as one. Raises ValueError where two differ about a phrase."""
    found: dict[str, str] = {}
    for table in tables:
        for english, other in table.items() if isinstance(table, Mapping) else table:
            if found.setdefault(english, other) != other:
                raise ValueError(f'"{english}" has two translations: "{found[english]}" and "{other}"')
    return found
