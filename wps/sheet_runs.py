"""The table of runs of a sheet: a row for each run, columns only for what is stated, in the reader's units."""

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from decimal import Decimal

from codes.terms import both_names
from codes.units import System, figure_in, unit_in
from register.base.pdf_text import width
from register.base.untorn import UNTORN
from wps.heat import HEAT_INPUT
from wps.models import ProcedureRun
from wps.runs import run_heat
from wps.sheet_figures import span_in
from wps.sketch import Bead, beads_of

LARGE, LARGE_IN_FULL, SMALLER, HEAD, GAP = 1.6, 1.35, 1.15, 0.95, 0.8
"""Sizes of the figures and of the heads, and what a column needs beside them, in sizes of the type (`sheet.css`)."""


@dataclass(frozen=True, slots=True)
class RunTable:
    """Heads (name, unit) and cells; `wide` counts from the left the columns of words, the rest are figures."""

    heads: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]
    wide: int

    @property
    def is_wide(self) -> bool:
        """True where only smaller figures leave room for all columns."""
        return len(self.heads) > MOST_COLUMNS

    @property
    def is_long(self) -> bool:
        """True where it takes so much of a side that nothing more stays with it."""
        return len(self.rows) > MANY_ROWS

    @property
    def has_notes(self) -> bool:
        """True where the last column holds words too."""
        return bool(self.heads) and self.heads[-1][0] == "Note"

    @property
    def has_heat(self) -> bool:
        """True where the heat of each run is listed."""
        return any(name in HEAT_NAMES for name, _ in self.heads)

    def shares(self, room: float, said: Callable[[str], str] = str, large: float = LARGE) -> tuple[float, ...]:
        """The width of each column in per cent of a table so wide in sizes of the type, by its longest content.

        Where there is not room for all, words break, figures do not, and no column gets less than its longest word
        needs. `said`: the words as they will be printed, in whatever language. `large`: the size of its figures.
        """
        wishes, least = self._widths(said, large)
        over, spare = sum(wishes) - room, sum(wishes) - sum(least)
        if over > 0 and spare > 0:
            kept = max(0.0, 1 - over / spare)
            wishes = [low + (wish - low) * kept for low, wish in zip(least, wishes, strict=True)]
        return tuple(round(100 * wish / sum(wishes), 2) for wish in wishes)

    def needs(self, said: Callable[[str], str] = str) -> float:
        """How wide it must be at least, in sizes of the type: below that names of columns run into each other."""
        return sum(self._widths(said, LARGE)[1])

    def _widths(self, said: Callable[[str], str], large: float) -> tuple[list[float], list[float]]:
        """How wide each column would like to be, and how narrow it may become."""
        size = SMALLER if self.is_wide else large
        columns = [
            (said(name), unit, [said(row[at]) for row in self.rows]) for at, (name, unit) in enumerate(self.heads)
        ]
        # A name that stands on one line leaves a line to the runs.
        wishes = [_width((name.replace(SHY, ""), unit), cells, size) for name, unit, cells in columns]
        words = {*range(self.wide), *([len(columns) - 1] if self.has_notes else [])}
        least = [
            _width((*name.replace(SHY, "- ").split(), unit), _words(cells) if at in words else cells, size)
            for at, (name, unit, cells) in enumerate(columns)
        ]
        return wishes, least


MOST_COLUMNS, MANY_ROWS = 10, 12
SHY = "\u00ad"
"""Where a long name of a column may break."""


def _width(head: Sequence[str], cells: Sequence[str], size: float) -> float:
    """How wide a column is with each part of its head on a line of its own."""
    over = max(width(part, bold=True) for part in head) * HEAD
    return max(over, *(width(cell, bold=at == 0) * size for at, cell in enumerate(cells))) + GAP


_KEPT = re.compile(UNTORN)


def _words(cells: Sequence[str]) -> list[str]:
    """A line of a column of words breaks at a blank only, and at none in what is kept whole."""
    kept = [_KEPT.sub(lambda found: found[0].replace(" ", "\u00a0"), cell) for cell in cells]
    return [word for cell in kept for word in cell.split(" ")]


Cell = Callable[[ProcedureRun], str]
Column = tuple[str, str, Cell]


