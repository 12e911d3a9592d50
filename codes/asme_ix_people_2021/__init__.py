"""ASME BPVC Section IX, edition 2021: welders (QW-350) and welding operators (QW-360), arc processes.

Start at `combine`; tables stand in `position_rows`, `sizes` and `metals`, operators in `machine`, how long
qualifications last in `validity`. P- and F-number tables are shared: `codes.asme_ix_tables`. Brazing, overlay,
tube-to-tubesheet and the processes beyond SMAW, SAW, GMAW, FCAW and GTAW are not judged. Tack welders qualify as
welders.
"""

from codes.asme_ix_people_2021 import fields
from codes.asme_ix_people_2021.clauses import STANDARD
from codes.asme_ix_people_2021.combine import operator_sets, welder_sets
from codes.asme_ix_people_2021.switches import OPERATOR_SWITCHES, WELDER_SWITCHES
from codes.asme_ix_people_2021.validity import operator_periods, welder_periods
from codes.editions import Edition

WELDER = Edition(
    key=f"{STANDARD} welder",
    title="Boiler and Pressure Vessel Code, Section IX: performance qualification of welders",
    kinds=("welder",),
    fields=fields.WELDER_FIELDS,
    demand=fields.WELDER_DEMAND,
    limit_sets=welder_sets,
    aliases=("ASME BPVC IX:2021 welder", "ASME Section IX 2021 welder", "ASME IX-2021 welder"),
    switches=WELDER_SWITCHES,
    periods=welder_periods,
    recorded_only=fields.WELDER_RECORDED,
)
OPERATOR = Edition(
    key=f"{STANDARD} operator",
    title="Boiler and Pressure Vessel Code, Section IX: performance qualification of welding operators",
    kinds=("operator",),
    fields=fields.OPERATOR_FIELDS,
    demand=fields.OPERATOR_DEMAND,
    limit_sets=operator_sets,
    aliases=("ASME BPVC IX:2021 operator", "ASME Section IX 2021 operator", "ASME IX-2021 operator"),
    switches=OPERATOR_SWITCHES,
    periods=operator_periods,
    recorded_only=fields.OPERATOR_RECORDED,
)
EDITIONS = (WELDER, OPERATOR)
