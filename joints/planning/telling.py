"""Of suggested sizes, those that tell: what one covers and no other does. The smallest set of pieces stays as small.

Sizes are tried with all else alike. Only limits that differ between them count; a size is left out where another
covers, variable by variable, every value that it covers.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from codes.check import outcome_of
from codes.limits import Limit
from codes.readings import Settings
from codes.values import Value
from codes.verdict import Outcome
from joints.planning.pieces import PROCEDURE_CODE, Piece, piece

FEW = 3
"""So few sizes are not worth trying."""
Values = dict[str, Value]
Each = Callable[[], None]
Demands = Sequence[Mapping[str, Value]]
Said = dict[tuple[int, str], tuple[Limit, ...]]


def unheard() -> None:
    """Nobody wants to stop it."""


def telling(
    sizes: Sequence[Values], others: Sequence[Values], demands: Demands, settings: Settings, each: Each = unheard
) -> list[Values]:
    """The sizes that cover what no other does, and the two ends. `others`: what else is stated, in each of its forms.
    `each` is called for every size; what it raises ends it.

    Example: needed are 4 and 20 mm; of 8 mm (3 to 16), 12 mm (3 to 24) and 16 mm (3 to 32) the first and the last are
    kept as ends, and 12 mm covers no more than 16 mm does.
    """
    if len(sizes) <= FEW:
        return list(sizes)
    masks = [1] * len(sizes)
    for other in others:
        said = []
        for size in sizes:
            each()
            said.append(_said(piece(PROCEDURE_CODE, "procedure", other | size, settings)))
        for place, bits in enumerate(_masks(said, demands)):
            each()
            masks[place] = masks[place] << len(bits) | sum(1 << at for at, good in enumerate(bits) if good)
    kept = _maximal(masks) | {0, len(sizes) - 1}
    return [sizes[at] for at in sorted(kept)]


def _said(found: Piece | None) -> Said:
    """The limits of a piece by limit set and variable; none where there is no such piece."""
    said: dict[tuple[int, str], list[Limit]] = {}
    for number, limits in enumerate(found.sets if found is not None else ()):
        for limit in limits.limits:
            said.setdefault((number, limit.variable), []).append(limit)
    return {key: tuple(limits) for key, limits in said.items()}


def _masks(said: Sequence[Said], demands: Demands) -> Iterator[list[bool]]:
    """Of each size, what of the demands it covers, by the variables whose limits are not the same for all sizes."""
    keys = list(dict.fromkeys(key for one in said for key in one))
    differ = [key for key in keys if any(one.get(key) != said[0].get(key) for one in said)]
    demands = _distinct(demands, (limit for one in said for key in differ for limit in one.get(key, ())))
    for one in said:
        bits = [bool(one)]
        for key in differ:
            # A limit that one size has and another lacks: lacking it allows everything.
            limits = one.get(key, ())
            bits += [bool(one) and all(_fits(demand, limit) for limit in limits) for demand in demands]
        yield bits


def _distinct(demands: Demands, limits: Iterable[Limit]) -> list[Mapping[str, Value]]:
    """The demands that differ in something that the limits look at."""
    names = {name for limit in limits for name in (limit.variable, *(when.variable for when in limit.when))}
    return list({tuple(demand.get(name) for name in names): demand for demand in demands}.values())


def _fits(demand: Mapping[str, Value], limit: Limit) -> bool:
    return outcome_of(demand, limit) in (None, Outcome.COVERED)


def _maximal(masks: Sequence[int]) -> set[int]:
    """The places of masks that lie in no other; of equal ones the first."""
    kept: list[int] = []
    for place in sorted(range(len(masks)), key=lambda at: (-masks[at].bit_count(), at)):
        if not any(masks[place] & ~masks[other] == 0 for other in kept):
            kept.append(place)
    return set(kept)
