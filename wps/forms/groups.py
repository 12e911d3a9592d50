"""Which variables the form of a procedure asks for, and under which heading."""

from collections.abc import Iterable

from codes.editions import UnknownEdition, edition
from wps.completeness import CONDITIONS, VARIABLES_ASKED

GROUPS = (
    (
        "What is joined",
        (
            "weld_type", "joint_type", "product", "steels", "parent_t", "diameter", "rotated", "branch_angle",
            "backing_steel", "backing_stays", "delivery_state",
        ),
    ),
    (
        "How it is welded",
        (
            "process", "place", "mechanisation", "robot", "position", "throat_a", "leg_z", "deposit_t", "run_type",
            "layers", "weld_detail", "gouging", "transfer_mode", "wire_system", "extra_filler", "extra_filler_ratio",
            "torch_direction", "plasma_mode", "multi_arc",
        ),
    ),
    (
        "Consumables",
        (
            "filler_group", "filler_type", "root_filler_type", "filler_designation", "filler_make", "hydrogen_class",
            "flux_designation", "flux_make", "flux_recrushed", "flux_batch", "gas", "gas_co2", "gas_o2", "gas_he",
            "gas_h2", "gas_n2", "backing_gas", "plasma_gas", "fuel_gas",
        ),
    ),
    ("Current and heat", ("current_type", "pulsed_current", "heat_measure", "heat_input")),
    (
        "Temperatures",
        (
            "preheat", "capping_preheat", "interpass", "post_heat", "post_heat_temperature", "post_heat_minutes",
            "pwht", "pwht_class", "pwht_temperature", "pwht_minutes",
        ),
    ),
    ("Requirements it serves", ("impact_required", "impact_temperature", "hardness_required")),
)  # fmt: skip

SELDOM = frozenset(
    {
        "rotated", "branch_angle", "backing_steel", "backing_stays", "delivery_state", "place", "leg_z", "layers",
        "extra_filler", "extra_filler_ratio", "torch_direction", "plasma_mode", "multi_arc", "flux_designation",
        "flux_make", "flux_recrushed", "flux_batch", "gas_o2", "gas_he", "gas_h2", "gas_n2", "plasma_gas", "fuel_gas",
        "capping_preheat", "post_heat_temperature", "post_heat_minutes", "pwht_class", "pwht_temperature",
        "pwht_minutes",
    }
)  # fmt: skip
"""Shown below the rest until something is entered."""
FROM_RUNS = frozenset({"current", "voltage", "travel_speed", "wire_feed", "filler_diameter"})
"""Stated run by run, not in the window."""
ALWAYS = VARIABLES_ASKED | CONDITIONS | {"gas_co2", "impact_temperature"}
PER_PROCESS = (
    "place", "mechanisation", "position", "deposit_t", "run_type", "weld_detail", "transfer_mode", "filler_group",
    "filler_type", "filler_designation", "filler_make", "hydrogen_class", "wire_system", "gas", "gas_co2",
    "current_type", "pulsed_current",
    "heat_input", "preheat", "interpass",
)  # fmt: skip
"""What may differ between the processes of one procedure."""


def shown_groups(code: str) -> list[tuple[str, tuple[str, ...]]]:
    """Heading and variables for a code: what ISO 15609-1 asks for, and what the code's limits look at."""
    try:
        asked = set(edition(code).demand)
    except UnknownEdition:
        asked = set()
    shown = (asked | ALWAYS) - FROM_RUNS
    return [(heading, tuple(name for name in names if name in shown)) for heading, names in GROUPS]


def by_heading(names: Iterable[str], rest: str) -> list[tuple[str, tuple[str, ...]]]:
    """Names under the same headings; what no heading holds comes last, under `rest`."""
    given = list(names)
    found = [(heading, tuple(name for name in given if name in known)) for heading, known in GROUPS]
    placed = {name for _, known in found for name in known}
    found.append((rest, tuple(name for name in given if name not in placed)))
    return [(heading, known) for heading, known in found if known]
