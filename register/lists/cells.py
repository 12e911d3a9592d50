"""One cell to a value. A bad one says what is wrong and what would be right."""

import re
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches

from django.utils.translation import gettext

from codes.parse import BadField, parse_number
from codes.terms import UnknownTerm, parse_term, tokens, way_in_words
from register.lists.table import Cell

RUNS_AS_FORMULA = ("=", "@")
LOOKS_LIKE_FORMULA = ("+", "-")
THOUSANDS_COMMA = re.compile(r"\d{1,3}(,\d{3})+")
THOUSANDS_DOT = re.compile(r"\d{1,3}(\.\d{3})+")
BELOW_NOUGHT = re.compile(r"[-−]\d+([.,]\d+)?")


class BadCell(ValueError):
    """A cell that cannot be taken; the message says what is wrong and what would be right."""


def formula_in(cell: Cell) -> str:
    """Why a text cannot be taken because a spreadsheet would run it, or ""."""
    if isinstance(cell, str) and cell.startswith(RUNS_AS_FORMULA):
        return f"“{cell[:30]}” is a formula; put its result in its place (copy, paste values)"
    return ""


def looks_like_formula(cell: Cell) -> bool:
    """True for a text that is taken as text although a spreadsheet might run it."""
    return isinstance(cell, str) and len(cell) > 1 and cell.startswith(LOOKS_LIKE_FORMULA)


def short_text(cell: Cell, at_most: int) -> str:
    """A text, or a whole number as people number things. Raises BadCell where it is too long."""
    said = written(cell)
    if len(said) > at_most:
        raise BadCell(
            gettext("“%(said)s…” is %(said2)s characters long; at most %(at_most)s fit")
            % {"said": said[:20], "said2": len(said), "at_most": at_most}
        )
    return said


def term(vocabulary: str, cell: Cell) -> str:
    """The token of a word. Raises BadCell naming the nearest words."""
    said = written(cell)
    try:
        return parse_term(vocabulary, said)
    except UnknownTerm as unknown:
        written_small = {t.casefold(): t for t in tokens(vocabulary)}
        near = get_close_matches(said.casefold(), written_small, n=3, cutoff=0.6)
        hint = f" (nearest: {'; '.join(way_in_words(vocabulary, written_small[t]) for t in near)})" if near else ""
        raise BadCell(f"{unknown.in_words}{hint}") from None


def _no_size(said: str) -> str:
    return gettext("%(said)s is no size; leave the cell empty where it is not stated") % {"said": said[:20]}


def size(cell: Cell, comma_decimal: bool) -> str:
    """A size above 0 as text, at most three decimals. Raises BadCell for figures that could be read two ways."""
    if isinstance(cell, str):
        cell = re.sub(r"\s*(mm|°|deg)$", "", cell.strip(), flags=re.IGNORECASE)
        if THOUSANDS_COMMA.fullmatch(cell) or (comma_decimal and THOUSANDS_DOT.fullmatch(cell)):
            bare = re.sub(r"[.,]", "", cell)
            decimals = f"{cell}0" if len(re.findall(r"[.,]", cell)) == 1 else ""
            raise BadCell(
                gettext("“%(cell)s” can be read two ways; write %(bare)s or %(decimals)s")
                % {"cell": cell, "bare": bare, "decimals": decimals}
                if decimals
                else gettext("“%(cell)s” can be read two ways; write %(bare)s") % {"cell": cell, "bare": bare}
            )
    try:
        value = parse_number("size", cell)
    except BadField as bad:
        raise BadCell(_no_size(str(cell)) if BELOW_NOUGHT.fullmatch(str(cell)) else bad.problem) from None
    if value == 0:
        raise BadCell(_no_size(figure(value)))
    if value != value.quantize(Decimal("0.001")):
        raise BadCell(gettext("%(value)s has more than three decimals; round it to 0.001") % {"value": value})
    if value >= 10**6:
        raise BadCell(gettext("%(value)s is too large; sizes are in mm") % {"value": value})
    return figure(value)


def day(cell: Cell) -> str:
    """A date as YYYY-MM-DD; 31.03.2026 is read too. Raises BadCell."""
    said = str(cell).strip()
    for form in ("%Y-%m-%d", "%d.%m.%Y"):
        try:
            found = datetime.strptime(said, form).date()  # noqa: DTZ007 - a calendar day has no zone
        except ValueError:
            continue
        if date(1950, 1, 1) <= found <= date(2149, 12, 31):
            return found.isoformat()
        break
    raise BadCell(gettext("“%(said)s” is no date between 1950 and 2149; write it as 2026-03-31") % {"said": said[:20]})


def figure(value: Decimal) -> str:
    """A number as people write it. Example: 12.50 gives "12.5", 1E+2 gives "100"."""
    said = format(value, "f")
    return said.rstrip("0").rstrip(".") if "." in said else said


def written(cell: Cell) -> str:
    """A cell as text."""
    return figure(cell) if isinstance(cell, Decimal) else cell
