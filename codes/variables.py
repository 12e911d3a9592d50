"""The variables that demands and limits speak of: one name each, with label, unit, kind and vocabulary."""

from dataclasses import dataclass
from enum import Enum


class Kind(Enum):
    """What a variable's value looks like in a question and on a form."""

    TERM = "term"
    NUMBER = "number"
    STEELS = "steels"
    TEXT = "text"
    DATE = "date"


@dataclass(frozen=True, slots=True)
class Variable:
    """A variable of a joint, a procedure or a test. `vocabulary` names the terms of a TERM variable (codes.terms)."""

    name: str
    label: str
    kind: Kind
    unit: str = ""
    vocabulary: str = ""
    help: str = ""


def _term(name: str, label: str, vocabulary: str = "", help: str = "") -> Variable:
    return Variable(name, label, Kind.TERM, vocabulary=vocabulary or name, help=help)


def _yes(name: str, label: str, help: str = "") -> Variable:
    return Variable(name, label, Kind.TERM, vocabulary="yes_no", help=help)


def _number(name: str, label: str, unit: str, help: str = "") -> Variable:
    return Variable(name, label, Kind.NUMBER, unit=unit, help=help)


def _text(name: str, label: str, help: str = "") -> Variable:
    return Variable(name, label, Kind.TEXT, help=help)


