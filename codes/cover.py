"""Box cover: is every point of a window inside at least one record, all variables together?

A window (a WPS range) is a box: an interval or a set of terms per variable. A corner-by-corner check would pass a
window whose middle no record covers, so the parts that one record covers are cut out of the box and the rest is
asked of the next record, until nothing is left or no record remains. Own method; exact, no sampling.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from codes.check import Demand, check
from codes.limits import Free, Limit, LimitSet, When, Within
from codes.values import Atom, Interval, Value, atoms
from codes.verdict import Outcome, Verdict


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the window that no record covers, with the verdict of every record on that part."""

    demand: Demand
    verdicts: tuple[Verdict, ...]


def uncovered(window: Demand, sets: Sequence[LimitSet]) -> tuple[Piece, ...]:
    """The pieces of the window that no limit set covers; empty where the window is covered.

    Example: 3 to 30 mm against records of 3 to 16 and 12 to 30 mm leaves nothing; against 3 to 16 and 18 to 30 mm
    it leaves 16 to 18 mm, both ends open.
    """
    rest = [dict(window)]
    for limits in sets:
        rest = [piece for box in rest for piece in _cut(box, limits)]
    return tuple(Piece(box, tuple(check(box, limits) for limits in sets)) for box in rest)


def _cut(box: dict[str, Value], limits: LimitSet) -> list[dict[str, Value]]:
    """What is left of the box after the limit set has taken the part it covers."""
    for limit in limits.limits:
        for part, rest in _splits(box, limit):
            if rest:
                return [left for piece in (part, *rest) for left in _cut(piece, limits)]
    return [] if check(box, limits).outcome is Outcome.COVERED else [box]


def _splits(box: dict[str, Value], limit: Limit) -> list[tuple[dict[str, Value], list[dict[str, Value]]]]:
    splits = [_split_by(box, when.variable, when) for when in limit.when]
    if not isinstance(limit.allowed, Free):
        splits.append(_split_by(box, limit.variable, limit))
    return splits


def _split_by(
    box: dict[str, Value], variable: str, by: When | Limit
) -> tuple[dict[str, Value], list[dict[str, Value]]]:
    """The box cut along one variable where the allowed set cuts it, or the whole box and nothing."""
    value = box.get(variable)
    if value is None or (isinstance(by, Limit) and by.least_only and isinstance(value, tuple)):
        return box, []
    inside: list[Atom] = []
    outside: list[Atom] = []
    for atom in atoms(value):
        ins, outs = _split_atom(atom, by)
        inside.extend(ins)
        outside.extend(outs)
    if not inside or not outside:
        return box, []
    return box | {variable: _value(inside)}, [box | {variable: _value([atom])} for atom in outside]


def _split_atom(atom: Atom, by: When | Limit) -> tuple[list[Atom], list[Atom]]:
    if isinstance(atom, Interval) and isinstance(by.allowed, Within):
        common = by.allowed.interval.overlap(atom)
        pieces: list[Atom] = list(by.allowed.interval.outside(atom))
        return ([common] if common else []), pieces
    return ([atom], []) if by.allowed.admits(atom) else ([], [atom])


def _value(parts: list[Atom]) -> Value:
    return parts[0] if len(parts) == 1 else tuple(parts)
