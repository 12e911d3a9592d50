"""ISO 9606-1:2012, 10 and Annex A: what a welder's certificate states of each test piece."""

from codes.editions import Field

FIELDS = (
    Field("process", "always", many=True, clause="5.2", help="one piece with two processes: root first"),
    Field("transfer_mode", "131, 135, 136 or 138", many=True, clause="5.2", help="unstated counts as not dip"),
    Field("product", "always", clause="5.3"),
    Field("diameter", "pipe", clause="5.7", help="rectangular hollow section: smaller side"),
    Field("weld_type", "always", clause="5.4"),
    Field("branch_angle", "branch", clause="5.4"),
    Field("combined_piece", clause="Annex C", help="single bevel on material backing, counts as butt and fillet weld"),
    Field("supplementary_fillet", clause="5.4 e", help="with a butt test; welded in PB"),
    Field("supplementary_t", "supplementary fillet", clause="5.4 e"),
    Field("supplementary_run_type", clause="5.4 e", help="multi run only where the certificate prints ml"),
    Field("filler_group", "welded with filler", many=True, clause="5.5"),
    Field("filler_type", "always", many=True, clause="5.6", help="one per process; nm: no filler"),
    Field("root_filler_type", clause="5.6", help="where the root run differs from the rest"),
    Field("filler_designation", many=True, clause="5.5", help="recorded"),
    Field("steels", "welded without filler", clause="5.5", help="recorded; sets a range only without filler"),
    Field("deposit_t", "butt weld", many=True, clause="5.7", label="Deposited thickness s", help="one per process"),
    Field("layers", "butt weld of 12 mm or more", many=True, clause="5.7", help="fewer than 3 limit the thickness"),
    Field("parent_t", "fillet weld or combined piece", many=True, clause="5.7", label="Material thickness t"),
    Field("position", "always", many=True, clause="5.8", help="one pipe welded in PC and PH: both"),
    Field("weld_detail", "butt weld", clause="5.9"),
    Field("run_type", "fillet weld", clause="5.9"),
    Field("torch_direction", "311", clause="5.9"),
    Field("gas", clause="10", help="recorded"),
    Field("backing_gas", clause="10", help="recorded"),
    Field("current_type", clause="10", help="recorded"),
)

DEMAND = (
    "process",
    "mechanisation",
    "transfer_mode",
    "joint_processes",
    "joint_deposit_t",
    "product",
    "rotated",
    "diameter",
    "weld_type",
    "branch_angle",
    "filler_group",
    "filler_type",
    "root_filler_type",
    "steels",
    "deposit_t",
    "parent_t",
    "position",
    "weld_detail",
    "run_type",
    "torch_direction",
)

# Stated on the certificate, no range: the filler, not the parent material, sets the range since this edition (DVS).
RECORDED = (
    "steels",
    "gas",
    "backing_gas",
    "current_type",
    "filler_designation",
    "filler_diameter",
    "heat_input",
    "preheat",
    "interpass",
    "pwht",
    "gouging",
)
