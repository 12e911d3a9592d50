"""ISO 9606-1:2012: the range of one test piece. All limits of a set hold together; the sets are alternatives."""

from dataclasses import replace
from decimal import Decimal
from itertools import product as choices

from codes.editions import Tested
from codes.iso_9606_1_2012 import detail, filler, position, process, thickness, weld_type
from codes.iso_9606_1_2012.clauses import STANDARD, clause
from codes.iso_9606_1_2012.product import product_limits
from codes.iso_9606_1_2012.tested import figures, is_butt, parts, term, terms, yes
from codes.limits import Limit, LimitSet, OneOf, Unrecorded, unless, when_is
from codes.readings import Settings

IS_FILLET = when_is("weld_type", "fillet")


def piece_sets(piece: Tested, settings: Settings) -> tuple[LimitSet, ...]:
    """The limit sets of one test piece: per process, per weld type, and its multi-process joint."""
    if not terms(piece, "weld_type"):
        return (_unknown_weld(piece, settings),)
    if not is_butt(piece) and term(piece, "weld_type") != "branch":
        return tuple(fillet_set(part, settings) for part in parts(piece))
    split = parts(piece)
    sets = [butt_set(part, settings) for part in split]
    if len(split) > 1:
        sets += joint_sets(split, _total(piece), _layers(piece), settings)
    if weld_type.is_combined(piece) is not False:
        sets += [combined_set(part, settings) for part in split]
    if yes(piece, "supplementary_fillet"):
        sets += [supplementary_set(part, settings) for part in split]
    return tuple(sets)


def butt_set(piece: Tested, settings: Settings) -> LimitSet:
    """Butt welds, and branch connections where a test on pipe covers them."""
    limits = (
        *_common(piece, settings),
        *weld_type.butt_limits(piece, settings),
        *product_limits(piece),
        thickness.deposit_limit(piece),
        # Table 9 is no measure of a fillet weld's position: its weld type already fails.
        replace(position.butt_position_limit(piece), when=(unless("weld_type", "fillet"),)),
        detail.detail_limit(piece),
        *detail.direction_limits(piece),
    )
    return _set(piece, "butt weld", limits)


def fillet_set(piece: Tested, settings: Settings) -> LimitSet:
    """Fillet welds from a fillet test."""
    limits = (thickness.fillet_limit(piece), position.fillet_position_limit(piece, settings), detail.run_limit(piece))
    return _fillets(piece, settings, "fillet weld", limits)


def supplementary_set(piece: Tested, settings: Settings) -> LimitSet:
    """Fillet welds bought by the supplementary fillet beside a butt test (5.4 e)."""
    limits = (
        thickness.fillet_limit(piece, "supplementary_t"),
        position.supplementary_position_limit(piece, settings),
        detail.supplementary_run_limit(piece),
    )
    return _fillets(piece, settings, "supplementary fillet", limits)


def combined_set(piece: Tested, settings: Settings) -> LimitSet:
    """Fillet welds bought by the combined piece of Annex C."""
    limits = (
        thickness.fillet_limit(piece),
        position.fillet_position_limit(piece, settings),
        detail.combined_run_limit(),
    )
    return _fillets(piece, settings, "combined piece, fillet weld", limits)


def joint_sets(
    split: tuple[Tested, ...], total: Decimal | None, layers: Decimal | None, settings: Settings
) -> list[LimitSet]:
    """Each process within a joint welded by all of them, in the tested order: Table 6 with s1 + s2 (Table 1)."""
    covers = [process.process_limit(part, settings).allowed for part in split]
    orders = tuple("/".join(order) for order in choices(*(c.terms for c in covers if isinstance(c, OneOf))))
    tested = "/".join(term(part, "process") or "?" for part in split)
    because = f"tested {tested} in one joint: covers that order, each process with what it covers"
    together = Limit("joint_processes", OneOf(orders), thickness.TABLE_1, because, reason="process", tested=tested)
    return [_joint_set(part, tested, together, total, layers, settings) for part in split]


def _joint_set(
    part: Tested, tested: str, together: Limit, total: Decimal | None, layers: Decimal | None, settings: Settings
) -> LimitSet:
    alone = butt_set(part, settings)
    whole = thickness.joint_deposit_limit(part, total, layers)
    limits = tuple(whole if limit.variable == "deposit_t" else limit for limit in alone.limits)
    return replace(alone, label=f"{alone.label} in a joint {tested}", limits=(*limits, together))


def _common(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    processes = process.process_limit(piece, settings)
    covers = processes.allowed.terms if isinstance(processes.allowed, OneOf) else ()
    return (
        process.mechanisation_limit(),
        processes,
        *process.mode_limits(piece, settings),
        *filler.filler_limits(piece, covers),
    )


def _fillets(piece: Tested, settings: Settings, name: str, limits: tuple[Limit, ...]) -> LimitSet:
    shared = (*_common(piece, settings), weld_type.fillet_type_limit(piece), *product_limits(piece))
    # The root note speaks of butt welds; a fillet has no root run without backing.
    kept = tuple(limit for limit in shared if limit.variable != "root_filler_type")
    own = tuple(replace(one, when=(IS_FILLET,)) if one.variable == "position" else one for one in limits)
    return _set(piece, name, (*kept, *own, *detail.direction_limits(piece)))


def _unknown_weld(piece: Tested, settings: Settings) -> LimitSet:
    unknown = Limit("weld_type", Unrecorded("the weld type"), clause("5.4"), reason="weld_type")
    known = (*_common(piece, settings), *product_limits(piece), *detail.direction_limits(piece))
    return _set(piece, "weld of unknown type", (*known, unknown))


def _set(piece: Tested, name: str, limits: tuple[Limit, ...]) -> LimitSet:
    return LimitSet(f"{name} {'/'.join(terms(piece, 'process'))}".strip(), limits, STANDARD)


def _total(piece: Tested) -> Decimal | None:
    """s1 + s2; a single figure on a piece of several processes is taken as the total."""
    sizes = figures(piece, "deposit_t")
    return sum(sizes, Decimal(0)) if sizes else None


def _layers(piece: Tested) -> Decimal | None:
    layers = figures(piece, "layers")
    return sum(layers, Decimal(0)) if layers else None
