"""What the runs of a revision say of the variables: ranges of current, voltage, speed and the heat they give."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from codes.values import Atom, Interval, Value, number
from wps.heat import HEAT_INPUT, Range, heat_interval, measure_by
from wps.models import ProcedureRun

RANGES = (
    ("current", "current_min_a", "current_max_a", "A"),
    ("voltage", "voltage_min_v", "voltage_max_v", "V"),
    ("travel_speed", "speed_min_mm_min", "speed_max_mm_min", "mm/min"),
    ("wire_feed", "wire_feed_min_m_min", "wire_feed_max_m_min", "m/min"),
    ("gas_flow", "gas_flow_min_l_min", "gas_flow_max_l_min", "l/min"),
)
"""Variable, the run's fields for least and greatest, unit."""
SINGLE = (("filler_diameter", "diameter_mm"), ("current_type", "current_type"))
FROM_RUNS = (*(name for name, *_ in RANGES), *(name for name, _ in SINGLE), "heat_input")


def run_heat(run: ProcedureRun, measure: str = HEAT_INPUT) -> Interval | None:
    """The heat of one run in kJ/mm, or None where a parameter is missing."""
    ends = [Range(getattr(run, lo), getattr(run, hi)) for _, lo, hi, _ in RANGES[:3]]
    return heat_interval(run.process, *ends, measure=measure)


def heats_of(
    runs: Iterable[ProcedureRun], code: str, window: Mapping[str, object], own: Mapping[str, Mapping[str, object]]
) -> list[tuple[ProcedureRun, Interval | None]]:
    """Each run with its heat, reckoned as the procedure (`own`: its process) states it, else as its code does."""
    stated = window.get("heat_measure")
    return [
        (run, run_heat(run, measure_by(code, own.get(run.process, {}).get("heat_measure") or stated))) for run in runs
    ]


def run_values(runs: Iterable[ProcedureRun], process: str, measure: str = HEAT_INPUT) -> dict[str, Value]:
    """The variables that the runs of one process state; a variable that a run leaves open is left out altogether.

    Several runs give several values, all of which must be covered. Example: two runs with 140-180 A and 200-240 A
    give current 140 to 180 A + 200 to 240 A.
    """
    own = [run for run in runs if run.process == process]
    found: dict[str, Value] = {}
    for name, lo, hi, unit in RANGES:
        _put(found, name, [_interval(getattr(run, lo), getattr(run, hi), unit) for run in own])
    for name, field in SINGLE:
        _put(found, name, [getattr(run, field) or None for run in own])
    _put(found, "heat_input", [run_heat(run, measure) for run in own])
    return found


def processes_of(runs: Iterable[ProcedureRun]) -> tuple[str, ...]:
    """The processes of the runs in their order, each once."""
    return tuple(dict.fromkeys(run.process for run in runs if run.process))


def _interval(lo: Decimal | None, hi: Decimal | None, unit: str) -> Atom | None:
    if lo is None or hi is None or lo > hi:
        return None
    return Interval(_plain(lo), _plain(hi), unit)


def _plain(value: Decimal) -> Decimal:
    """The same number without the trailing zeros that the database column adds."""
    return Decimal(number(value))


def _put(found: dict[str, Value], name: str, atoms: Sequence[Atom | None]) -> None:
    stated = [atom for atom in atoms if atom is not None]
    if not stated or len(stated) < len(atoms):
        return
    once = tuple(dict.fromkeys(_plain(atom) if isinstance(atom, Decimal) else atom for atom in stated))
    found[name] = once[0] if len(once) == 1 else once
