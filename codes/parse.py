"""Plain data (JSON, form fields, table cells) to values, and back. Every message names the field and the remedy."""

import re
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from difflib import get_close_matches

from codes.amounts import amount
from codes.terms import UnknownTerm, parse_term
from codes.values import Atom, Interval, Steel, SteelPair, Value, atoms, number
from codes.variables import VARIABLES, Kind, Variable

Plain = object
"""What JSON can hold."""

LIMIT_OF_NUMBER = Decimal(10) ** 6
LIMIT_OF_DIGITS = 40
"""More than any measurement has, and more than the conversion of a US figure leaves."""
EARLIEST, LATEST = date(1900, 1, 1), date(2199, 12, 31)
"""Outside these years a date is a slip of the keyboard."""
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class BadField(ValueError):
    """A field that cannot be read: `field` is its name, `problem` says what is wrong and what would be right."""

    def __init__(self, field: str, problem: str) -> None:
        super().__init__(f"{field}: {problem}")
        self.field = field
        self.problem = problem


def parse_values(data: Mapping[str, Plain], names: Sequence[str] | None = None) -> dict[str, Value]:
    """All stated variables of a mapping; blank ones are left out. Raises BadField for an unknown name or a bad value.

    `names`: the variables that are known here (all, where None).
    """
    values: dict[str, Value] = {}
    for name, plain in data.items():
        if name not in VARIABLES or (names is not None and name not in names):
            known = list(names if names is not None else VARIABLES)
            near = get_close_matches(name.casefold(), known, n=3)
            nearest = f"nearest: {', '.join(near)}; " if near else ""
            raise BadField(name, f"is not a known variable here; {nearest}known: {', '.join(known)}")
        value = parse_value(VARIABLES[name], plain)
        if value is not None:
            values[name] = value
    return values


def parse_value(variable: Variable, plain: Plain) -> Value | None:
    """One value, a list of values, or None where blank. Raises BadField.

    A range is written {"min": 3, "max": 16}, or {"min": "1/8", "max": "3/4", "unit": "in"}.
    """
    if plain is None or plain == "" or plain == []:
        return None
    if variable.kind is Kind.STEELS:
        return _steels(variable, plain)
    if isinstance(plain, list | tuple):
        found = tuple(_atom(variable, one) for one in plain)
        return found[0] if len(found) == 1 else found
    return _atom(variable, plain)


def _atom(variable: Variable, plain: Plain) -> Atom:
    if variable.kind is Kind.TERM:
        return _term(variable, plain)
    if variable.kind is Kind.NUMBER:
        is_range = isinstance(plain, Mapping) and "value" not in plain
        return _range(variable, plain) if is_range else parse_number(variable.name, plain)
    if variable.kind is Kind.DATE:
        return parse_date(variable.name, plain).isoformat()
    if not isinstance(plain, str | int | Decimal):
        raise BadField(variable.name, "must be text")
    return str(plain).strip()


def _term(variable: Variable, plain: Plain) -> str:
    if isinstance(plain, bool) and variable.vocabulary == "yes_no":
        return "yes" if plain else "no"
    if isinstance(plain, bool) or not isinstance(plain, str | int | Decimal):
        raise BadField(variable.name, "must be a word")
    try:
        return parse_term(variable.vocabulary, str(plain))
    except UnknownTerm as error:
        raise BadField(variable.name, str(error)) from None


def parse_number(field: str, plain: Plain) -> Decimal:
    """A finite decimal below a million in the SI unit of the field; decimal comma, US units and fractions of an inch
    accepted. Raises BadField. Example: "3,6" gives 3.6; for a thickness "3/8 in" gives 9.525.
    """
    unit = VARIABLES.get(field, _NO_UNIT).unit
    try:
        value = amount(plain, unit)
    except ValueError as error:
        raise BadField(field, str(error)) from None
    if not value.is_finite():
        raise BadField(field, f'"{_shown(plain)}" is not a usable number')
    if abs(value) >= LIMIT_OF_NUMBER:
        raise BadField(field, f'"{_shown(plain)}" is too large; figures below a million are read')
    figures = value.as_tuple()
    if len(figures.digits) > LIMIT_OF_DIGITS or int(figures.exponent) < -LIMIT_OF_DIGITS:
        raise BadField(field, f'"{_shown(plain)}" has more figures than can be measured; round it')
    # Only temperatures are measured on a scale with figures below nought.
    if value < 0 and unit != "°C":
        raise BadField(field, f"{number(value)} is negative; it must be 0 or more")
    return value


def _shown(plain: Plain) -> str:
    """What was written, cut short for a message."""
    text = str(plain)
    return text if len(text) <= 60 else f"{text[:60]}…"


