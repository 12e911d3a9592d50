"""ASME IX, QW-301.4: what the record of a person's test states, and what its limits look at."""

from codes.editions import Field

_FIRST = (
    Field("unit_system", "always", clause="QG-100", help="the set of figures that the test was made to"),
    Field("process", "always", clause="QW-350", help="one piece for each process"),
    Field("contractor", "always", clause="QG-106", label="Tested for", help="the organisation of the test"),
)
_ATTEMPT = (
    Field("soundness_test", clause="QW-304", help="short-circuiting takes bend tests"),
    Field("attempt", clause="QW-321", help="first test where nothing is stated"),
    Field("retest_welds", "immediate retest", clause="QW-321"),
    Field("trained_on", "retest after training", clause="QW-321"),
)
WELDER_FIELDS = (
    *_FIRST,
    Field("mechanisation", clause="QG-109", help="manual or semiautomatic"),
    Field("transfer_mode", "GMAW", clause="QW-409.2"),
    Field("weld_type", "always", clause="QW-303", label="Test weld"),
    Field("product", "always", clause="QW-461.9"),
    Field("diameter", "pipe", clause="QW-403.16, QW-452.3"),
    Field("parent_t", "fillet weld on plate", clause="QW-452.5", label="Thickness of the test plate"),
    Field("deposit_t", "groove weld", clause="QW-404.30, QW-452.1(b)", help="of this process, without reinforcement"),
    Field("layers", "groove weld of 13 mm (1/2 in) or more", clause="QW-452.1(b)", help="of this process"),
    Field("p_number", "always", many=True, clause="QW-403.18", help="or state the grades"),
    Field("steels", clause="QW-403.18", help="grades, where no P-number is stated"),
    Field("f_number", "always", clause="QW-404.15", help="or state the filler's class"),
    Field("filler_designation", clause="QW-404.15", help="for example E7018"),
    Field("aws_position", "always", many=True, clause="QW-405.1, QW-461.9"),
    Field("progression", "3G, 5G, 6G, 3F or 5F, other than SAW", many=True, clause="QW-405.3"),
    Field("weld_detail", "groove weld", clause="QW-402.4"),
    Field("place", clause="QW-402.4", help="fill: welded over another process's root, counts as with backing"),
    Field("backing_gas", "GMAW, FCAW, GTAW without backing", clause="QW-408.8"),
    Field("current_type", "GTAW", clause="QW-409.4"),
    Field("product_form", clause="QW-404.23", help="GTAW; where the process number does not tell it"),
    *_ATTEMPT,
)
OPERATOR_FIELDS = (
    *_FIRST,
    Field("mechanisation", "always", clause="QG-109", help="automatic where nobody corrects while the arc burns"),
    Field("transfer_mode", clause="QW-304"),
    Field("weld_type", "machine welding", clause="QW-303", label="Test weld"),
    Field("product", "machine welding", clause="QW-461.9"),
    Field("diameter", clause="QW-461.9"),
    Field("aws_position", "machine welding", many=True, clause="QW-361.2(e)"),
    Field("visual_control", "machine welding", clause="QW-361.2(b)"),
    Field("arc_length_control", "machine welding, GTAW", clause="QW-361.2(c)"),
    Field("joint_tracking", "machine welding", clause="QW-361.2(d)"),
    Field("weld_detail", "machine welding, groove weld", clause="QW-361.2(f), (g)"),
    Field("place", clause="QW-402.4"),
    Field("run_type", "machine welding", clause="QW-361.2(h)", label="Passes per side"),
    *_ATTEMPT,
)
_COMMON = ("gas", "gas_mixture", "filler_make", "filler_diameter", "flux_designation", "joint_type", "robot", "unit")
WELDER_RECORDED = (*_COMMON, "standard", "position", "run_type", "throat_a", "leg_z", "gouging")
OPERATOR_RECORDED = (
    *_COMMON,
    "standard",
    "position",
    "progression",
    "parent_t",
    "deposit_t",
    "layers",
    "steels",
    "p_number",
    "f_number",
    "filler_designation",
    "current_type",
    "backing_gas",
    "gouging",
)
_DEMAND = ("mechanisation", "process", "transfer_mode", "weld_type", "product", "diameter", "aws_position")
WELDER_DEMAND = (
    *_DEMAND,
    "progression",
    "cap_progression",
    "deposit_t",
    "parent_t",
    "leg_z",
    "p_number",
    "f_number",
    "weld_detail",
    "backing_gas",
    "current_type",
    "product_form",
    "contractor",
)
OPERATOR_DEMAND = (
    *_DEMAND,
    "visual_control",
    "arc_length_control",
    "joint_tracking",
    "weld_detail",
    "run_type",
    "contractor",
)
