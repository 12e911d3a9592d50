"""Procedures of AWS D1.1 written so that everything about them is prequalified, by process and kind of weld."""

from tests.codes.aws_cases import COMMON, KITS

WRITTEN: dict[str, object] = COMMON | {
    "contractor": "",
    "electrodes": "",
    "interpass_min": "",
    "interpass": "",
    "preheat": "50F",
    "in_makers_range": "yes",
    "impact_required": "no",
    "cyclic_load": "no",
    "weld_pass": "root",
    "root_pass_t": "1/4in",
    "fill_pass_t": "1/8in",
    "layer_width": "1/2in",
    "split_layers": "no",
    "width_over_depth": "yes",
    "filler_diameter": "5/32in",
    "joint_detail": "B-U2a",
}
SMALL_WIRE = {"filler_diameter": "0.045in", "gas_mixture": "CO2"}
FILLET = {
    "weld_type": "fillet",
    "joint_type": "tee",
    "aws_position": "2F",
    "run_type": "single_run",
    "leg_z": "1/4in",
    "joint_detail": "",
    "groove_type": "",
    "groove_angle": "",
    "root_opening": "",
    "root_face": "",
    "weld_detail": "",
    "backing_material": "",
}
PJP = {
    "weld_type": "butt_pjp",
    "joint_type": "tee",
    "joint_detail": "BTC-P4",
    "groove_type": "single_bevel",
    "root_opening": 0,
    "root_face": "1/4in",
    "groove_depth": "7/16in",
    "deposit_t": "5/16in",
    "weld_detail": "ss_nb",
    "backing_material": "",
}
TIGHT_SAW = {"joint_detail": "B-L1-S", "parent_t": "3/8in", "groove_type": "square", "groove_angle": "",
             "root_opening": 0, "weld_detail": "bs", "gouging": "none", "backing_material": "none"}  # fmt: skip
FLAT = {"aws_position": "1F"}
BASES: dict[str, dict[str, object]] = {
    "SMAW fillet": WRITTEN | KITS["SMAW"] | FILLET,
    "SMAW groove": WRITTEN | KITS["SMAW"],
    "SMAW PJP": WRITTEN | KITS["SMAW"] | PJP,
    "FCAW PJP": WRITTEN | KITS["FCAW"] | PJP,
    "GMAW fillet": WRITTEN | KITS["GMAW"] | SMALL_WIRE | FILLET,
    "GMAW groove": WRITTEN | KITS["GMAW"] | SMALL_WIRE,
    "FCAW fillet": WRITTEN | KITS["FCAW"] | FILLET,
    "FCAW groove": WRITTEN | KITS["FCAW"],
    "SAW fillet": WRITTEN | KITS["SAW"] | FILLET | FLAT,
    "SAW groove": WRITTEN | KITS["SAW"] | TIGHT_SAW,
}