_ALL = (
    _term("process", "Process", help="ISO 4063 number"),
    _term("mechanisation", "Mechanisation"),
    _yes("robot", "Robot"),
    _term("transfer_mode", "Transfer mode"),
    _term("weld_type", "Weld type"),
    _term("joint_type", "Joint type"),
    _term("product", "Product"),
    _yes("rotated", "Pipe rotated"),
    Variable("steels", "Parent materials", Kind.STEELS, help="both sides: group, specified minimum yield, grade"),
    Variable("backing_steel", "Backing material", Kind.STEELS, help="permanent backing counts as parent material"),
    _yes("backing_stays", "Backing stays in the joint", help="permanent strip or ring"),
    _text("delivery_state", "State of heat treatment before welding", "precipitation-hardening materials"),
    _number("parent_t", "Parent thickness", "mm", "both parts where they differ"),
    _number("deposit_t", "Deposited thickness", "mm", "weld metal of this process without excess; PJP: weld depth"),
    _number("throat_a", "Fillet throat a", "mm"),
    _number("leg_z", "Fillet leg z", "mm"),
    _number("diameter", "Outside diameter", "mm", "rectangular hollow section: smaller side"),
    _number("branch_angle", "Branch angle", "°"),
    _term("position", "Position", help="ISO 6947"),
    _term("weld_detail", "Sides and backing"),
    _term("gouging", "Root gouging"),
    _term("run_type", "Run type"),
    _number("layers", "Layers", ""),
    _number("max_run_t", "Thickest single run", "mm"),
    _term("filler_group", "Filler group", help="ISO 9606-1 Table 2"),
    _term("filler_type", "Filler type"),
    _term("root_filler_type", "Root filler type", "filler_type"),
    _text("filler_designation", "Filler designation"),
    _text("filler_make", "Filler make"),
    _term("hydrogen_class", "Hydrogen class"),
    _number("filler_diameter", "Filler diameter", "mm"),
    _text("flux_designation", "Flux designation"),
    _text("flux_make", "Flux make"),
    _yes("flux_recrushed", "Re-crushed slag in the flux"),
    _text("flux_batch", "Flux batch"),
    _term("wire_system", "Wire system"),
    _term("extra_filler", "Extra filler", help="hot or cold wire, metal powder beside the electrode"),
    _number("extra_filler_ratio", "Extra filler to electrode", "%", "by mass"),
    _term("gas", "Shielding gas", help="ISO 14175 symbol"),
    _number("gas_co2", "CO2 content", "%"),
    _number("gas_o2", "O2 content", "%"),
    _number("gas_he", "He content", "%"),
    _number("gas_h2", "H2 content", "%"),
    _number("gas_n2", "N2 content", "%"),
    _text("plasma_gas", "Plasma gas"),
    _term("plasma_mode", "Plasma technique"),
    _text("fuel_gas", "Fuel gas"),
    _term("backing_gas", "Backing gas", "gas"),
    _term("current_type", "Current and polarity"),
    _yes("pulsed_current", "Pulsed current"),
    _number("current", "Current", "A"),
    _number("voltage", "Arc voltage", "V"),
    _number("travel_speed", "Travel speed", "mm/min"),
    _number("wire_feed", "Wire feed speed", "m/min"),
    _number("heat_input", "Heat input", "kJ/mm"),
    Variable(
        "heat_measure",
        "Heat measure",
        Kind.TERM,
        vocabulary="heat_measure",
        help="arc energy, or heat input with the thermal efficiency k",
    ),
    _number("preheat", "Preheat", "°C", "lowest temperature before welding"),
    _number("capping_preheat", "Preheat of the capping runs", "°C", "only where raised on purpose"),
    _number("interpass", "Interpass temperature", "°C", "highest"),
    _yes("post_heat", "Post-heating for hydrogen release"),
    _number("post_heat_temperature", "Post-heating temperature", "°C", "hydrogen release"),
    _number("post_heat_minutes", "Post-heating time", "min"),
    _yes("pwht", "Post-weld heat treatment"),
    _number("pwht_temperature", "Heat treatment temperature", "°C"),
    _number("pwht_minutes", "Heat treatment time", "min"),
    _term("pwht_class", "Class of heat treatment", help="against the transformation range"),
    _yes("impact_required", "Impact requirement"),
    _number("impact_temperature", "Impact test temperature", "°C"),
    _yes("hardness_required", "Hardness requirement"),
    _yes("impact_tested", "Impact tests made"),
    _term("impact_positions", "Positions of the impact tests", "position"),
    _yes("hardness_tested", "Hardness test made"),
    _term("hardness_positions", "Positions of the hardness tests", "position"),
    _yes(
        "extreme_positions",
        "Tests at the extreme positions",
        "impact at the position of highest, hardness at that of lowest heat input",
    ),
    _number("heat_input_impact", "Heat input of the impact piece", "kJ/mm"),
    _number("heat_input_hardness", "Heat input of the hardness piece", "kJ/mm"),
    _number("hardness_hv10", "Highest hardness", "HV10", "of all readings of the test"),
    _term("torch_direction", "Torch direction"),
    _term("role", "Role"),
    _text("unit", "Welding unit", help="robot or machine type with its control, sensors and jigs"),
    _yes("arc_sensor", "Arc sensor"),
    _yes("joint_sensor", "Joint sensor"),
    _yes("joint_tracking", "Joint tracking"),
    _yes("arc_length_control", "Automatic arc-length control"),
    _term("visual_control", "Visual control"),
    _yes("multi_arc", "Several arcs"),
    _text("joint_processes", "Processes of the joint", "in order of welding, root first: 141/111"),
    _number("joint_deposit_t", "Deposited thickness, all processes", "mm", "of a joint welded by several processes"),
    _yes("supplementary_fillet", "Supplementary fillet test", "a fillet piece welded with the butt-weld test"),
    _number("supplementary_t", "Thickness of the supplementary fillet piece", "mm"),
    _term("supplementary_run_type", "Run type of the supplementary fillet", "run_type"),
    _yes("combined_piece", "Combined butt and fillet piece", "ISO 9606-1 Annex C"),
    _yes("functional_knowledge", "Functional knowledge checked", "of the unit used"),
    _term("operator_method", "Method of qualification", help="which of the four the certificate rests on"),
    _text("supporting_test", "Supporting test", "number of the test behind the qualification"),
    _text("application_standard", "Application standard"),
    _term("execution_class", "Execution class"),
    _term("qualification_route", "Qualification route", help="ISO 15607"),
    _yes("qualification_specified", "Qualification specified", "asked for by the specification, execution class 1 too"),
    _yes("allowed_by_specification", "Allowed by the specification", "route allowed by the execution specification"),
    Variable("last_used_on", "Last used in production", Kind.DATE, help="the process, under this record"),
    _number("years_unused", "Unused for", "years", "where the date of last use is not on file"),
    _term("production_test", "Production test", help="made since the record was last used"),
    _term("coordinator_level", "Coordinator's knowledge"),
    _yes("transverse_load", "Load across the weld"),
    _yes("cruciform_tested", "Cruciform test made", "ISO 9018"),
    _yes("micro_section", "Micro section made"),
    _number("impact_tested_at", "Impact tests made at", "°C"),
    _yes("over_primer", "Welded over shop primer"),
    _number("primer_thickness", "Primer thickness", "µm", "the largest that is welded over"),
    _number("primer_tested", "Primer thickness tested", "µm"),
    _yes("deep_penetration", "Throat counts penetration"),
    _yes("penetration_proven", "Penetration proven by macros"),
    _yes("heat_controlled", "Heat control specified", "preheat, heat input or interpass temperature specified"),
    _number("tack_length", "Tack length", "mm", "shortest"),
    _yes("shorter_tack_proven", "Shorter tacks shown by test"),
    _term("phase", "Phase"),
    _term("p_number", "P-number", help="ASME IX QW/QB-422; unassigned where the table has none"),
    _term("f_number", "F-number", help="electrode group: AWS D1.1 for covered electrodes, ASME IX QW-432"),
    _term("a_number", "A-number", help="analysis of the ferrous deposit, ASME IX QW-442"),
    _term("product_form", "Form of the filler"),
    _yes("filler_added", "Filler added"),
    _yes("box_section", "Rectangular hollow section", "box tubing rather than round pipe"),
    _term("cap_progression", "Progression of the cap", "progression", "where it differs from the other runs"),
    _yes("machine_training", "Training on the machine recorded", "a hand welder who runs a machine"),
    _term("soundness_test", "Test piece examined by"),
    _term("attempt", "Attempt", help="first test or retest"),
    _number("retest_welds", "Retest welds for each that failed", ""),
    Variable("trained_on", "Further training on", Kind.DATE, help="before a retest"),
    _yes("corner_tested", "Corner macro test made", "box-section T-Y-K connections"),
    _term("unit_system", "Unit system", help="US and SI values of AWS D1.1 are two separate sets"),
    _term("aws_position", "AWS position", help="test position, or F, H, V, OH of a joint"),
    _term("progression", "Vertical progression"),
    _term("groove_type", "Groove"),
    _text("joint_detail", "Joint detail", "designation of a prequalified detail, for example B-U2a"),
    _yes("prequalified_detail", "Prequalified joint detail", "the detail meets the code's own figures"),
    _number("groove_angle", "Groove angle", "°", "as detailed"),
    _number("root_opening", "Root opening", "mm", "as detailed"),
    _number("root_face", "Root face", "mm", "as detailed"),
    _number("fit_up_angle", "Groove angle at fit-up", "°"),
    _number("fit_up_root_opening", "Root opening at fit-up", "mm"),
    _number("fit_up_root_face", "Root face at fit-up", "mm"),
    _number("groove_depth", "Groove depth", "mm", "depth of the preparation, partial penetration"),
    _term("backing_material", "Material of the backing"),
    _term("weld_axis", "Axis of the weld", help="welds on pipe and hollow sections"),
    _term("pipe_test", "Size of the test pipe"),
    _term("weld_pass", "Pass", help="root, fill or cap"),
    _term("power_output", "Output of the power source"),
    _text("gas_mixture", "Gas mixture", "nominal composition, for example 90Ar/10CO2; none for self-shielded"),
    _yes("gas_certificate", "Filler maker's certificate for the gas"),
    _number("gas_flow", "Gas flow", "l/min"),
    _number("electrodes", "Number of electrodes", ""),
    _number("arc_spacing_along", "Spacing of arcs along", "mm"),
    _number("arc_spacing_across", "Spacing of arcs across", "mm"),
    _number("electrode_angle_between", "Angle between electrodes", "°"),
    _number("electrode_angle_along", "Electrode angle along travel", "°"),
    _number("electrode_angle_across", "Electrode angle across travel", "°"),
    _yes("in_makers_range", "Current inside the filler maker's range"),
    _yes("polarity_by_maker", "Current type recommended by the filler maker"),
    _number("interpass_min", "Lowest interpass temperature", "°C"),
    _number("base_metal_temperature", "Temperature of the parent metal", "°C", "before heating"),
    _text("contractor", "Contractor", "who made the test, or whose procedure it is"),
    _yes("engineer_acceptance", "Accepted by the Engineer", "documented evidence of tests made by others"),
    _term("weave", "Stringer or weave"),
    _number("weave_width", "Oscillation width", "mm"),
    _number("weave_frequency", "Oscillation frequency", "1/min"),
    _number("weave_dwell", "Oscillation dwell", "s"),
    _yes("impact_vertical_up", "Impact plate welded vertical up"),
    _yes("waveform_controlled", "Waveform-controlled welding", "pulsed, synergic or short-arc control"),
    _term("heat_method", "Heat input worked out by"),
    _number("root_pass_t", "Root pass thickness", "mm"),
    _number("fill_pass_t", "Fill pass thickness", "mm", "the thickest"),
    _number("layer_width", "Layer width", "mm", "the widest"),
    _yes("split_layers", "Layers split"),
    _yes("width_over_depth", "Face at least as wide as the pass is deep", "submerged arc, every pass"),
    _yes("cyclic_load", "Cyclic load"),
    _number("dihedral_angle", "Angle between the parts", "°", "of a fillet weld, where not square"),
    _term("pwht_condition", "Condition of heat treatment", help="ASME IX QW-407.1"),
    _term("flux_type", "Type of flux"),
    _term("bend_direction", "Direction of the bend tests"),
    _yes("pressure_retaining", "Weld retains pressure"),
    _yes("toughness_only", "Coupon for toughness only", "a second coupon without tension and bend tests"),
    _text("piece", "Test piece", "the same for all processes of one test piece"),
    _term("place", "Place in the weld", help="where in the weld this process was used"),
    _number("level", "Level", ""),
    _text("standard", "Standard"),
    Variable("on", "Date asked about", Kind.DATE),
)

VARIABLES: dict[str, Variable] = {variable.name: variable for variable in _ALL}


def register(*variables: Variable) -> None:
    """Add the variables of one code. Raises ValueError where a name is taken by a different variable."""
    for variable in variables:
        known = VARIABLES.setdefault(variable.name, variable)
        if known != variable:
            raise ValueError(f"variable {variable.name} is already defined with another meaning")


def label_of(name: str) -> str:
    """The label of a variable, or its name in words."""
    known = VARIABLES.get(name)
    return known.label if known else name.replace("_", " ").capitalize()


def unit_of(name: str) -> str:
    """The unit of a variable, or nothing."""
    known = VARIABLES.get(name)
    return known.unit if known else ""
