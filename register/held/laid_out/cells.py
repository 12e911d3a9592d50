"""Cells in words: lists, terms with both names, lengths with their units, ends of a range."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.utils.translation import gettext_lazy as _

from codes.iso_9606_1_2012.sizes import Bound as PersonBound
from codes.iso_15614_1_2017.rows import Bound
from codes.unit_sets import Twin
from codes.values import Interval, number
from codes.variables import VARIABLES, label_of
from codes.words import listed, lower_first, term_words

DASH = "–"
PAIR = "–"


def few(parts: Iterable[Any]) -> str:
    """A list, a dash where it is empty. Example: ("PA", "PF") gives "PA, PF"."""
    return listed([str(part) for part in parts]) or DASH


def in_order(parts: Iterable[str], order: str) -> str:
    """A set in the order of a code. Example: in_order({"OH", "F"}, "F H V OH") gives "F, OH"."""
    held = set(parts)
    known = [one for one in order.split() if one in held]
    return few([*known, *sorted(held - set(known))])


def variable(name: str) -> str:
    """The label of a variable. Example: "gas_co2" gives "CO2 content"."""
    return lower_first(label_of(name))


def variables(names: Iterable[str]) -> str:
    """The labels of several."""
    return few(variable(name) for name in names if name in VARIABLES)


def term(kind: str, token: str) -> str:
    """A term as people read it. Example: ("weld_detail", "ss_nb") gives "ss nb"."""
    return term_words(kind, token)


def terms(kind: str, tokens: Iterable[str]) -> str:
    """Several terms."""
    return few(term_words(kind, token) for token in tokens)


def pair(sides: tuple[Any, Any]) -> str:
    """Two sides of a joint. Example: (2, 1) gives "2–1"."""
    return PAIR.join(map(str, sides))


def pairs(found: Iterable[tuple[Any, Any]]) -> str:
    """Several pairs."""
    return few(map(pair, found))


def length(size: Any) -> str:
    """A length in both sets of units, a dash for none. Example: twin("0.1875", "5") gives "3/16 in [5 mm]"."""
    if size is None:
        return DASH
    if str(size).startswith("0 in "):
        return "0"
    return f"{inches(size.inches)} in [{number(size.metric)} mm]" if isinstance(size, Twin) else str(size)


def inches(value: Decimal) -> str:
    """Inches as a rule of steel shows them. Example: 2.875 gives "2-7/8"; 0.20 stays 0.20."""
    part = Fraction(value)
    if part.denominator not in (1, 2, 4, 8, 16):
        return str(value)
    whole, rest = divmod(part.numerator, part.denominator)
    tail = str(Fraction(rest, part.denominator)) if rest else ""
    return "-".join(filter(None, (str(whole) if whole or not tail else "", tail)))


def times(factor: Decimal, symbol: str) -> str:
    """A multiple of a tested size. Example: (2, "T") gives "2 T", (1, "T") gives "T"."""
    return symbol if factor == 1 else f"{number(factor)} {symbol}"


def end(bound: Bound | PersonBound | None, symbol: str) -> str:
    """One end of a range in mm. Example: Bound(D("0.5"), least=D(3)) and "t" give "0.5 t, at least 3 mm"."""
    if bound is None:
        return str(_("no limit"))
    floor = bound.least if isinstance(bound, Bound) else bound.fixed
    if not bound.times:
        return f"{number(floor)} mm"
    return times(bound.times, symbol) + (f", at least {number(floor)} mm" if floor else "")


def band(span: Interval, symbol: str) -> str:
    """The tested sizes that a row serves. Example: above 3 to 12 mm of "t" gives "3 < t ≤ 12 mm"."""
    low = f"{number(span.lo)} {'<' if span.lo_open else '≤'} " if span.lo else ""
    if not isinstance(span.hi, Decimal):
        sign = ">" if span.lo_open else "≥"
        return f"{symbol} {sign} {number(span.lo)} mm" if span.lo else f"any {symbol}"
    return f"{low}{symbol} {'<' if span.hi_open else '≤'} {number(span.hi)} mm"


def both_set(low: Any, high: Any, symbol: str, low_in: bool = True, high_in: bool = True) -> str:
    """A band of lengths in both sets of units. Example: "3/8 in [10 mm] < T < 1 in [25 mm]"."""
    if low is None and high is None:
        return f"any {symbol}"
    if low is None:
        return f"{symbol} {'≤' if high_in else '<'} {length(high)}"
    if high is None:
        return f"{symbol} {'≥' if low_in else '>'} {length(low)}"
    if low == high:
        return f"{symbol} = {length(low)}"
    return f"{length(low)} {'≤' if low_in else '<'} {symbol} {'≤' if high_in else '<'} {length(high)}"


def shares(parts: Mapping[str, tuple[int, int]]) -> str:
    """A gas mixture. Example: {"AR": (75, 80), "CO2": (20, 25)} gives "Ar 75–80 %, CO2 20–25 %"."""
    names = {"AR": "Ar", "HE": "He"}
    return ", ".join(
        f"{names.get(gas, gas)} {low if low == high else f'{low}–{high}'} %" for gas, (low, high) in parts.items()
    )
