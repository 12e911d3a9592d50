"""QW-410.9 passes per side and QW-410.10 number of electrodes, where toughness is required. From memory.

A single run from each side is a single run.
"""

from codes.asme_ix_2021.piece import SMAW, TOUGH, Piece
from codes.asme_ix_2021.sources import Rule
from codes.limits import Limit, OneOf, When, when_is

PASSES = Rule("QW-410.9")
ELECTRODES = Rule("QW-410.10")
MACHINE: tuple[When, ...] = (TOUGH, when_is("mechanisation", "fully_mechanised", "automatic"))


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Several passes per side to one; one electrode to several or back, machine and automatic welding."""
    return (*_passes(piece), *_electrodes(piece))


def _passes(piece: Piece) -> tuple[Limit, ...]:
    if piece.austenitised:
        return ()
    tested = piece.words("run_type")
    covered: tuple[str, ...]
    if not tested:
        return (piece.unrecorded("run_type", PASSES, "passes_per_side", (TOUGH,)),)
    if "single_run" in tested:
        covered, because = ("single_run", "multi_run"), "tested in single passes: several passes are free"
    else:
        covered, because = (
            ("multi_run",),
            "tested in several passes per side: not one pass, where toughness is required",
        )
    return (Limit("run_type", OneOf(covered), piece.at(PASSES), because, (TOUGH,), (), "passes_per_side"),)


def _electrodes(piece: Piece) -> tuple[Limit, ...]:
    if piece.family == SMAW:
        return ()
    tested = piece.word("wire_system")
    if tested is None:
        return (piece.unrecorded("wire_system", ELECTRODES, "electrodes", MACHINE),)
    covered: tuple[str, ...] = ("single",) if tested == "single" else ("twin", "tandem")
    because = f"tested with {'one electrode' if tested == 'single' else 'several electrodes'}: no change"
    return (Limit("wire_system", OneOf(covered), piece.at(ELECTRODES), because, MACHINE, (), "electrodes"),)
