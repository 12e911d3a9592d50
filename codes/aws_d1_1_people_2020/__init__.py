"""AWS D1.1:2020, clause 6 Part C and clause 10: welders, welding operators and tack welders of structural steel.

Start at `combine`; tables stand in `position_rows`, `sizes` and `f_numbers`; how long a qualification is in effect
in `validity`. One edition for each kind of person, as their variables differ. Figures in US and SI units are two
sets (`unit_system`).
"""

from codes.aws_d1_1_people_2020 import fields
from codes.aws_d1_1_people_2020.clauses import STANDARD
from codes.aws_d1_1_people_2020.combine import operator_sets, tack_sets, welder_sets
from codes.aws_d1_1_people_2020.switches import OPERATOR_SWITCHES, TACK_SWITCHES, WELDER_SWITCHES
from codes.aws_d1_1_people_2020.validity import operator_periods, tack_periods, welder_periods
from codes.editions import Edition

WELDER = Edition(
    key=f"{STANDARD} welder",
    title="Structural welding code, steel: qualification of welders",
    kinds=("welder",),
    fields=fields.WELDER_FIELDS,
    demand=fields.WELDER_DEMAND,
    limit_sets=welder_sets,
    aliases=("AWS D1.1 welder", "AWS D1.1/D1.1M:2020 welder", "AWS D1.1:2020 people"),
    switches=WELDER_SWITCHES,
    periods=welder_periods,
    recorded_only=fields.RECORDED,
)
OPERATOR = Edition(
    key=f"{STANDARD} operator",
    title="Structural welding code, steel: qualification of welding operators",
    kinds=("operator",),
    fields=fields.OPERATOR_FIELDS,
    demand=fields.OPERATOR_DEMAND,
    limit_sets=operator_sets,
    aliases=("AWS D1.1 operator", "AWS D1.1/D1.1M:2020 operator"),
    switches=OPERATOR_SWITCHES,
    periods=operator_periods,
    recorded_only=(*fields.RECORDED, "filler_designation", "f_number"),
)
TACK_WELDER = Edition(
    key=f"{STANDARD} tack welder",
    title="Structural welding code, steel: qualification of tack welders",
    kinds=("tack_welder",),
    fields=fields.TACK_FIELDS,
    demand=fields.TACK_DEMAND,
    limit_sets=tack_sets,
    aliases=("AWS D1.1 tack welder", "AWS D1.1/D1.1M:2020 tack welder"),
    switches=TACK_SWITCHES,
    periods=tack_periods,
    recorded_only=(*fields.RECORDED, "weld_type", "product", "diameter", "parent_t", "weld_detail"),
)
EDITIONS = (WELDER, OPERATOR, TACK_WELDER)