def run_table(
    runs: Sequence[ProcedureRun], system: System, measure: str = HEAT_INPUT, said: Collection[str] = ()
) -> RunTable:
    """The table of the runs of a revision. A column in which no run states anything is left out, and the
    polarity where all have the same: it stands with the consumables.

    `said`: fields of the runs that stand elsewhere on the sheet, left out here too where all runs have the same.
    """
    beads = beads_of([(run.order, run.layer, run.process) for run in runs])
    many_polarities = len({run.current_type for run in runs}) > 1
    once = {name for name in said if len({getattr(run, name) for run in runs}) == 1}
    words: list[Column] = [
        ("Run", "", lambda run: numbers(beads, run)),
        ("Layer", "", lambda run: run.layer),
        ("Process", "", lambda run: "" if "process" in once else _process(run.process)),
        ("Filler", "", lambda run: "" if "filler_designation" in once else run.filler_designation),
    ]
    figures: list[Column] = [
        ("Ø", unit_in("mm", system), lambda run: _diameter(run.diameter_mm, system)),
        ("Polarity", "", lambda run: run.current_type if many_polarities else ""),
        *_ranges(system),
        (heat_name(measure), unit_in("kJ/mm", system), lambda run: _heat(run, measure, system)),
        ("Note", "", lambda run: run.note),
    ]
    columns = [column for column in (*words, *figures) if any(column[2](run) for run in runs)]
    wide = sum(1 for column in columns if column in words)
    listed = [
        [cell(run) for run in runs] if at < wide else aligned([cell(run) for run in runs])
        for at, (_, _, cell) in enumerate(columns)
    ]
    rows = tuple(tuple(said or "–" for said in row) for row in zip(*listed, strict=True))
    return RunTable(tuple((name, unit) for name, unit, _ in columns), rows, wide)


_FIGURE = re.compile(r"\d+(?:\.(\d+))?")


def aligned(cells: Sequence[str]) -> list[str]:
    """Figures of a column with the same decimals, so that they stand under each other.

    Example: ["4.5–6", "7–9"] gives ["4.5–6.0", "7.0–9.0"]. Words stay as they are.
    """
    if any(re.search(r"[^\d.–]", cell.removeprefix("max ").removeprefix("min ")) for cell in cells):
        return list(cells)
    most = max((len(found[1] or "") for cell in cells for found in _FIGURE.finditer(cell)), default=0)
    return [_FIGURE.sub(lambda found: _with_decimals(found[0], found[1] or "", most), cell) for cell in cells]


def _with_decimals(figure: str, decimals: str, most: int) -> str:
    return figure + ("" if len(decimals) == most else ("" if decimals else ".") + "0" * (most - len(decimals)))


def _process(process: str) -> str:
    """Both names."""
    return both_names("process", process) if process else ""


def _ranges(system: System) -> list[Column]:
    named = (
        ("Current", "current_min_a", "current_max_a", "A"),
        ("Voltage", "voltage_min_v", "voltage_max_v", "V"),
        ("Wire feed", "wire_feed_min_m_min", "wire_feed_max_m_min", "m/min"),
        ("Speed", "speed_min_mm_min", "speed_max_mm_min", "mm/min"),
        ("Gas", "gas_flow_min_l_min", "gas_flow_max_l_min", "l/min"),
    )
    return [(label, unit_in(unit, system), _range(lo, hi, unit, system)) for label, lo, hi, unit in named]


def _range(lo: str, hi: str, unit: str, system: System) -> Cell:
    return lambda run: span_in(getattr(run, lo), getattr(run, hi), unit, system)


def _diameter(value: Decimal | None, system: System) -> str:
    return "" if value is None else figure_in(value, "mm", system)


HEAT_NAMES = ("Heat input", "Arc energy")


def heat_name(measure: str) -> str:
    """What the heat of runs is called that is reckoned so."""
    return HEAT_NAMES[measure != HEAT_INPUT]


def _heat(run: ProcedureRun, measure: str, system: System) -> str:
    found = run_heat(run, measure)
    return "" if found is None else span_in(found.lo, found.hi, "kJ/mm", system)


def numbers(beads: Sequence[Bead], run: ProcedureRun) -> str:
    """The numbers of a run in the sketch. Example: "2–4"."""
    own = [bead.number for bead in beads if bead.order == run.order]
    if not own:
        return str(run.order)
    return str(own[0]) if len(own) == 1 else f"{own[0]}–{own[-1]}"
