"""Which steels a procedure allows together, in words that are read at once and say no more than is so."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations_with_replacement

from codes.values import Steel, SteelPair, number


def pairs_words(pairs: Sequence[SteelPair]) -> str:
    """The stated pairs, each in one order; a yield is the highest that fits, and none decides beside a P-number.

    Example: 1.1 with 1.1, 1.2 with 1.2 and 1.1 with 1.2 give "group 1.1 up to 275 MPa and group 1.2 up to 355 MPa, in
    any pairing".
    """
    stated: dict[frozenset[Steel], tuple[Steel, Steel]] = {}
    for two in map(_decisive, pairs):
        stated.setdefault(frozenset(two), two)
    sides = tuple(dict.fromkeys(side for two in stated.values() for side in two))
    if len(sides) > 1 and all(frozenset(two) in stated for two in combinations_with_replacement(sides, 2)):
        return f"{_and(sides)}, in any pairing"
    alike = [side for side in sides if frozenset((side,)) in stated]
    said = (
        [] if not alike else [f"{_and(alike)}, each with itself" if alike[1:] else f"{_side(alike[0])} on both sides"]
    )
    mixed = [(one, other) for one, other in stated.values() if one != other]
    return "; ".join(
        [*said, *(f"{_short(one, sides, alike)} with {_short(other, sides, alike)}" for one, other in mixed)]
    )


def _decisive(pair: SteelPair) -> tuple[Steel, Steel]:
    """Both sides without what a P-number leaves open: it stands for its steels, whatever their yield."""
    one, other = (replace(side, yield_mpa=None) if side.group.startswith("P") else side for side in pair)
    return one, other


def _and(sides: Sequence[Steel]) -> str:
    *first, last = map(_side, sides)
    return f"{', '.join(first)} and {last}"


def _side(steel: Steel) -> str:
    """One side as a range. Of a steel with a group the grade is an example: the group and the yield decide."""
    most = f"up to {number(steel.yield_mpa)} MPa" if steel.yield_mpa is not None else ""
    known = " ".join(part for part in (steel.group_said, most) if part)
    return f"{known} ({steel.grade})" if known and steel.grade else known or str(steel)


def _short(steel: Steel, sides: Sequence[Steel], told: Sequence[Steel]) -> str:
    """A side that was told before by its group alone, where no other side is of that group."""
    alone = [side.group for side in sides].count(steel.group) == 1
    return steel.group_said if steel in told and steel.group and alone else _side(steel)
