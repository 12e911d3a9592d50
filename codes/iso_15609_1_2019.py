"""ISO 15609-1:2019, clause 4: what a welding procedure specification for arc welding states, and what one still lacks.

The clause heads are confirmed by the public contents list of the standard; which field is needed when is from memory.
A field's name is a variable of the register where it has one; the others are texts of the document. Numbers are
ranges, or nominal values with a tolerance.
"""

from collections.abc import Mapping

from codes.clauses import Clause, Mark
from codes.limits import When, unless, when_is
from codes.values import Value
from codes.wps_fields import Need, WpsField, missing_of

STANDARD = "ISO 15609-1:2019"
SOURCE = "clause heads from the public contents list; need of each field from memory"


METAL_GAS = ("131", "132", "133", "135", "136", "137", "138")
TUNGSTEN = ("141", "142", "143", "145")
SUBMERGED = ("121", "122", "124", "125", "126")
GAS_SHIELDED = when_is("process", *METAL_GAS, *TUNGSTEN, "15")
WIRE_FED = when_is("process", *METAL_GAS, *SUBMERGED, "114")
MACHINE = when_is("mechanisation", "fully_mechanised", "automatic")
HAND = when_is("mechanisation", "manual", "partly_mechanised")
ARC = unless("process", "311")
HEAT = ((ARC, when_is("impact_required", "yes")), (ARC, when_is("hardness_required", "yes")))
GROOVE = when_is("weld_type", "butt_cjp", "butt_pjp", "branch")
HYDROGEN = when_is("process", "111", "114", *SUBMERGED, "136", "132")


def _clause(ref: str) -> Clause:
    return Clause(STANDARD, ref, Mark.MEMORY, SOURCE)


def _always(name: str, ref: str, text: str = "") -> WpsField:
    return WpsField(name, _clause(ref), text=text)


def _where(name: str, ref: str, words: str, *when: tuple[When, ...], text: str = "") -> WpsField:
    return WpsField(name, _clause(ref), Need.CONDITION, when, words, text)


def _may(name: str, ref: str, text: str = "") -> WpsField:
    return WpsField(name, _clause(ref), Need.OPTIONAL, text=text)


