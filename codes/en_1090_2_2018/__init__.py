"""EN 1090-2:2018: what a steel structure asks on top of the procedure's own code, by execution class."""

from codes.editions import Edition
from codes.en_1090_2_2018.facts import DEMAND, FIELDS
from codes.en_1090_2_2018.gates import gate_sets
from codes.en_1090_2_2018.switches import SWITCHES

EDITIONS = (
    Edition(
        key="EN 1090-2:2018",
        title="Execution of steel structures, technical requirements: gates by execution class",
        kinds=("gate",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=gate_sets,
        aliases=("DIN EN 1090-2:2018", "BS EN 1090-2:2018"),
        switches=SWITCHES,
    ),
)
