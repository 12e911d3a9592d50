"""A figure as people write it, with or without its unit: 12.5, "12,5", "3/8 in", {"value": "225", "unit": "°F"}.

A figure without a unit is in the SI unit of the field, whatever set of figures a record is made to. A unit that is
written must be that SI unit or its US customary form; it is converted by the exact factor.
"""

import re
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation, Overflow
from fractions import Fraction

from codes.units import CONVERSIONS

SPELLINGS = {
    '"': "in",
    "in.": "in",
    "inch": "in",
    "inches": "in",
    "f": "°f",
    "degf": "°f",
    "deg f": "°f",
    "ipm": "in/min",
    "in./min": "in/min",
    "kj/in.": "kj/in",
    "cfh": "ft³/h",
    "ft3/h": "ft³/h",
    "c": "°c",
    "degc": "°c",
    "deg c": "°c",
    "n/mm2": "mpa",
    "n/mm²": "mpa",
    "deg": "°",
    "degrees": "°",
}
SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u2009\u202f"), " ")
"""Spaces that a word processor or a phone puts between a figure and its unit."""
INCH_SIGNS = dict.fromkeys(map(ord, "\u2033\u201c\u201d"), '"')
"""What a phone makes of the sign of inches."""
VULGAR = {ord(sign): f" {part}" for sign, part in (("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"),
                                                   ("⅝", "5/8"), ("⅞", "7/8"))}  # fmt: skip
"""A phone makes one sign of a fraction: "1½ in" is "1 1/2 in"."""
LONGEST = 1000
"""No figure has so many signs; the steps to part it from its unit grow with their square."""
_MINUS = re.compile(r"^[\u2212\u2013](?=[\d.,])")
_PARTS = re.compile(r"([+-]?[\d.,eE+/-]*\d(?:[ ]+\d+/\d+)?)\s*(\S.*)?")
_TWO_WAYS = re.compile(r"([+-]?[1-9][0-9]{0,2}),([0-9]{3})")
"""A comma before three figures is a decimal comma in one country and parts the thousands in the next."""
_FRACTION = re.compile(r"(?:([0-9]{1,9})(?:-|[ ]+))?([0-9]{1,9})/([0-9]{1,9})")


def amount(plain: object, unit: str) -> Decimal:
    """The figure in the SI unit of its field. Raises ValueError with what is wrong, without the field's name.

    Example: amount("1-1/2 in", "mm") is 38.1; amount("225 F", "°C") is 107.22 with repeating twos. "1,500" is 1.5 for
    one reader and 1500 for the next, so it is refused.
    """
    written = ""
    if isinstance(plain, Mapping):
        if set(plain) - {"value", "unit"} or "value" not in plain:
            raise ValueError('write an amount as {"value": "3/8", "unit": "in"}')
        stated: Mapping[str, object] = plain
        plain, written = stated["value"], str(stated.get("unit") or "")
    if isinstance(plain, bool) or not isinstance(plain, str | int | float | Decimal):
        raise ValueError("must be a number")
    # str() of a float is its shortest exact spelling, so 0.1 stays 0.1.
    text = in_plain_signs(str(plain))
    if len(text) > LONGEST:
        raise ValueError(f'"{text[:60]}" is not a usable number')
    match = _PARTS.fullmatch(text)
    if match and match[2] and not _is_number(text):
        text, written = match[1], _one_unit(match[2], written)
    return _in_si(text, written, unit)


def in_plain_signs(text: str) -> str:
    """A typed figure with the signs of a keyboard. Example: "−1½ in" is "-1 1/2 in"."""
    return _MINUS.sub("-", text.translate(SPACES | INCH_SIGNS).translate(VULGAR).strip())


def _one_unit(written: str, stated: str) -> str:
    if stated and _spelled(stated) != _spelled(written):
        raise ValueError(f'is written in "{written}" and said to be in "{stated}"; state one unit')
    return written


def _in_si(text: str, written: str, unit: str) -> Decimal:
    row, spelled = CONVERSIONS.get(unit), _spelled(written)
    us = row is not None and spelled == row.us.casefold()
    if written[:1].isdigit():
        raise ValueError(f'"{text} {written}" has a gap in its figure; write it in one piece')
    if written and not us and spelled != unit.casefold():
        known = " or ".join(name for name in (unit, row.us if row else "") if name)
        raise ValueError(f'"{written}" is not a unit of this field; ' + (f"use {known}" if known else "leave it out"))
    part = fraction(text)
    if part is not None and unit != "mm":
        raise ValueError(f'"{text}" is a fraction; write it with a decimal point')
    if part is not None and not us:
        raise ValueError(f'"{text}" is a fraction; write its unit, for example "3/8 in"')
    value = _decimal(text, unit) if part is None else part
    try:
        return row.to_si(value) if us and row is not None else value
    except (InvalidOperation, Overflow):
        raise ValueError(f'"{text[:60]}" is not a usable number') from None


def fraction(text: str) -> Decimal | None:
    """A figure written as a fraction, None where it is none. Raises ValueError. Example: fraction("1-1/2") is 1.5."""
    match = _FRACTION.fullmatch(text)
    if match is None:
        return None
    whole, over, under = (int(part or 0) for part in match.groups())
    if not under:
        raise ValueError(f'"{text}" divides by nought')
    value = whole + Fraction(over, under)
    return Decimal(value.numerator) / Decimal(value.denominator)


def _decimal(text: str, unit: str = "") -> Decimal:
    if unit != "%":
        refuse_two_ways(text)
    try:
        # Decimal itself would read other scripts' digits and 1_0 too.
        return Decimal(text.replace(",", ".") if text.isascii() and "_" not in text else "")
    except InvalidOperation:
        if unit == "mm":
            raise ValueError(f'"{text[:60]}" is not a number; write for example 12.5 or "3/8 in"') from None
        if not unit:
            # What has no unit is counted: runs, wires, a level.
            raise ValueError(f'"{text[:60]}" is not a number; write for example 2') from None
        raise ValueError(f'"{text[:60]}" is not a number; write for example 12.5') from None


def refuse_two_ways(text: str) -> None:
    """Raises ValueError for "1,500"; a share in % is never a thousand, so nobody asks it of one."""
    if both := _TWO_WAYS.fullmatch(text):
        raise ValueError(f'"{text}" can be read in two ways; write {both[1]}.{both[2]} or {both[1]}{both[2]}')


def _is_number(text: str) -> bool:
    try:
        _decimal(text)
    except ValueError:
        return False
    return True


def _spelled(unit: str) -> str:
    plain = unit.strip().casefold()
    return SPELLINGS.get(plain, plain)
