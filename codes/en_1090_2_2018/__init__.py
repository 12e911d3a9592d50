"""EN 1090-2:2018: what a steel structure asks on top of the procedure's own code, by execution class."""

from codes.editions import Edition
from codes.en_1090_2_2018.coordinator import coordinator_level_needed
from codes.en_1090_2_2018.facts import DEMAND, FIELDS, USUAL
from codes.en_1090_2_2018.gates import gate_sets, gates
from codes.en_1090_2_2018.inspection import first_joints_share, hold_hours, ndt_share
from codes.en_1090_2_2018.quality import execution_class_for, iso_3834_part, quality_level, revalidation_options
from codes.en_1090_2_2018.revalidation import revalidation_limits
from codes.en_1090_2_2018.switches import SWITCHES
from codes.en_1090_2_2018.tacks import tack_minimum_length

__all__ = [
    "EDITIONS",
    "USUAL",
    "coordinator_level_needed",
    "execution_class_for",
    "first_joints_share",
    "gates",
    "hold_hours",
    "iso_3834_part",
    "ndt_share",
    "quality_level",
    "revalidation_limits",
    "revalidation_options",
    "tack_minimum_length",
]

EDITIONS = (
    Edition(
        key="EN 1090-2:2018",
        title="Execution of steel structures, technical requirements: rules by execution class",
        kinds=("gate",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=gate_sets,
        aliases=("DIN EN 1090-2:2018", "BS EN 1090-2:2018"),
        switches=SWITCHES,
    ),
)
