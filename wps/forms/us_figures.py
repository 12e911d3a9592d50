"""Figures typed in US customary units (`codes.amounts` reads them), kept as SI in as many places as needed."""

from decimal import Decimal

from django.utils.translation import gettext

from codes.amounts import amount
from codes.parse import BadField, parse_number
from codes.values import Interval, Value, atoms

THOUSANDTH = Decimal("0.001")


def figure(value: object, unit: str) -> Decimal:
    """A figure of a field of this SI unit, 0 or more. Raises BadField. Example: figure("3/8 in", "mm") is 9.525."""
    try:
        typed = amount(value, unit)
    except ValueError as error:
        raise BadField(gettext("value"), str(error)) from None
    return parse_number("value", typed)


def kept(value: Value, unit: str) -> Value:
    """Temperatures to the thousandth: those typed in °F end in ninths. All else stays exact."""
    if unit != "°C":
        return value
    found = tuple(_cut(atom) for atom in atoms(value))
    return found[0] if len(found) == 1 and not isinstance(value, tuple) else found


def _cut(atom: object) -> object:
    if isinstance(atom, Interval):
        return Interval(_short(atom.lo), _short(atom.hi), atom.unit, atom.lo_open, atom.hi_open)
    return _short(atom) if isinstance(atom, Decimal) else atom


def _short(value: Decimal | None) -> Decimal | None:
    if value is None or value == value.quantize(THOUSANDTH):
        return value
    return value.quantize(THOUSANDTH)
