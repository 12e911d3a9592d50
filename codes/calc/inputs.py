"""Plain inputs (JSON, form fields) to the typed arguments of a calculation. Every message names the input."""

import re
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal, InvalidOperation

from codes.amounts import fraction, in_plain_signs, refuse_two_ways
from codes.calc.calculation import Input, Kind
from codes.calc.conversions import converted, units_like
from codes.calc.exact import kept
from codes.calc.result import Refused
from codes.parse import LIMIT_OF_NUMBER, BadField, Plain
from codes.terms import UnknownTerm, parse_term
from codes.values import Interval, number

_AMOUNT = re.compile(r"((?:\d+[- ]+)?\d+/\d+|[+-]?[\d.,]+(?:[eE][+-]?\d+)?)\s*(\S.*)?")
INCHES = ("in", "inch", '"')
LEAST_NUMBER = Decimal("1e-12")
LONGEST_NUMBER = 60
"""Characters; nothing measured has so many digits."""
Line = tuple[Decimal, tuple[tuple[Decimal, Decimal], ...]]
"""A curve read from a graph: its parameter, and its points (x, y)."""


def arguments(asked: str, inputs: Sequence[Input], data: Mapping[str, Plain]) -> dict[str, object]:
    """The typed values of the stated inputs; what is blank is left out.

    Raises BadField naming the input and the remedy. `asked`: the calculation or look-up whose inputs they are.
    """
    known = {one.name: one for one in inputs}
    for name in data:
        if name not in known:
            raise BadField(name, f"is not an input of {asked}; known: {', '.join(known)}")
    stated = {name: plain for name, plain in data.items() if plain not in (None, "", [])}
    for one in inputs:
        if one.needed == "always" and one.name not in stated:
            raise BadField(one.name, f"must be stated: {one.label}" + (f" [{one.unit}]" if one.unit else ""))
    return {name: _READERS[known[name].kind](known[name], plain) for name, plain in stated.items()}


def decimal_of(field: str, plain: Plain, unit: str = "") -> Decimal:
    """A finite figure, in `unit` where that is named. Raises BadField.

    Example: ("travel_speed", "10 in/min", "mm/min") gives 254.
    """
    written: Plain = unit
    if isinstance(plain, Mapping):
        amount: Mapping[str, Plain] = plain
        if set(amount) - {"value", "unit"} or "value" not in amount:
            raise BadField(field, 'write an amount as {"value": 12.5, "unit": "in/min"}')
        plain, written = amount["value"], amount.get("unit") or unit
    if isinstance(plain, bool) or not isinstance(plain, str | int | float | Decimal):
        raise BadField(field, "must be a number")
    text = in_plain_signs(str(plain))
    match = _AMOUNT.fullmatch(text)
    if isinstance(plain, str) and match and match[2]:
        text, written = match[1], match[2]
    value = _fraction(field, text, str(written)) if "/" in text else _plain_decimal(field, text, unit)
    return value if written == unit else _in_unit(field, value, str(written), unit)


def _fraction(field: str, text: str, unit: str) -> Decimal:
    """A fraction of an inch. Example: "1-1/2" in "in" is 1.5."""
    try:
        value = fraction(text)
    except ValueError as error:
        raise BadField(field, str(error)) from None
    if value is None:
        raise BadField(field, f'"{text}" is not a number; write for example 12.5')
    if unit.strip() not in INCHES:
        raise BadField(field, f'"{text}" is a fraction; write its unit, for example "3/8 in"')
    return value


def _plain_decimal(field: str, text: str, unit: str) -> Decimal:
    try:
        # Of an element the unit is not said: mass %.
        if unit not in ("", "%"):
            refuse_two_ways(text)
        value = Decimal(text.replace(",", "."))
    except InvalidOperation:
        raise BadField(field, f'"{text}" is not a number; write for example 12.5') from None
    except ValueError as error:
        raise BadField(field, str(error)) from None
    usable = value.is_finite() and abs(value) < LIMIT_OF_NUMBER and (value == 0 or abs(value) > LEAST_NUMBER)
    if not usable or len(text) > LONGEST_NUMBER:
        raise BadField(field, f'"{text[:LONGEST_NUMBER]}" is not a usable number')
    return value


def _in_unit(field: str, value: Decimal, written: str, unit: str) -> Decimal:
    if not unit:
        raise BadField(field, f'is a figure without a unit; leave "{written}" out')
    try:
        return kept(converted(value, written, unit))
    except Refused:
        units = units_like(unit)
        ways = f"{', '.join(units[:-1])} or {units[-1]}" if len(units) > 1 else units[0]
        raise BadField(field, f'"{written}" is no unit of this figure; write {ways}, or leave it out') from None


def _number(one: Input, plain: Plain) -> Decimal:
    return decimal_of(one.name, plain, one.unit)


