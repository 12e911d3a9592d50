"""ISO 14732:2013: what a certificate of an operator or setter states, and what its limits look at."""

from codes.editions import Field

FIELDS = (
    Field("role", "always", clause="4.2"),
    Field("mechanisation", "always", clause="4.2", help="fully mechanised, or automatic (robots included)"),
    Field("robot", clause="4.2"),
    Field("operator_method", "always", clause="4.1"),
    Field("supporting_test", clause="4.1"),
    Field("functional_knowledge", "always", clause="4.1, Annex A"),
    Field("process", "always", clause="4.2"),
    Field("run_type", "always", clause="4.2", label="Runs per side"),
    Field("multi_arc", "always", clause="4.2"),
    Field("unit", "automatic welding", clause="4.2"),
    Field("arc_sensor", "automatic welding", clause="4.2"),
    Field("joint_sensor", "automatic welding", clause="4.2"),
    Field("joint_tracking", "mechanised welding", clause="4.2"),
    Field("arc_length_control", "mechanised welding", clause="4.2"),
    Field("visual_control", "mechanised welding", clause="4.2"),
    Field("weld_type", "mechanised welding", clause="4.2"),
    Field("position", "mechanised welding", many=True, clause="4.2; ISO 9606-1, Tables 9 and 10"),
    Field("weld_detail", "mechanised welding, butt weld", clause="4.2"),
    Field("product", clause="4.2", help="plate or pipe: which row of the position table"),
    Field("diameter", clause="4.2"),
)

RECORDED = (
    "steels",
    "parent_t",
    "deposit_t",
    "throat_a",
    "filler_group",
    "filler_type",
    "filler_designation",
    "gas",
    "backing_gas",
    "transfer_mode",
    "current_type",
    "joint_type",
    "standard",
)

DEMAND = (
    "mechanisation",
    "role",
    "process",
    "run_type",
    "multi_arc",
    "unit",
    "arc_sensor",
    "joint_sensor",
    "joint_tracking",
    "arc_length_control",
    "visual_control",
    "weld_type",
    "position",
    "weld_detail",
)
