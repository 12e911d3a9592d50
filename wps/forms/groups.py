"""Which variables the form of a procedure asks for, and under which heading."""

from collections.abc import Iterable

from django.utils.translation import gettext_lazy as _

from codes.editions import UnknownEdition, edition
from wps.completeness import variables_asked
from wps.models import Road
from wps.roads import prequalified_edition

GROUPS = (
    (_("Whose figures"), ("unit_system", "contractor", "engineer_acceptance")),
    (
        _("What is joined"),
        (
            "weld_type", "joint_type", "product", "steels", "parent_t", "diameter", "rotated", "branch_angle",
            "dihedral_angle", "weld_axis", "backing_steel", "backing_stays", "delivery_state",
        ),
    ),
    (
        _("Groove"),
        (
            "joint_detail", "prequalified_detail", "groove_type", "groove_angle", "root_opening", "root_face",
            "groove_depth", "backing_material", "fit_up_angle", "fit_up_root_opening", "fit_up_root_face",
        ),
    ),
    (
        _("How it is welded"),
        (
            "process", "place", "mechanisation", "robot", "position", "aws_position", "progression", "throat_a",
            "leg_z", "deposit_t", "run_type", "layers", "max_run_t", "weld_pass", "root_pass_t", "fill_pass_t",
            "layer_width", "split_layers", "width_over_depth", "weld_detail", "gouging", "transfer_mode",
            "wire_system", "electrodes", "extra_filler", "extra_filler_ratio", "weave", "weave_width",
            "weave_frequency", "weave_dwell", "torch_direction", "plasma_mode", "multi_arc", "arc_spacing_along",
            "arc_spacing_across", "electrode_angle_between", "electrode_angle_along", "electrode_angle_across",
        ),
    ),
    (
        _("Consumables"),
        (
            "filler_group", "filler_type", "root_filler_type", "filler_designation", "f_number", "a_number",
            "product_form", "filler_added", "filler_make", "hydrogen_class", "flux_designation", "flux_make",
            "flux_type", "flux_recrushed", "flux_batch", "gas", "gas_co2", "gas_o2", "gas_he", "gas_h2", "gas_n2",
            "gas_mixture", "gas_certificate", "backing_gas", "plasma_gas", "fuel_gas",
        ),
    ),
    (
        _("Current and heat"),
        (
            "current_type", "polarity_by_maker", "in_makers_range", "power_output", "pulsed_current",
            "waveform_controlled", "heat_measure", "heat_method", "heat_input",
        ),
    ),
    (
        _("Temperatures"),
        (
            "preheat", "base_metal_temperature", "capping_preheat", "interpass_min", "interpass", "post_heat",
            "post_heat_temperature", "post_heat_minutes", "pwht", "pwht_condition", "pwht_class", "pwht_temperature",
            "pwht_minutes",
        ),
    ),
    (
        _("Requirements it serves"),
        ("impact_required", "impact_temperature", "hardness_required", "cyclic_load", "pressure_retaining"),
    ),
)  # fmt: skip

SELDOM = frozenset(
    {
        "rotated", "branch_angle", "backing_steel", "backing_stays", "delivery_state", "place", "layers",
        "extra_filler", "extra_filler_ratio", "torch_direction", "plasma_mode", "multi_arc", "flux_designation",
        "flux_make", "flux_recrushed", "flux_batch", "flux_type", "gas_o2", "gas_he", "gas_h2", "gas_n2", "plasma_gas",
        "fuel_gas", "capping_preheat", "post_heat_temperature", "post_heat_minutes", "pwht_class", "pwht_condition",
        "pwht_temperature", "pwht_minutes", "engineer_acceptance", "dihedral_angle", "weld_axis", "fit_up_angle",
        "fit_up_root_opening", "fit_up_root_face", "prequalified_detail", "split_layers", "width_over_depth",
        "weave_width", "weave_frequency", "weave_dwell", "arc_spacing_along", "arc_spacing_across",
        "electrode_angle_between", "electrode_angle_along", "electrode_angle_across", "polarity_by_maker",
        "waveform_controlled", "base_metal_temperature", "filler_added", "product_form", "gas_certificate",
        "heat_method",
    }
)  # fmt: skip
"""Shown below the rest until something is entered."""
FROM_RUNS = frozenset({"current", "voltage", "travel_speed", "wire_feed", "filler_diameter", "gas_flow"})
"""Stated run by run, not in the window."""
ISO_ONLY = frozenset({"gas_co2", "impact_temperature"})
ALWAYS = frozenset({"product", "mechanisation", "weld_type", "joint_type", "filler_make", "impact_required"})
"""What joints and the sheet ask of a procedure, whatever its code lists."""
PER_PROCESS = (
    "place", "mechanisation", "position", "aws_position", "progression", "deposit_t", "run_type", "max_run_t",
    "weld_pass", "root_pass_t", "fill_pass_t", "layer_width", "weld_detail", "transfer_mode", "filler_group",
    "filler_type", "filler_designation", "f_number", "a_number", "filler_make", "hydrogen_class", "wire_system",
    "electrodes", "gas", "gas_co2", "gas_mixture", "current_type", "in_makers_range", "power_output",
    "pulsed_current", "heat_input", "preheat", "interpass",
)  # fmt: skip
"""What may differ between the processes of one procedure."""


def shown_groups(code: str, road: str = Road.TESTED) -> list[tuple[str, tuple[str, ...]]]:
    """Heading and variables for a code: what its list of a procedure asks for, and what its limits look at."""
    prequalified = road == Road.PREQUALIFIED
    try:
        rules = (prequalified_edition(code) if prequalified else None) or edition(code)
        limited, iso = set(rules.demand), speaks_iso(code)
    except UnknownEdition:
        limited, iso = set(), True
    asked = variables_asked(code, prequalified) | limited | ALWAYS | (ISO_ONLY if iso else frozenset())
    shown = asked - FROM_RUNS
    found = [(heading, tuple(name for name in names if name in shown)) for heading, names in GROUPS]
    return [(heading, names) for heading, names in found if names]


def speaks_iso(code: str) -> bool:
    """True for a code that groups steels by ISO/TR 15608 and names the route of qualification by ISO 15607."""
    try:
        return not edition(code).key.startswith(("AWS", "ASME"))
    except UnknownEdition:
        return True


def by_heading(names: Iterable[str], rest: str) -> list[tuple[str, tuple[str, ...]]]:
    """Names under the same headings; what no heading holds comes last, under `rest`."""
    given = list(names)
    found = [(heading, tuple(name for name in given if name in known)) for heading, known in GROUPS]
    placed = {name for _, known in found for name in known}
    found.append((rest, tuple(name for name in given if name not in placed)))
    return [(heading, known) for heading, known in found if known]
