"""Box cover: is every point of a window inside at least one record, all variables together?

A window (a WPS range) is a box: an interval or a set of terms per variable. A corner-by-corner check would pass a
window whose middle no record covers, so the parts that one record covers are cut out of the box and the rest is
asked of the next record, until nothing is left or no record remains. Own method; exact, no sampling.
"""

from collections.abc import Callable, Container, Sequence
from dataclasses import dataclass

from codes.check import Demand, check, covers, outcome_of
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
    rest = _left(window, sets)
    return tuple(Piece(box, tuple(check(box, limits) for limits in sets)) for box in rest)


def is_covered(window: Demand, sets: Sequence[LimitSet]) -> bool:
    """True where `uncovered` leaves nothing; without a word said."""
    able = [limits for limits in sets if not _never(window, limits)]
    if len(able) < 2:
        return bool(able) and covers(window, able[0])
    return not _left(window, [_that_matter(limits, lambda limit: _fails(window, limit)) for limits in able])


def is_covered_together(window: Demand, sets: Sequence[LimitSet], failing: Sequence[Container[str]]) -> bool:
    """The same where it is known of each limit set in which variables it fails the window or a part of it.

    Each must be able to cover some part: it fails no value that cannot be divided.
    """
    pairs = zip(sets, failing, strict=True)
    return not _left(window, [_that_matter(limits, _on_one_of(names)) for limits, names in pairs])


def _that_matter(limits: LimitSet, fails: Callable[[Limit], bool]) -> LimitSet:
    """Without the limits that hold for the whole window, and so for every part of it.

    Kept are those that look at the least of several values, which a part may not hold, and one that always counts.
    """
    counts = next((limit for limit in limits.limits if not limit.when), None)
    kept = [limit for limit in limits.limits if limit is counts or limit.least_only or fails(limit)]
    return LimitSet(limits.label, tuple(kept), limits.standard)


def _on_one_of(names: Container[str]) -> Callable[[Limit], bool]:
    return lambda limit: limit.variable in names


def _fails(window: Demand, limit: Limit) -> bool:
    return outcome_of(window, limit) not in (None, Outcome.COVERED)


def _left(window: Demand, sets: Sequence[LimitSet]) -> list[dict[str, Value]]:
    rest = [dict(window)]
    for limits in sets:
        rest = [piece for box in rest for piece in _cut(box, limits)]
    return rest


def _never(window: Demand, limits: LimitSet) -> bool:
    """True where the limit set covers no part of the window: a value that no cut can divide fails it."""
    whole = (limit for limit in limits.limits if not may_cut(window, limit))
    return any(_fails(window, limit) for limit in whole)


def may_cut(window: Demand, limit: Limit) -> bool:
    """True where the limit reads a value of several, of which it may cover a part."""
    read = (window.get(limit.variable, limit.assumed), *(window.get(when.variable) for when in limit.when))
    return any(isinstance(value, tuple | Interval) for value in read)


def widest(window: Demand, pieces: Sequence[Piece], sets: Sequence[LimitSet]) -> tuple[Piece, ...]:
    """The same uncovered parts told in fewer, larger pieces, which may overlap; none of them holds a covered point.

    Each piece is widened, one variable after the other, to all that the window says of the variable, as long as no
    limit set covers any part of it. The verdicts stay those of the piece that was widened, so that they name what
    fails there and nothing else. Example: dip transfer uncovered at every thickness is one piece, not one for each.
    """
    found: list[Piece] = []
    for piece in sorted(pieces, key=_failures):
        if any(_inside(piece.demand, larger.demand) for larger in found):
            continue
        found.append(Piece(_widened(dict(piece.demand), window, sets), piece.verdicts))
    return tuple(found)


def _failures(piece: Piece) -> int:
    """In how many variables the nearest limit set fails the piece: the plainest pieces are told first."""
    return min((len({f.variable for f in verdict.worst}) for verdict in piece.verdicts), default=0)


def _widened(box: dict[str, Value], window: Demand, sets: Sequence[LimitSet]) -> dict[str, Value]:
    for name, value in window.items():
        larger = box | {name: value}
        if box.get(name) != value and not any(_covers_some(larger, limits) for limits in sets):
            box = larger
    return box


def _covers_some(box: dict[str, Value], limits: LimitSet) -> bool:
    """True where the limit set covers at least a part of the box."""
    for limit in limits.limits:
        for part, rest in _splits(box, limit):
            if rest:
                return any(_covers_some(piece, limits) for piece in (part, *rest))
    return covers(box, limits)


def _inside(part: Demand, whole: Demand) -> bool:
    return all(_holds(whole[name], value) for name, value in part.items())


def _holds(whole: Value, part: Value) -> bool:
    """True where every single value of the part lies in the whole."""
    return all(any(_holds_atom(large, small) for large in atoms(whole)) for small in atoms(part))


def _holds_atom(large: Atom, small: Atom) -> bool:
    if isinstance(large, Interval):
        return Within(large).admits(small)
    return large == small


def _cut(box: dict[str, Value], limits: LimitSet) -> list[dict[str, Value]]:
    """What is left of the box after the limit set has taken the part it covers."""
    for limit in limits.limits:
        for part, rest in _splits(box, limit):
            if rest:
                return [left for piece in (part, *rest) for left in _cut(piece, limits)]
    return [] if covers(box, limits) else [box]


def _splits(box: dict[str, Value], limit: Limit) -> list[tuple[dict[str, Value], list[dict[str, Value]]]]:
    # A single term or number cannot be cut.
    splits = [
        _split_by(box, when.variable, when)
        for when in limit.when
        if isinstance(box.get(when.variable), tuple | Interval)
    ]
    if isinstance(box.get(limit.variable), tuple | Interval) and not isinstance(limit.allowed, Free):
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
