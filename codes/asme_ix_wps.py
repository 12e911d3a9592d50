"""ASME IX, QW-200.1: what a written procedure states, after the variables of QW-253 to QW-256 for its process.

Essential, supplementary essential and nonessential variables must all be addressed. Which paragraph belongs to which
process is partly confirmed by public examples; the need of each field is from memory.
"""

from typing import NamedTuple

from codes.asme_ix_2021.sources import YEARS, standard
from codes.clauses import Clause, Mark
from codes.limits import When, unless, when_is
from codes.wps_fields import Need, WpsField

GMAW, FCAW, SAW = ("131", "133", "135", "138"), ("114", "132", "136"), ("121", "122", "124", "125", "126")
GTAW = ("141", "142", "143", "145")
WIRE = when_is("process", *GMAW, *FCAW)
SHIELDED = when_is("process", *GMAW, "132", "136", *GTAW)
GROOVE = unless("weld_type", "fillet")
TOUGH = when_is("impact_required", "yes")
TREATED = when_is("pwht", "yes")
UPRIGHT = when_is("position", "PF", "PG", "PH", "PJ", "H-L045", "J-L045")
FILLED = unless("process", "142")
SOURCE = "list of fields from public filled examples; need of each from memory"


class _Row(NamedTuple):
    """A field, the paragraph that lists it, and when it must be stated; without a condition always."""

    name: str
    ref: str
    words: str = ""
    when: tuple[tuple[When, ...], ...] = ()
    text: str = ""


def always(name: str, ref: str, text: str = "") -> _Row:
    """A field of every procedure."""
    return _Row(name, ref, text=text)


def where(name: str, ref: str, words: str, *when: tuple[When, ...], text: str = "") -> _Row:
    """A field that is stated where one of the groups of conditions holds."""
    return _Row(name, ref, words, when, text)


ROWS = (
    always("manufacturer", "QG-106, QW-200.1", "Organisation"),
    always("number", "QW-200.1", "Number, revision and date"),
    always("records", "QW-200.1", "Records (PQR) it rests on"),
    always("process", "QW-200.1"),
    always("mechanisation", "QW-410.25"),
    always("weld_type", "QW-402.1"),
    always("joint_type", "QW-402.1"),
    always("joint_sketch", "QW-402.1", "Groove design: angle, root spacing, root face"),
    where("root_opening", "QW-402.10", "groove", (GROOVE,)),
    where("weld_detail", "QW-402.4", "groove", (GROOVE,)),
    always("steels", "QW-403.11"),
    always("parent_t", "QW-403.8"),
    where("max_run_t", "QW-403.9", "not GTAW", (unless("process", *GTAW),)),
    where("deposit_t", "QW-404.30", "groove", (GROOVE,)),
    where("filler_designation", "QW-404.12, QW-404.33", "filler", (FILLED,)),
    where("f_number", "QW-404.4", "filler", (FILLED,)),
    where("a_number", "QW-404.5", "ferrous deposit", (FILLED,)),
    where("filler_diameter", "QW-404.3, QW-404.6", "filler", (FILLED,)),
    where("flux_designation", "QW-404.9", "SAW", (when_is("process", *SAW),)),
    where("flux_type", "QW-404.34", "SAW", (when_is("process", *SAW),)),
    where("flux_make", "QW-404.29", "SAW", (when_is("process", *SAW),)),
    where("flux_recrushed", "QW-404.36", "SAW", (when_is("process", *SAW),)),
    where("extra_filler", "QW-404.24", "SAW, GMAW, FCAW", (when_is("process", *SAW),), (WIRE,)),
    always("position", "QW-405.1"),
    where("progression", "QW-405.3", "vertical, not SAW", (UPRIGHT, unless("process", *SAW))),
    always("preheat", "QW-406.1"),
    always("interpass", "QW-406.3"),
    always("pwht", "QW-407.1"),
    where("pwht_condition", "QW-407.1", "heat treated", (TREATED,)),
    where("pwht_temperature", "QW-407.2", "heat treated", (TREATED,)),
    where("pwht_minutes", "QW-407.2", "heat treated", (TREATED,)),
    where("gas", "QW-408.2", "gas-shielded", (SHIELDED,)),
    where("gas_flow", "QW-408.3", "gas-shielded", (SHIELDED,)),
    always("current_type", "QW-409.4"),
    always("current", "QW-409.8"),
    always("voltage", "QW-409.8"),
    always("travel_speed", "QW-409.8"),
    where("transfer_mode", "QW-409.2", "GMAW, FCAW", (WIRE,)),
    where("tungsten", "QW-409.12", "GTAW", (when_is("process", *GTAW),), text="Tungsten type and diameter"),
    where("heat_input", "QW-409.1", "toughness", (TOUGH,)),
    where("heat_measure", "QW-409.1", "toughness", (TOUGH,)),
    where("heat_method", "QW-409.1", "toughness, not SMAW", (TOUGH, unless("process", "111"))),
    always("technique", "QW-410.1", "Stringer or weave"),
    where("gas_nozzle", "QW-410.3", "gas-shielded", (SHIELDED,), text="Nozzle"),
    always("preparation_method", "QW-410.5", "Cleaning"),
    where("gouging", "QW-410.6", "both sides", (GROOVE, when_is("weld_detail", "bs"))),
    where(
        "stick_out", "QW-410.8", "wire", (WIRE,), (when_is("process", *SAW),), text="Stick-out: contact tube distance"
    ),
    always("run_type", "QW-410.9"),
    where("wire_system", "QW-410.10", "wire", (WIRE,), (when_is("process", *SAW),)),
    always("peening", "QW-410.26", "Peening: none, or how"),
    always("run_sequence", "QW-200.1", "Passes"),
    always("impact_required", "QW-200.1"),
)


def _field(edition: str, row: _Row) -> WpsField:
    need = Need.CONDITION if row.when else Need.ALWAYS
    return WpsField(row.name, Clause(edition, row.ref, Mark.PART, SOURCE), need, row.when, row.words, row.text)


FIELDS = {standard(year): tuple(_field(standard(year), row) for row in ROWS) for year in YEARS}
"""Edition -> what its procedures state."""
