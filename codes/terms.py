"""The vocabulary: one canonical token for each term, with its ISO and AWS names and the spellings people write."""

from collections.abc import Iterable
from dataclasses import dataclass

from codes.vocabulary import ALIASES, TERMS


@dataclass(frozen=True, slots=True)
class Term:
    """One term of a vocabulary: token, ISO name, AWS name and what it is in words."""

    token: str
    iso: str
    aws: str
    words: str

    @property
    def both(self) -> str:
        """ISO and AWS name together, once where they say the same.

        Example: process "135" gives "135 · GMAW", mechanisation "manual" gives "manual" and not "manual welding" too.
        """
        iso, aws = said_words(self.iso), said_words(self.aws)
        # A symbol such as "P" is no word of "GMAW-P": those two tell different things.
        if self.iso == self.aws or (iso and aws and self.aws.islower() and (iso <= aws or aws <= iso)):
            return self.iso or self.words
        return " · ".join(name for name in (self.iso, self.aws) if name) or self.words

    @property
    def named(self) -> str:
        """The names as a list to choose from shows them: the longer alone where it says all that the other does.

        Example: "fillet weld" and "fillet" give "fillet weld"; process "135" gives "135 · GMAW".
        """
        iso, aws = said_words(self.iso), said_words(self.aws)
        if iso and aws and (iso <= aws or aws <= iso):
            return max(self.iso, self.aws, key=len)
        return self.both


def said_words(text: str) -> frozenset[str]:
    """The words of a text, whatever their order, case and hyphens."""
    return frozenset(text.casefold().replace("-", " ").replace(",", " ").split())


class UnknownTerm(ValueError):
    """A word that the vocabulary does not hold; the message names the vocabulary and the words it knows."""

    def __init__(self, vocabulary: str, word: str) -> None:
        self.vocabulary, self.word = vocabulary, word
        super().__init__(self._said("; ".join(ways_to_write(vocabulary, token) for token in tokens(vocabulary))))

    @property
    def in_words(self) -> str:
        """The message without short forms of the register, for people who fill in a list."""
        return self._said("; ".join(way_in_words(self.vocabulary, token) for token in tokens(self.vocabulary)))

    def _said(self, known: str) -> str:
        named = self.vocabulary.replace("_", " ").replace("aws ", "AWS ")
        return f'"{self.word[:60]}" is not a known {named}; use one of: {known}'


def ways_to_write(vocabulary: str, token: str) -> str:
    """A term as a message offers it: a short form with the words for it, which may be written as well.

    Example: ("weld_type", "fillet") gives "fillet", ("weld_type", "butt_cjp") "butt_cjp or full-penetration butt weld".
    """
    plain = way_in_words(vocabulary, token)
    return f"{token} or {plain}" if plain != token else token


def way_in_words(vocabulary: str, token: str) -> str:
    """The words that may be written for a short form of the register; every other term as it is.

    Example: ("weld_type", "butt_cjp") gives "full-penetration butt weld", ("process", "135") gives "135".
    """
    iso, aws, words = TERMS[vocabulary][token]
    plain = next((name for name in (words, iso, aws) if name and _index(vocabulary).get(_plain(name)) == token), "")
    is_short_form = token.islower() and ("_" in token or len(token) < 4)
    return plain if is_short_form and plain and _plain(plain) != _plain(token) else token


def tokens(vocabulary: str) -> tuple[str, ...]:
    """All tokens of a vocabulary in the order of display. Raises KeyError for an unknown vocabulary."""
    return tuple(TERMS[vocabulary])


def term(vocabulary: str, token: str) -> Term:
    """The term of a token. Raises UnknownTerm."""
    try:
        iso, aws, words = TERMS[vocabulary][token]
    except KeyError:
        raise UnknownTerm(vocabulary, token) from None
    return Term(token, iso, aws, words)


def parse_term(vocabulary: str, word: object) -> str:
    """The token for a word as people write it: token, ISO or AWS name, alias; case and blanks do not matter.

    Raises UnknownTerm. Example: parse_term("position", "pb") and parse_term("run_type", "ml") give "PB", "multi_run".
    """
    plain = _plain(str(word))
    found = _index(vocabulary).get(plain)
    if found is None:
        raise UnknownTerm(vocabulary, str(word))
    return found


def both_names(vocabulary: str, token: str) -> str:
    """ISO and AWS name together, or the token itself where the vocabulary does not hold it."""
    names = TERMS.get(vocabulary, {}).get(token)
    return Term(token, *names).both if names else token


_INDEXES: dict[str, dict[str, str]] = {}


def _index(vocabulary: str) -> dict[str, str]:
    if vocabulary not in _INDEXES:
        _INDEXES[vocabulary] = dict(_spellings(vocabulary))
    return _INDEXES[vocabulary]


def _spellings(vocabulary: str) -> Iterable[tuple[str, str]]:
    # Later pairs win: an alias never hides a token.
    for alias, token in ALIASES.get(vocabulary, {}).items():
        yield _plain(alias), token
    for token, (iso, aws, words) in TERMS[vocabulary].items():
        # AWS names such as GMAW serve several ISO processes, so only a name of its own is a spelling.
        for name in (aws, words):
            if name and sum(name in names for names in TERMS[vocabulary].values()) == 1:
                yield _plain(name), token
        if iso:
            yield _plain(iso), token
    for token in TERMS[vocabulary]:
        yield _plain(token), token


def _plain(word: str) -> str:
    # A sign at the end carries meaning: "DC-" is not "DC".
    sign = "-" if word.rstrip().endswith("-") else ""
    return "".join(ch for ch in word.casefold() if ch not in " _-./") + sign
