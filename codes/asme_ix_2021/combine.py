"""Two records together: root and fill by different records (QW-200.4(b)), a coupon for toughness only that extends the
low end (IX-07-09), two groups of one P-number (QW-403.5; strictly by records alike in all else).

A joint of several processes is asked process by process, each with the joint's base thickness, so the range common to
the records (QW-200.4(a)) follows without a set of its own. Nothing else is mixed: never one record's thickness with
another record's filler.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, permutations

from codes.asme_ix_2021.deposit import SHORT_CIRCUIT
from codes.asme_ix_2021.metals import group_limit, group_of
from codes.asme_ix_2021.piece import GMAW, GTAW, NOT_FILLET, SAW, SMAW, TOUGH, Piece
from codes.asme_ix_2021.record import limits_of
from codes.asme_ix_2021.sources import TOUGHNESS_ONLY, Rule, standard
from codes.asme_ix_2021.switches import TWO_GROUPS, lenient
from codes.asme_ix_2021.thickness import (
    NORMALISED,
    THICK_PASSES,
    TOUGH_MINIMUM,
    coupon_t,
    lowest,
    lowest_tough,
    tough_limit,
)
from codes.asme_ix_2021.thresholds import THICK_PASS
from codes.asme_ix_2021.toughness import TEMPERATURE
from codes.clauses import Mark
from codes.limits import Free, Limit, LimitSet, OneOf, span

ROOT = Rule("QW-200.4(b)", Mark.MEMORY)
EXTENDED = Rule("QW-403.6, second coupon", Mark.CONFIRMED, TOUGHNESS_ONLY)

ROOT_PROCESSES = (SMAW, GTAW, GMAW, SAW)
"""The processes that may lay the root by their own record; FCAW is not named there."""
OWN_OF_ROOT = tuple(rule.ref for rule in (TOUGH_MINIMUM, SHORT_CIRCUIT, THICK_PASSES, NORMALISED))
"""What bounds thickness and deposit of a root by variables other than those of QW-451."""


def combined(pieces: Sequence[Piece], record_of: Mapping[int, int] | None = None) -> tuple[LimitSet, ...]:
    """The sets that two coupons earn together and neither earns alone.

    `record_of`: coupon -> its record, where only coupons of different records are to be put together.
    """
    return tuple(_combined(pieces, record_of or {piece.coupon: piece.coupon for piece in pieces}))


def _combined(pieces: Sequence[Piece], of: Mapping[int, int]) -> Iterator[LimitSet]:
    for one, other in permutations(pieces, 2):
        if of[one.coupon] == of[other.coupon] or one.system != other.system:
            continue
        if _may_root(one, other):
            yield _set(one, other, "root with the base thickness of", _root(one, other))
        if _may_extend(one, other):
            yield _set(one, other, "extended by", _extended(one, other))
    for one, other in combinations(pieces, 2):
        if of[one.coupon] != of[other.coupon] and one.system == other.system and _may_mix(one, other):
            yield _set(one, other, "with the group of", _mixed(one, other))


def _set(one: Piece, other: Piece, words: str, limits: tuple[Limit, ...]) -> LimitSet:
    return LimitSet(f"{one.label}, {words} {other.label}", limits, standard(one.year))


def _whole(piece: Piece) -> bool:
    return not piece.is_fillet and piece.word("toughness_only") != "yes" and piece.least("parent_t") is not None


def _may_root(root: Piece, fill: Piece) -> bool:
    if not (_whole(root) and _whole(fill)) or root.family not in ROOT_PROCESSES or not fill.family:
        return False
    t, fill_t = coupon_t(root), coupon_t(fill)
    if t is None or fill_t is None or root.least("deposit_t") is None:
        return False
    return root.family != fill.family and t >= root.mm(THICK_PASS) and fill_t > t


def _root(root: Piece, fill: Piece) -> tuple[Limit, ...]:
    """All limits of the root's record, its base thickness taken from the other record, its deposit 2 t.

    The 1.1 t of short-circuiting transfer stands beside the 2 t, in the editions that have it. The 1.1 T of a thick
    pass and of heat treatment above the transformation stay: they are no part of QW-451 (conservative reading).
    """
    t, deposit = root.stated("parent_t"), root.stated("deposit_t")
    sized = ("parent_t", "deposit_t")
    kept = (one for one in limits_of(root) if one.variable not in sized or one.clause.ref in OWN_OF_ROOT)
    base = tuple(limit for limit in limits_of(fill) if limit.variable == "parent_t")
    where = root.at(ROOT)
    because = f"root layers by {root.label} (t = {root.size(deposit)}: 2 t), base thickness by {fill.label}"
    own = (
        Limit("place", OneOf(("root",)), where, because),
        Limit("deposit_t", span(None, 2 * deposit, "mm"), where, because, (NOT_FILLET,), (), "deposit_thickness"),
        Limit("parent_t", span(lowest(root, t), None, "mm"), where, because, (NOT_FILLET,), (), "base_thickness"),
    )
    return (*kept, *base, *own)


def _tough_minimum(limit: Limit) -> bool:
    return limit.clause.ref == TOUGH_MINIMUM.ref


def _same_process(one: Piece, other: Piece) -> bool:
    return bool(one.family) and one.process == other.process


def _may_extend(full: Piece, extra: Piece) -> bool:
    """A coupon for toughness only, thinner than the full one, in the same process."""
    if not _whole(full) or extra.word("toughness_only") != "yes" or extra.word("impact_tested") != "yes":
        return False
    t, thin = coupon_t(full), coupon_t(extra)
    return _same_process(full, extra) and t is not None and thin is not None and thin < t and not full.austenitised


def _extended(full: Piece, extra: Piece) -> tuple[Limit, ...]:
    """The full record down to what the second coupon proves; where toughness is required the bounds of both."""
    thin = extra.stated("parent_t")
    own = tuple(limit for limit in limits_of(full) if not _tough_minimum(limit))
    supplementary = tuple(limit for limit in limits_of(extra) if TOUGH in limit.when and not _tough_minimum(limit))
    words = f"second coupon T = {extra.size(thin)} tested for toughness"
    low = replace(tough_limit(full, lowest_tough(extra, thin), words), clause=full.at(EXTENDED))
    return (*own, *supplementary, low)


def _may_mix(one: Piece, other: Piece) -> bool:
    """Toughness tested on both, each coupon of one group, both of one P-number; strictly, alike in all else."""
    if not (_same_process(one, other) and _whole(one) and _whole(other)):
        return False
    if one.word("impact_tested") != "yes" or other.word("impact_tested") != "yes":
        return False
    groups = [{group_of(steel) for pair in piece.steels for steel in pair} for piece in (one, other)]
    same = one.p_numbers == other.p_numbers and len(one.p_numbers) == 1
    if not same or not all(len(group) == 1 and all(group) for group in groups) or groups[0] == groups[1]:
        return False
    return lenient(TWO_GROUPS, one.settings) or _binding(one) == _binding(other)


def _binding(piece: Piece) -> tuple[tuple[object, ...], ...]:
    """What all variables but the group allow, the nonessential ones left out, which are free.

    Left out too is the temperature of the toughness test: the construction code sets it, no variable of Section IX.
    """
    found = (limit for limit in _but_group(piece) if not isinstance(limit.allowed, Free))
    return tuple(_in_order(limit).says for limit in found if limit.clause.ref != TEMPERATURE.ref)


def _in_order(limit: Limit) -> Limit:
    """The limit whose terms stand in one order, whichever of them was tested: A-1 with A-2 is A-2 with A-1."""
    terms = limit.allowed.terms if isinstance(limit.allowed, OneOf) else ()
    return replace(limit, allowed=OneOf(tuple(sorted(terms)))) if terms else limit


def _but_group(piece: Piece) -> tuple[Limit, ...]:
    return tuple(limit for limit in limits_of(piece) if limit.reason != "group_number")


def _mixed(one: Piece, other: Piece) -> tuple[Limit, ...]:
    """The bounds of both records, with the mixed pair of groups."""
    own = _but_group(one)
    more = (limit for limit in _but_group(other) if limit not in own)
    pair = (group_of(one.steels[0].first), group_of(other.steels[0].first))
    mixed = replace(group_limit(one, [pair]), readings=(TWO_GROUPS.used(one.settings),))
    return (*own, *more, mixed)
