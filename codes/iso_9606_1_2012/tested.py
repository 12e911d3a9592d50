"""What one test piece states, read one variable at a time; a piece welded with several processes is read in parts."""

from decimal import Decimal

from codes.editions import Tested
from codes.values import Atom, atoms

BUTT_TYPES = ("butt_cjp", "butt_pjp")
PER_PROCESS = ("filler_group", "filler_type", "deposit_t", "layers", "transfer_mode")


def terms(piece: Tested, name: str) -> tuple[str, ...]:
    """The terms stated for a variable, none where it is not stated."""
    value = piece.get(name)
    return tuple(a for a in atoms(value) if isinstance(a, str)) if value is not None else ()


def term(piece: Tested, name: str) -> str | None:
    """The one term stated, None where none is or several are."""
    found = terms(piece, name)
    return found[0] if len(found) == 1 else None


def figures(piece: Tested, name: str) -> tuple[Decimal, ...]:
    """The numbers stated for a variable."""
    value = piece.get(name)
    return tuple(a for a in atoms(value) if isinstance(a, Decimal)) if value is not None else ()


def figure(piece: Tested, name: str) -> Decimal | None:
    """The one number stated, None where none is or several are."""
    found = figures(piece, name)
    return found[0] if len(found) == 1 else None


def yes(piece: Tested, name: str) -> bool:
    """True where the piece states "yes"."""
    return term(piece, name) == "yes"


def is_butt(piece: Tested) -> bool:
    """True for a butt-weld test piece."""
    return term(piece, "weld_type") in BUTT_TYPES


def on_pipe(piece: Tested) -> bool:
    """True for a test on pipe, hollow section included."""
    return term(piece, "product") == "pipe"


def parts(piece: Tested) -> tuple[Tested, ...]:
    """The piece as one piece per process, root first.

    A variable stated once serves all processes, except thickness and layers, which each process states for itself.
    Process 2 and later were deposited on weld metal, which counts as material backing.
    Example: 141/111 with s 4 and 8 in ss nb gives 141 with s 4 in ss nb and 111 with s 8 in ss mb.
    """
    processes = terms(piece, "process")
    if len(processes) < 2:
        return (piece,)
    return tuple(_part(piece, i, len(processes)) for i in range(len(processes)))


def _part(piece: Tested, index: int, count: int) -> Tested:
    part = {name: value for name, value in piece.items() if name not in PER_PROCESS}
    part["process"] = terms(piece, "process")[index]
    for name in PER_PROCESS:
        value = piece.get(name)
        found = _share(name, atoms(value), index, count) if value is not None else None
        if found is not None:
            part[name] = found
    if index > 0:
        part.pop("root_filler_type", None)
        if "weld_detail" in part:
            part["weld_detail"] = "ss_mb"
    return part


def _share(name: str, values: tuple[Atom, ...], index: int, count: int) -> Atom | None:
    if len(values) == count:
        return values[index]
    # A single thickness or number of layers is that of the whole weld, not of each process.
    return values[0] if len(values) == 1 and name not in ("deposit_t", "layers") else None