def _sequence(one: Input, plain: Plain) -> list[Plain]:
    if not isinstance(plain, list | tuple):
        raise BadField(one.name, "must be a list")
    return list(plain)


def _numbers(one: Input, plain: Plain) -> tuple[Decimal, ...]:
    return tuple(decimal_of(f"{one.name}[{i}]", part, one.unit) for i, part in enumerate(_sequence(one, plain)))


def _range(one: Input, plain: Plain) -> Interval:
    """A range {"min": .., "max": ..}, a list of two, or one figure for both ends."""
    if isinstance(plain, Mapping) and "value" not in plain:
        if set(plain) - {"min", "max"} or len(plain) != 2:
            raise BadField(one.name, "a range has min and max")
        ends = [plain["min"], plain["max"]]
    elif isinstance(plain, list | tuple):
        ends = list(plain)
    else:
        ends = [plain, plain]
    if len(ends) != 2:
        raise BadField(one.name, "a range has two ends")
    lo, hi = (decimal_of(f"{one.name}[{i}]", end, one.unit) for i, end in enumerate(ends))
    if lo > hi:
        raise BadField(one.name, f"{number(lo)} lies above {number(hi)}: write the least first")
    return Interval(lo, hi, one.unit)


def _term(one: Input, plain: Plain) -> str:
    if isinstance(plain, bool | list | Mapping):
        raise BadField(one.name, "must be a word")
    word = str(plain).strip()
    if one.vocabulary:
        try:
            return parse_term(one.vocabulary, word)
        except UnknownTerm as error:
            raise BadField(one.name, str(error)) from None
    known = {_bare(token): token for token in one.options}
    if _bare(word) not in known:
        raise BadField(one.name, f'"{word}" is not known; use one of: {", ".join(one.options)}')
    return known[_bare(word)]


def _bare(word: str) -> str:
    return re.sub(r"[\s_-]", "", word.casefold())


def _terms(one: Input, plain: Plain) -> tuple[str, ...]:
    parts = re.split(r"[,\s]+", plain.strip()) if isinstance(plain, str) else _sequence(one, plain)
    return tuple(str(part).strip() for part in parts)


def _yes_no(one: Input, plain: Plain) -> bool:
    word = {"true": "yes", "false": "no"}.get(str(plain).casefold(), str(plain).casefold())
    if word not in ("yes", "no"):
        raise BadField(one.name, "must be yes or no")
    return word == "yes"


def _text(one: Input, plain: Plain) -> str:
    if isinstance(plain, bool | list | Mapping):
        raise BadField(one.name, "must be text")
    return str(plain).strip()


def _analysis(one: Input, plain: Plain) -> dict[str, Decimal]:
    """Element -> mass %. An element with a blank is not stated."""
    if not isinstance(plain, Mapping):
        raise BadField(one.name, 'must be an object such as {"C": 0.16, "Mn": 1.4}')
    stated = {str(element).strip().capitalize(): part for element, part in plain.items() if part not in (None, "")}
    return {element: decimal_of(f"{one.name}.{element}", part, "%") for element, part in stated.items()}


def _vector(one: Input, plain: Plain) -> tuple[Decimal, ...]:
    parts = _numbers(one, plain)
    if len(parts) != 3:
        raise BadField(one.name, "must be a list of three figures: x, y, z with z upwards")
    return parts


def _pairs(one: Input, plain: Plain) -> tuple[tuple[Decimal, Decimal], ...]:
    pairs = []
    for i, pair in enumerate(_sequence(one, plain)):
        if not isinstance(pair, list | tuple) or len(pair) != 2:
            raise BadField(f"{one.name}[{i}]", "must be two figures, such as 30 and 25")
        first, second = (decimal_of(f"{one.name}[{i}]", part, one.unit) for part in pair)
        pairs.append((first, second))
    return tuple(pairs)


def _lines(one: Input, plain: Plain) -> tuple[Line, ...]:
    lines = []
    for i, line in enumerate(_sequence(one, plain)):
        where = f"{one.name}[{i}]"
        if not isinstance(line, Mapping) or set(line) != {"preheat", "points"}:
            raise BadField(where, 'must be {"preheat": 100, "points": [[combined thickness, heat input], ...]}')
        points = _pairs(Input(f"{where}.points", ""), line["points"])
        lines.append((decimal_of(f"{where}.preheat", line["preheat"], "°C"), points))
    return tuple(lines)


_READERS: dict[Kind, Callable[[Input, Plain], object]] = {
    Kind.NUMBER: _number,
    Kind.NUMBERS: _numbers,
    Kind.RANGE: _range,
    Kind.TERM: _term,
    Kind.TERMS: _terms,
    Kind.YES_NO: _yes_no,
    Kind.TEXT: _text,
    Kind.ANALYSIS: _analysis,
    Kind.VECTOR: _vector,
    Kind.PAIRS: _pairs,
    Kind.LINES: _lines,
}
