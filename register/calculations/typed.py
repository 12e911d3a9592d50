"""From the text of form fields to the plain inputs of a calculation, and back for the worked examples.

A bare figure is in the reader's units; "10 in/min" says its own. A decimal comma is as good as a point.
"""

import re
from collections.abc import Mapping

from codes.calc.calculation import Input, Kind
from codes.calc.conversions import US_UNITS
from codes.parse import Plain
from codes.units import System

ELEMENTS = ("C", "Si", "Mn", "P", "S", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "Ti", "B", "N", "Al")
"""The elements that have a field."""
AXES = ("x", "y", "z")
ENDS = ("min", "max")
OF_A_COLUMN = ("_mm", "_in")
"""So end the names of inputs that keep their unit: the code prints a column of its own for each unit system."""
_BARE = re.compile(r"[+-]?[\d.,]+(?:[eE][+-]?\d+)?")
Texts = Mapping[str, str]


def shown_unit(one: Input, system: System) -> str:
    """The unit in which a bare figure is read. An input whose name ends in its unit keeps it ("thickness_mm")."""
    if system is System.SI or one.name.endswith(OF_A_COLUMN):
        return one.unit
    return US_UNITS.get(one.unit, one.unit)


def field_names(one: Input) -> tuple[str, ...]:
    """The names of the form fields of an input."""
    parts = {Kind.RANGE: ENDS, Kind.VECTOR: AXES, Kind.ANALYSIS: ELEMENTS}.get(one.kind)
    return tuple(f"{one.name}_{part}" for part in parts) if parts else (one.name,)


def plain_of(one: Input, texts: Texts, system: System) -> Plain:
    """The plain input that the fields hold, None where they are blank."""
    stated = {name: texts.get(name, "").strip() for name in field_names(one)}
    if not any(stated.values()):
        return None
    words = list(stated.values())
    unit = shown_unit(one, system)
    if one.kind is Kind.ANALYSIS:
        return {name.removeprefix(f"{one.name}_"): text for name, text in stated.items() if text}
    if one.kind is Kind.RANGE:
        lo, hi = (word or other for word, other in (words, words[::-1]))
        return {"min": _amount(lo, one.unit, unit), "max": _amount(hi, one.unit, unit)}
    if one.kind in (Kind.VECTOR, Kind.NUMBERS):
        parts = words if one.kind is Kind.VECTOR else _parts(words[0])
        return [_amount(part or "0", one.unit, unit) for part in parts]
    if one.kind is Kind.NUMBER:
        return _amount(words[0], one.unit, unit)
    return _written(one, words[0], unit)


def _written(one: Input, text: str, unit: str) -> Plain:
    if one.kind is Kind.PAIRS:
        return [[_amount(part, one.unit, unit) for part in _parts(line)] for line in text.splitlines() if line.strip()]
    if one.kind is Kind.LINES:
        return [_line(line) for line in text.splitlines() if line.strip()]
    if one.kind is Kind.TERMS:
        return list(filter(None, re.split(r"[;,\s]+", text)))
    return text


def _line(text: str) -> Plain:
    """A line of a graph. Example: "100: 50 1.0; 60 1.2" is preheat 100 °C with two points."""
    preheat, _, points = text.partition(":")
    return {"preheat": preheat.strip(), "points": [list(part.split()) for part in points.split(";") if part.strip()]}


def _parts(text: str) -> tuple[str, ...]:
    """The figures of a list, parted by semicolons, or by blanks where there is no semicolon."""
    return tuple(filter(None, (part.strip() for part in (text.split(";") if ";" in text else text.split()))))


def _amount(text: str, own: str, unit: str) -> Plain:
    if unit != own and _BARE.fullmatch(text):
        return {"value": text, "unit": unit}
    return text


def texts_of(one: Input, plain: Plain) -> dict[str, str]:
    """The fields of an input filled with a plain value, for an example."""
    names = field_names(one)
    if one.kind is Kind.ANALYSIS and isinstance(plain, Mapping):
        return {f"{one.name}_{element}": str(share) for element, share in plain.items()}
    if one.kind in (Kind.RANGE, Kind.VECTOR) and isinstance(plain, list | tuple):
        return dict(zip(names, map(str, plain), strict=True))
    if one.kind is Kind.PAIRS and isinstance(plain, list | tuple):
        return {one.name: "\n".join("; ".join(map(str, pair)) for pair in plain if isinstance(pair, list | tuple))}
    if isinstance(plain, list | tuple):
        return {one.name: "; ".join(map(str, plain))}
    return {one.name: str(plain)}