_NO_UNIT = Variable("", "", Kind.NUMBER)


def _range(variable: Variable, plain: Plain) -> Interval:
    assert isinstance(plain, Mapping)
    extra = set(plain) - {"min", "max", "unit", "min_exclusive", "max_exclusive", "max_unlimited"}
    if extra:
        raise BadField(variable.name, f"a range has min and max, not {', '.join(sorted(extra))}")
    ends = [plain.get("min"), plain.get("max")]
    lo, hi = (_end(variable, end, plain.get("unit")) for end in ends)
    try:
        return Interval(lo, hi, variable.unit, plain.get("min_exclusive") is True, plain.get("max_exclusive") is True)
    except ValueError:
        raise BadField(variable.name, f"min {ends[0]} lies above max {ends[1]}") from None


def _end(variable: Variable, end: Plain, unit: Plain) -> Decimal | None:
    if end is None or end == "":
        return None
    return parse_number(variable.name, {"value": end, "unit": unit} if unit else end)


def _steels(variable: Variable, plain: Plain) -> Value:
    """A pair, or a list of pairs. One steel stands for both sides."""
    if isinstance(plain, Mapping | str):
        steel = _steel(variable, plain)
        return SteelPair(steel, steel)
    if not isinstance(plain, list | tuple):
        raise BadField(variable.name, 'must be one or two steels such as {"group": "1.2", "yield_mpa": 355}')
    if plain and all(isinstance(pair, list | tuple) for pair in plain):
        pairs = tuple(_pair(variable, pair) for pair in plain)
        return pairs[0] if len(pairs) == 1 else pairs
    return _pair(variable, plain)


def _pair(variable: Variable, plain: Plain) -> SteelPair:
    steels = [_steel(variable, one) for one in plain] if isinstance(plain, list | tuple) else []
    if len(steels) not in (1, 2):
        raise BadField(variable.name, "a joint has one or two parent materials")
    return SteelPair(steels[0], steels[-1])


def _steel(variable: Variable, plain: Plain) -> Steel:
    if isinstance(plain, str):
        return Steel(grade=plain.strip())
    if not isinstance(plain, Mapping) or set(plain) - {"group", "yield_mpa", "grade"}:
        raise BadField(variable.name, "a steel states group, yield_mpa and grade, nothing else")
    strength = plain.get("yield_mpa")
    return Steel(
        group=str(plain.get("group") or "").strip(),
        yield_mpa=None if strength in (None, "") else _yield(strength),
        grade=str(plain.get("grade") or "").strip(),
    )


def _yield(plain: Plain) -> Decimal:
    try:
        strength = amount(plain, "MPa")
    except ValueError as error:
        raise BadField("yield_mpa", str(error)) from None
    return parse_number("yield_mpa", strength)


def parse_date(field: str, plain: Plain) -> date:
    """A calendar date written YYYY-MM-DD, from 1900 to 2199. Raises BadField."""
    found = plain if isinstance(plain, date) else _calendar_day(str(plain))
    if found is None:
        raise BadField(field, f'"{_shown(plain)}" is not a date; write it as 2026-03-31')
    if not EARLIEST <= found <= LATEST:
        raise BadField(field, f"the year {found.year} is a slip of the keyboard; dates from 1900 to 2199 are read")
    return found


def _calendar_day(text: str) -> date | None:
    try:
        return date.fromisoformat(text) if _DATE.fullmatch(text) else None
    except ValueError:
        return None


def to_plain(value: Value) -> Plain:
    """The JSON form of a value; numbers as text so that no figure is rounded. parse_value reads it back."""
    if isinstance(value, tuple):
        return [_atom_to_plain(atom) for atom in atoms(value)]
    return _atom_to_plain(value)


def _atom_to_plain(atom: Atom) -> Plain:
    if isinstance(atom, Decimal):
        return number(atom)
    if isinstance(atom, Interval):
        ends: dict[str, Plain] = {
            "min": None if atom.lo is None else number(atom.lo),
            "max": None if atom.hi is None else number(atom.hi),
        }
        return (
            ends | ({"min_exclusive": True} if atom.lo_open else {}) | ({"max_exclusive": True} if atom.hi_open else {})
        )
    if isinstance(atom, SteelPair):
        return [_steel_to_plain(steel) for steel in atom]
    return atom


def _steel_to_plain(steel: Steel) -> dict[str, Plain]:
    strength = None if steel.yield_mpa is None else number(steel.yield_mpa)
    return {"group": steel.group, "yield_mpa": strength, "grade": steel.grade}
