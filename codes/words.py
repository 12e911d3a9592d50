"""Values and allowed sets in the words of the trade: tokens never reach a reader."""

from collections.abc import Sequence

from codes.terms import both_names
from codes.values import Atom, Value, atoms, text
from codes.variables import VARIABLES, Kind
from codes.vocabulary import TERMS, TOGETHER

# Always shown with ISO and AWS name together.
WITH_BOTH_NAMES = frozenset({"process", "position"})
# Shown by the name that a test of AWS bears: "1F, 2F" is read at once, "fillet, flat, fillet, horizontal" by nobody.
BY_AWS_NAME = frozenset({"aws_position"})
# Shown by the words for the thing, since a bare symbol says too little.
SYMBOLS = ("He ", "Ar ", "H2 ", "N2 ", "O2 ")
"""Chemical symbols keep their capital."""
TOLD = frozenset({"weld_detail"})
"""Shown by the symbol of the standards and what it means. Example: "ss mb (with backing)"."""
IN_WORDS = frozenset({"transfer_mode", "run_type", "gouging", "product", "wire_system", "torch_direction"})


def term_words(variable: str, token: str) -> str:
    """One term as a reader sees it. Example: ("position", "PB") gives "PB · 2F"; an unknown token stays as it is."""
    known = VARIABLES.get(variable)
    names = TERMS.get(known.vocabulary, {}).get(token) if known and known.kind is Kind.TERM else None
    if known is None or names is None:
        return token
    if known.vocabulary in WITH_BOTH_NAMES:
        return both_names(known.vocabulary, token)
    iso, aws, words = names
    if known.vocabulary in BY_AWS_NAME:
        return aws
    if known.vocabulary in TOLD:
        return f"{iso} ({aws})"
    return (words if known.vocabulary in IN_WORDS else iso) or words or token


def value_words(variable: str, value: Value) -> str:
    """A value as a reader sees it, unit included."""
    known = VARIABLES.get(variable)
    return " + ".join(_atom_words(variable, atom, known.unit if known else "") for atom in atoms(value))


def _atom_words(variable: str, atom: Atom, unit: str) -> str:
    return term_words(variable, atom) if isinstance(atom, str) else text(atom, unit)


def terms_words(variable: str, tokens: tuple[str, ...]) -> str:
    """Several terms as a reader sees them; where one has a comma of its own they are told apart by "or".

    Example: ("run_type", ()) gives "none"; the two butt welds are "butt weld, full or partial penetration".
    """
    said = _each(variable, tokens)
    return (" or " if any("," in one for one in said) else ", ").join(said) or "none"


def _each(variable: str, tokens: tuple[str, ...]) -> list[str]:
    """The words of each term; those that are said in one stand where the first of them does."""
    known = VARIABLES.get(variable)
    several, in_one = TOGETHER.get(known.vocabulary if known else "", ((), ""))
    if not several or not set(several) <= set(tokens):
        return [term_words(variable, token) for token in tokens]
    left = dict.fromkeys(several[0] if token in several else token for token in tokens)
    return [in_one if token == several[0] else term_words(variable, token) for token in left]


def listed(said: Sequence[str]) -> str:
    """Several words of a reader in a row, parted by semicolons where one has a comma of its own."""
    return ("; " if any("," in one for one in said) else ", ").join(said)


def lower_first(text: str) -> str:
    """For use inside a sentence; an abbreviation keeps its capitals.

    Example: "Assembly B101" gives "assembly B101", "AWS position", "He content" and "F-number" stay.
    """
    keeps = text[1:2].isupper() or text[1:2].isdigit() or text[1:2] == "-" or text.startswith(SYMBOLS)
    return text if keeps else text[:1].lower() + text[1:]