FIELDS = (
    _always("manufacturer", "4.2", "Manufacturer"),
    _always("number", "4.2", "Number, revision and date"),
    _always("status", "4.2", "Status: pWPS or WPS"),
    _where("records", "4.2", "WPS, not pWPS", (when_is("status", "WPS"),), text="Records (WPQR) it rests on"),
    _may("location", "4.2", "Shop or site"),
    _always("steels", "4.3.1"),
    _always("product", "4.3.2"),
    _always("parent_t", "4.3.2"),
    _where("diameter", "4.3.2", "pipe or branch", (when_is("product", "pipe"),), (when_is("weld_type", "branch"),)),
    _where("branch_angle", "4.4.2", "branch", (when_is("weld_type", "branch"),)),
    _always("process", "4.4.1"),
    _always("mechanisation", "4.4.1"),
    _always("joint_type", "4.4.2"),
    _always("weld_type", "4.4.2"),
    _always("joint_sketch", "4.4.2", "Sketch of the joint: angle, gap, root face"),
    _always("run_sequence", "4.4.2", "Sequence of runs"),
    _always("run_type", "4.4.2"),
    _where("throat_a", "4.4.2", "fillet weld", (when_is("weld_type", "fillet"),)),
    _where("deposit_t", "4.4.2", "butt weld or branch", (GROOVE,)),
    _always("position", "4.4.3"),
    _always("preparation_method", "4.4.4", "How edges are cut, cleaned, jigged and tacked"),
    _where("technique", "4.4.5", "torch by hand", (HAND,), text="Stringer or weave, widest run"),
    _where("torch_angle", "4.4.5", "torch carried by a machine", (MACHINE,), text="Angle of torch or wire"),
    _where("gouging", "4.4.6", "welded from both sides", (when_is("weld_detail", "bs"),)),
    _where("weld_detail", "4.4.7", "butt weld or branch", (GROOVE,)),
    _where("backing_steel", "4.4.7", "backing that stays", (when_is("backing_stays", "yes"),)),
    _where("backing_gas", "4.4.7", "gas backing", (when_is("weld_detail", "ss_gb"),)),
    _where("filler_designation", "4.4.8", "with filler", (unless("process", "142"),)),
    _where("filler_make", "4.4.8", "with filler", (unless("process", "142"),)),
    _where("filler_diameter", "4.4.8", "with filler", (unless("process", "142"),)),
    _where("filler_handling", "4.4.8", "fillers that take up moisture", (HYDROGEN,), text="Drying and handling"),
    _where("current_type", "4.4.9", "arc welding", (ARC,)),
    _where("current", "4.4.9", "arc welding", (ARC,)),
    _where("voltage", "4.4.9", "machine, or heat input matters", (ARC, MACHINE), *HEAT),
    _where("waveform", "4.4.9", "pulsed", (when_is("pulsed_current", "yes"),), text="Program of the power source"),
    _where("travel_speed", "4.4.10", "machine, or heat input matters", (MACHINE,), *HEAT),
    _where("wire_feed", "4.4.10", "wire-fed by a machine", (MACHINE, WIRE_FED)),
    _where("stick_out", "4.4.10 and 4.5", "machine, process 12 or 13", (MACHINE,), (WIRE_FED,), text="Stick-out"),
    _may("oscillation", "4.4.10", "Oscillation: amplitude, frequency, dwell"),
    _always("preheat", "4.4.11"),
    _where("interpass", "4.4.12", "more than one run", (when_is("run_type", "multi_run"),)),
    _may("preheat_maintenance", "4.4.13", "Temperature held during pauses"),
    _where("post_heat_temperature", "4.4.14", "post-heating", (when_is("post_heat", "yes"),)),
    _where("post_heat_minutes", "4.4.14", "post-heating", (when_is("post_heat", "yes"),)),
    _always("pwht", "4.4.15"),
    _where("pwht_temperature", "4.4.15", "heat treated", (when_is("pwht", "yes"),)),
    _where("pwht_minutes", "4.4.15", "heat treated", (when_is("pwht", "yes"),)),
    _where("pwht_rates", "4.4.15", "heat treated", (when_is("pwht", "yes"),), text="Heating and cooling rates"),
    _where("gas", "4.4.16", "gas-shielded process", (GAS_SHIELDED,)),
    _where("gas_flow", "4.4.16", "gas-shielded process", (GAS_SHIELDED,), text="Gas flow"),
    _where("heat_input", "4.4.17", "impact or hardness requirement", *HEAT),
    _where("heat_measure", "4.4.17", "impact or hardness requirement", *HEAT),
    _may("run_out_length", "4.5, process 111", "Run-out length of the electrode"),
    _where("wire_system", "4.5", "process 12 or 13", (when_is("process", *SUBMERGED, *METAL_GAS),)),
    _where("flux_designation", "4.5", "process 12", (when_is("process", *SUBMERGED),)),
    _where("flux_make", "4.5", "process 12", (when_is("process", *SUBMERGED),)),
    _where("flux_recrushed", "4.5", "process 12", (when_is("process", *SUBMERGED),)),
    _where("extra_filler", "4.5", "process 12", (when_is("process", *SUBMERGED),)),
    _where("transfer_mode", "4.5", "solid or metal-cored wire", (when_is("process", "131", "133", "135", "138"),)),
    _where("gas_nozzle", "4.5", "process 13", (when_is("process", *METAL_GAS),), text="Gas nozzle"),
    _where("tungsten", "4.5", "process 14", (when_is("process", *TUNGSTEN),), text="Tungsten type and diameter"),
    _where("plasma_gas", "4.5", "process 15", (when_is("process", "15"),)),
    _where("plasma_mode", "4.5", "process 15", (when_is("process", "15"),)),
    _where("fuel_gas", "4.5", "process 311", (when_is("process", "311"),)),
    _always("prepared_by", "4.2 with ISO 3834", "Prepared by"),
    _where("approved_by", "4.2 with ISO 3834", "WPS", (when_is("status", "WPS"),), text="Approved by, with date"),
)


def missing_fields(stated: Mapping[str, Value], fields: tuple[WpsField, ...] = FIELDS) -> tuple[WpsField, ...]:
    """What a specification of one process still lacks, in the order of the standard.

    Example: process 135 without its gas lacks `gas` and `gas_flow`; process 111 lacks neither.
    """
    return missing_of(stated, fields)
