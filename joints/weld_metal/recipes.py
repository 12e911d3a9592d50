"""How a procedure is welded, as far as weld metal and time are concerned."""

from collections.abc import Iterable, Mapping
from decimal import Decimal, InvalidOperation

from codes.aws_d1_1.gases import mixture
from codes.door.us_forms import symbol_of
from joints.weld_metal.amounts import Recipe
from wps.models import ProcedureRevision, ProcedureRun

TEXT_SIZES = (
    ("angle", "angle_deg"),
    ("gap", "gap_mm"),
    ("root_face", "root_face_mm"),
    ("radius", "radius_mm"),
    ("depth", "depth_mm"),
)


def recipe_of(revision: ProcedureRevision, process: str) -> Recipe:
    """The recipe of one process; of several runs the mean of what they state counts."""
    runs = [run for run in revision.runs.all() if not process or run.process == process]
    sizes = {name: figure(revision.preparation.get(key)) for name, key in TEXT_SIZES}
    return Recipe(
        label=str(revision),
        process=process,
        filler=_filler(revision, runs),
        kind=str(revision.preparation.get("kind") or ""),
        wire=_mean(run.diameter_mm for run in runs),
        feed=_mean(_middle(run.wire_feed_min_m_min, run.wire_feed_max_m_min) for run in runs),
        flow=_mean(_middle(run.gas_flow_min_l_min, run.gas_flow_max_l_min) for run in runs),
        gas=_first(revision.window.get("gas")) or _symbol(_first(revision.window.get("gas_mixture"))),
        **sizes,
    )


def figure(text: object) -> Decimal | None:
    """A size that is written as one figure; a range or words have none."""
    if isinstance(text, Mapping) or text is None:
        return None
    try:
        found = Decimal(str(text).strip().replace(",", "."))
    except InvalidOperation:
        return None
    return found if found.is_finite() else None


def _filler(revision: ProcedureRevision, runs: list[ProcedureRun]) -> str:
    named = [run.filler_designation for run in runs if run.filler_designation]
    return named[0] if named else _first(revision.window.get("filler_designation"))


def _first(plain: object) -> str:
    if isinstance(plain, list | tuple):
        return str(plain[0]) if plain else ""
    return str(plain or "")


def _symbol(written: str) -> str:
    """What ISO 14175 calls a mixture that AWS states, or it as written where no symbol is known; "" without gas.

    Example: 75Ar/25CO2 is M21.
    """
    read = mixture(written)
    if not read:
        return ""
    symbol = symbol_of(read)
    return written if symbol == "Z" else symbol


def _middle(lo: Decimal | None, hi: Decimal | None) -> Decimal | None:
    return (lo + hi) / 2 if lo is not None and hi is not None else lo if hi is None else hi


def _mean(values: Iterable[Decimal | None]) -> Decimal | None:
    known = [value for value in values if value is not None]
    return sum(known, Decimal(0)) / len(known) if known else None
