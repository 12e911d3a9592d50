"""What the full specification says of a figure that its runs state: each with the runs it belongs to, and with the
decimals that it has in the table of runs below.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from codes.units import System
from codes.values import Value
from wps.models import ProcedureRun
from wps.runs import run_values
from wps.sheet_runs import heat_name, run_table

COLUMNS = {
    "filler_diameter": "Ø",
    "current": "Current",
    "voltage": "Voltage",
    "travel_speed": "Speed",
    "wire_feed": "Wire feed",
}
"""Variable to the head of its column in the table of runs; the heat is called what it is."""


@dataclass(frozen=True, slots=True)
class ByRun:
    """The runs of a revision and how they are printed."""

    runs: Sequence[ProcedureRun]
    system: System
    measure: str

    def said(self, name: str, process: str, values: Mapping[str, Value]) -> str:
        """The figures of a variable for the runs of a process; "" where the window states them, or the runs do not.

        Example: "run 1: 240 to 270 A; runs 2, 3: 260 to 300 A".
        """
        derived = run_values(self.runs, process, self.measure)
        if name not in derived or derived[name] != values.get(name):
            return ""
        table = run_table(self.runs, self.system, self.measure)
        head = heat_name(self.measure) if name == "heat_input" else COLUMNS.get(name, "")
        found = [(at, unit) for at, (one, unit) in enumerate(table.heads) if one == head]
        if not found:
            return ""
        (at, unit), by_figure = found[0], dict[str, list[str]]()
        for run, row in zip(self.runs, table.rows, strict=True):
            if run.process == process:
                by_figure.setdefault(f"{row[at].replace('–', ' to ')} {unit}", []).append(row[0])
        if len(by_figure) == 1:
            return next(iter(by_figure))
        return "; ".join(f"{_named(numbers)}: {figure}" for figure, numbers in by_figure.items())


def _named(numbers: Sequence[str]) -> str:
    """Example: ["1"] is "run 1", ["2–4", "6"] is "runs 2–4, 6"."""
    return f"run{'s' if len(numbers) > 1 or '–' in numbers[0] else ''} {', '.join(numbers)}"
