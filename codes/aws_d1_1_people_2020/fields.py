"""AWS D1.1:2020, 6.2.2: what the record of a person's test states, and what its limits look at."""

from codes.editions import Field

_FIRST = (
    Field("unit_system", "always", clause="1.4", help="the set of figures that the test was made to"),
    Field("process", "always", clause="Table 6.12", help="one record for each process"),
    Field("transfer_mode", "GMAW", clause="Table 6.12", help="short-circuiting is a process of its own"),
    Field("contractor", "always", clause="6.2.2", label="Tested for", help="the employer of the test"),
)
_POSITION = (
    Field("aws_position", "always", many=True, clause="Tables 6.10 and 10.12", help="3G and 4G as two test plates"),
    Field("progression", "3G, 5G, 6G, 3F, 5F", many=True, clause="Table 6.12"),
)
_WELD = (
    Field("weld_type", "always", clause="6.16", label="Test weld"),
    Field("product", "always", clause="Tables 6.10 and 10.12"),
    Field("box_section", clause="Table 10.12"),
    Field("corner_tested", "6GR", clause="Table 10.12"),
    Field("diameter", "pipe", clause="Table 10.13"),
    Field("parent_t", "groove weld", clause="Tables 6.11 and 10.13", label="Thickness of the test piece"),
    *_POSITION,
    Field("weld_detail", "groove weld", clause="Table 6.12"),
    Field("gouging", "welded from both sides", clause="Table 6.12"),
    Field("soundness_test", clause="6.17", help="GMAW-S is qualified by bend tests only"),
)
_ATTEMPT = (
    Field("attempt", clause="6.25", help="first test where nothing is stated"),
    Field("retest_welds", "immediate retest", clause="6.25", help="two of each type and position that failed"),
    Field("trained_on", "retest after training", clause="6.25"),
)
_ELECTRODE = (
    Field("f_number", "111", clause="Table 6.13", help="F1 to F4, or state the electrode class"),
    Field("filler_designation", clause="Table 6.13", help="for example E7018"),
)
WELDER_FIELDS = (
    *_FIRST,
    *_ELECTRODE,
    *_WELD,
    Field("mechanisation", clause="6.16"),
    Field("machine_training", clause="Table 6.12, note", help="lets a welder run a machine with the same process"),
    *_ATTEMPT,
)
OPERATOR_FIELDS = (
    *_FIRST,
    *_WELD,
    Field("mechanisation", "always", clause="6.16"),
    Field("wire_system", "always", clause="Table 6.12", label="Electrodes"),
    *_ATTEMPT,
)
TACK_FIELDS = (*_FIRST, *_ELECTRODE, *_POSITION, Field("mechanisation", clause="6.16"), *_ATTEMPT)

RECORDED = (
    "steels",
    "gas",
    "gas_mixture",
    "flux_designation",
    "filler_diameter",
    "filler_make",
    "current_type",
    "backing_material",
    "deposit_t",
    "throat_a",
    "leg_z",
    "joint_type",
    "groove_angle",
    "root_opening",
    "robot",
    "unit",
    "standard",
    "position",
)

_DEMAND = ("mechanisation", "process", "transfer_mode", "aws_position", "progression", "parent_t", "contractor")
_OF_WELD = (
    "weld_type",
    "joint_type",
    "product",
    "box_section",
    "diameter",
    "weld_detail",
    "gouging",
    "groove_angle",
    "engineer_acceptance",
)
WELDER_DEMAND = (*_DEMAND, *_OF_WELD, "f_number", "wire_system")
OPERATOR_DEMAND = (*_DEMAND, *_OF_WELD, "wire_system")
TACK_DEMAND = (*_DEMAND, "engineer_acceptance", "phase", "f_number")
