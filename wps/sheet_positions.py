"""Positions of a procedure as a sheet names and draws them: by both systems, for the kind of weld that is meant."""

from collections.abc import Mapping

from codes.aws_positions import to_iso
from codes.position_names import position_name
from codes.values import Value, atoms
from register.base.draw import POSITIONS, position_icon

OF_LETTERS = {"F": "1", "H": "2", "V": "3", "OH": "4"}
"""The letter of a position of AWS to the figure of its tests."""


def positions_said(values: Mapping[str, Value]) -> str:
    """The positions of one process in words."""
    kinds = _kinds(values)
    return ", ".join(position_name(str(token), kinds) for token in atoms(values.get("position", ())))


def positions_drawn(values: Mapping[str, Value]) -> list[tuple[str, str]]:
    """Picture and name of each position; those of AWS where only they are stated, "" where there is no picture."""
    kinds = _kinds(values)
    tokens = [str(token) for token in atoms(values.get("position", ()))]
    if tokens:
        named = [(token, position_name(token, kinds)) for token in tokens]
    else:
        ways = [str(way) for way in atoms(values.get("progression", ()))]
        named = [
            (_pictured(str(token), kinds, ways[0] if len(ways) == 1 else ""), str(token))
            for token in atoms(values.get("aws_position", ()))
        ]
    fillet = kinds == {"fillet"}
    return [(position_icon(token, name, fillet) if token in POSITIONS else "", name) for token, name in named]


def _pictured(aws: str, kinds: frozenset[str], way: str) -> str:
    """The position of ISO 6947 whose picture shows one of AWS, "" where none does."""
    test = OF_LETTERS[aws] + ("F" if kinds == {"fillet"} else "G") if aws in OF_LETTERS else aws
    return to_iso(test, way)


def _kinds(values: Mapping[str, Value]) -> frozenset[str]:
    return frozenset(str(kind) for kind in atoms(values.get("weld_type", ())))
