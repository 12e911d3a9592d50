"""ISO 9606-1:2012, 5.7, 5.8 and 10: several test pieces on one certificate.

Pieces join only where one thing differs: thickness, diameter or position; or, for a joint of two processes, the
process with its filler and thickness (Table 1). Otherwise each piece stands alone: never the position of one piece
with the thickness of another.
"""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import weakest
from codes.iso_9606_1_2012.position import with_pair
from codes.iso_9606_1_2012.ranges import joint_sets, piece_sets
from codes.iso_9606_1_2012.tested import figure, is_butt, parts, term, terms
from codes.limits import Allowed, Limit, LimitSet, OneOf, Within
from codes.readings import Settings
from codes.values import Interval

DIFFER: dict[str, frozenset[str]] = {
    "thickness": frozenset({"deposit_t", "parent_t", "layers"}),
    "diameter": frozenset({"diameter"}),
    "position": frozenset({"position"}),
}
PROCESS_OWN = frozenset(
    {
        "process",
        "transfer_mode",
        "filler_group",
        "filler_type",
        "root_filler_type",
        "deposit_t",
        "parent_t",
        "layers",
        "weld_detail",
    }
)
ESSENTIAL = PROCESS_OWN | {
    "product",
    "weld_type",
    "diameter",
    "position",
    "run_type",
    "branch_angle",
    "torch_direction",
    "supplementary_fillet",
    "supplementary_t",
    "supplementary_run_type",
    "combined_piece",
    "steels",
}


def limit_sets(pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """The alternatives that one certificate made from these test pieces allows."""
    alone = [piece_sets(piece, settings) for piece in pieces]
    sets = [one for group in alone for one in group]
    for name, variables in DIFFER.items():
        for members in _alike(pieces, variables):
            sets += _merged(name, [pieces[i] for i in members], [alone[i] for i in members])
    return (*sets, *_two_processes(pieces, settings))


def _alike(pieces: Sequence[Tested], variables: frozenset[str]) -> list[list[int]]:
    """Groups of two or more pieces that agree in everything essential except these variables."""
    groups: dict[frozenset[object], list[int]] = {}
    for index, piece in enumerate(pieces):
        rest = frozenset((name, value) for name, value in piece.items() if name in ESSENTIAL - variables)
        groups.setdefault(rest, []).append(index)
    return [members for members in groups.values() if len(members) > 1]


def _merged(name: str, pieces: list[Tested], alone: list[tuple[LimitSet, ...]]) -> list[LimitSet]:
    if len({len(sets) for sets in alone}) > 1:
        return []
    positions = tuple(dict.fromkeys(p for piece in pieces for p in terms(piece, "position")))
    pairs = name == "position" and all(is_butt(piece) and term(piece, "product") == "pipe" for piece in pieces)
    found = (merge(sets, name) for sets in zip(*alone, strict=True))
    return [_paired(one, positions) if pairs else one for one in found if one is not None]


def merge(sets: Sequence[LimitSet], name: str) -> LimitSet | None:
    """The sets as one: smallest lower to largest upper limit, and every term of each. None where they do not match."""
    if len({len(s.limits) for s in sets}) > 1:
        return None
    limits = [_merge_limits(column) for column in zip(*(s.limits for s in sets), strict=True)]
    label = f"{len(sets)} test pieces of different {name}, {sets[0].label}"
    return replace(sets[0], label=label, limits=tuple(limits))


def _merge_limits(limits: Sequence[Limit]) -> Limit:
    first = limits[0]
    # The record of one piece that states nothing adds nothing and takes nothing away.
    stated = [limit for limit in limits if isinstance(limit.allowed, Within | OneOf)]
    if len(stated) < 2 or all(limit.allowed == first.allowed for limit in limits):
        return stated[0] if stated else first
    because = "; ".join(dict.fromkeys(limit.because for limit in stated))
    tested = " and ".join(dict.fromkeys(limit.tested for limit in stated if limit.tested))
    where = weakest(limit.clause for limit in stated)
    allowed = _union([limit.allowed for limit in stated])
    return replace(stated[0], allowed=allowed, clause=where, because=because, tested=tested)


def _union(allowed: Sequence[Allowed]) -> Allowed:
    ranges = [one.interval for one in allowed if isinstance(one, Within)]
    if ranges:
        lows = [r.lo for r in ranges if r.lo is not None]
        highs = [r.hi for r in ranges if r.hi is not None]
        lo = min(lows) if len(lows) == len(ranges) else None
        hi = max(highs) if len(highs) == len(ranges) else None
        return Within(Interval(lo, hi, ranges[0].unit))
    named = [term for one in allowed if isinstance(one, OneOf) for term in one.terms]
    return OneOf(tuple(dict.fromkeys(named)))


def _paired(limits: LimitSet, positions: tuple[str, ...]) -> LimitSet:
    """Two pipes of one diameter, in PC and in PH or PJ, count as the position at 45 degrees."""
    if all(limit.variable != "weld_detail" for limit in limits.limits):
        return limits  # fillet welds: Table 10 has no row for 45 degrees
    changed = tuple(with_pair(limit, positions) if limit.reason == "position" else limit for limit in limits.limits)
    return replace(limits, limits=changed)


def _two_processes(pieces: Sequence[Tested], settings: Settings) -> list[LimitSet]:
    """Joints welded by the processes of two pieces, in the order of the pieces (Table 1, second line)."""
    sets: list[LimitSet] = []
    for i, root in enumerate(pieces):
        for fill in pieces[i + 1 :]:
            if _joinable(root, fill):
                s1, s2 = figure(root, "deposit_t"), figure(fill, "deposit_t")
                total = s1 + s2 if s1 is not None and s2 is not None else None
                sets += joint_sets((*parts(root), *parts(fill)), total, _fewest_layers(root, fill), settings)
    return sets


def _joinable(root: Tested, fill: Tested) -> bool:
    one_each = all(is_butt(piece) and len(terms(piece, "process")) == 1 for piece in (root, fill))
    same = all(root.get(name) == fill.get(name) for name in ESSENTIAL - PROCESS_OWN)
    return one_each and same and term(root, "process") != term(fill, "process")


def _fewest_layers(root: Tested, fill: Tested) -> Decimal | None:
    """The record with fewer layers counts; where one states none, none are counted."""
    layers = (figure(root, "layers"), figure(fill, "layers"))
    known = [n for n in layers if n is not None]
    return min(known) if len(known) == len(layers) else None
