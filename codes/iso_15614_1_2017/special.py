"""ISO 15614-1:2017, 8.5: rules of single processes: submerged arc, metal arc in gas, plasma, gas welding.

The rules are stated for level 2; level 1 uses them too (strict), but for the make of the flux under its switch.
"""

from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.iso_15614_1_2017.filler import SameText
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import TEXT, clause
from codes.iso_15614_1_2017.switches import FLUX_LEVEL_1, lenient
from codes.limits import Allowed, Free, Limit, OneOf, span, unless
from codes.values import number

SUBMERGED = clause("8.5.1", Mark.MEMORY)
SLAG_AND_RATIO = clause("8.5.1", Mark.PART, TEXT)
METAL_ARC = clause("8.5.2", Mark.MEMORY)
PLASMA = clause("8.5.4", Mark.MEMORY)
GAS_WELDING = clause("8.5.5", Mark.MEMORY)

SUBMERGED_PROCESSES = ("121", "122", "124", "125", "126")
WIRE_PROCESSES = ("114", "131", "132", "133", "135", "136", "137", "138")
TRANSFER_PROCESSES = ("131", "133", "135", "138")
OPEN_TRANSFER = ("globular", "spray", "pulsed")
RATIO_BAND = Decimal("0.1")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """What 8.5 adds for the process of this piece."""
    process = piece.process
    found: list[Limit] = []
    if process in SUBMERGED_PROCESSES:
        found += [_wires(piece, SUBMERGED), *_flux(piece), *_slag(piece), *_extra(piece)]
    if process in WIRE_PROCESSES:
        found.append(_wires(piece, METAL_ARC))
    if process in TRANSFER_PROCESSES:
        found.append(_transfer(piece))
    if process == "15":
        found += [_text(piece, "plasma_gas", PLASMA), _same(piece, "plasma_mode", PLASMA)]
    if process == "311":
        found.append(_text(piece, "fuel_gas", GAS_WELDING))
    return tuple(found)


def _same(piece: Piece, name: str, where: Clause) -> Limit:
    tested = piece.words(name)
    if not tested:
        return unrecorded(name, where)
    return Limit(name, OneOf(tested), where, "as tested", tested=", ".join(tested))


def _text(piece: Piece, name: str, where: Clause) -> Limit:
    tested = piece.words(name)
    if not tested:
        return unrecorded(name, where)
    return Limit(name, SameText(tested), where, "as tested", tested=", ".join(tested))


def _wires(piece: Piece, where: Clause) -> Limit:
    """Number and arrangement of wires as tested."""
    return _same(piece, "wire_system", where)


def _flux(piece: Piece) -> tuple[Limit, ...]:
    make = _text(piece, "flux_make", SUBMERGED)
    if piece.level == 1:
        used = (FLUX_LEVEL_1.used(piece.settings),)
        free = lenient(FLUX_LEVEL_1, piece.settings)
        allowed: Allowed = Free() if free else make.allowed
        make = Limit("flux_make", allowed, SUBMERGED, make.because, (), used, tested=make.tested)
    return (_text(piece, "flux_designation", SUBMERGED), make)


def _slag(piece: Piece) -> tuple[Limit, ...]:
    """Flux with re-crushed slag: each batch is tested by itself."""
    tested = piece.word("flux_recrushed")
    if tested is None:
        return (unrecorded("flux_recrushed", SLAG_AND_RATIO, "whether the flux held re-crushed slag"),)
    because = "each batch of flux with re-crushed slag has its own test"
    kept = Limit("flux_recrushed", OneOf((tested,)), SLAG_AND_RATIO, because, tested=tested)
    return (kept, _text(piece, "flux_batch", SLAG_AND_RATIO)) if tested == "yes" else (kept,)


def _extra(piece: Piece) -> tuple[Limit, ...]:
    """Extra filler neither added nor left out; its ratio to the electrode within 10 % of the tested ratio."""
    tested = piece.word("extra_filler")
    if tested is None:
        return (unrecorded("extra_filler", SUBMERGED),)
    because = "extra filler neither added nor left out"
    kept = Limit("extra_filler", OneOf((tested,)), SUBMERGED, because, tested=tested)
    if tested == "none":
        return (kept,)
    when = (unless("extra_filler", "none"),)
    ratio = piece.most("extra_filler_ratio")
    if ratio is None:
        return (kept, unrecorded("extra_filler_ratio", SLAG_AND_RATIO, when=when))
    allowed = span(ratio * (1 - RATIO_BAND), ratio * (1 + RATIO_BAND), "%")
    text = f"tested {number(ratio)} %: 10 % of that either way"
    return (kept, Limit("extra_filler_ratio", allowed, SLAG_AND_RATIO, text, when, tested=f"{number(ratio)} %"))


def _transfer(piece: Piece) -> Limit:
    """Dip covers dip; globular, spray and pulsed cover one another."""
    tested = piece.words("transfer_mode")
    if not tested:
        return unrecorded("transfer_mode", METAL_ARC)
    covered = tuple(dict.fromkeys(("dip",) * ("dip" in tested) + OPEN_TRANSFER * bool(set(tested) - {"dip"})))
    because = f"tested {' and '.join(tested)}: dip covers dip, the other transfers cover one another"
    return Limit("transfer_mode", OneOf(covered), METAL_ARC, because, tested=", ".join(tested))
