"""Joints that the tests of sketches draw: name to preparation, window and names of runs. All sizes are invented."""

from typing import Any

from codes.parse import parse_values
from wps.sketch import Preparation, beads_of, parse_preparation

RANGE = {"min": "6", "max": "24"}
BUTT = {"weld_type": "butt_cjp", "joint_type": "butt"}
TEE = {"weld_type": "butt_cjp", "joint_type": "tee"}
FILLET = {"weld_type": "fillet", "joint_type": "tee"}
V60 = {"kind": "single_v", "angle_deg": "60", "gap_mm": "2", "root_face_mm": "1"}
ROOT = {"gap_mm": "2", "root_face_mm": "2"}

CASES: dict[str, tuple[dict[str, Any], dict[str, Any], list[str]]] = {
    "square": ({"kind": "square", "gap_mm": "1"}, {**BUTT, "parent_t": "6", "weld_detail": "bs"}, ["side 1", "back"]),
    "single_v": (V60, {**BUTT, "parent_t": RANGE, "weld_detail": "ss_nb"}, ["root", "fill 2-4", "cap 5-6"]),
    "single_v_backing": (
        {"kind": "single_v", "angle_deg": "40", "gap_mm": "6", "backing": "strip 30 x 6"},
        {**BUTT, "parent_t": "16", "weld_detail": "ss_mb"},
        ["root", "fill 2-6", "cap 7-9"],
    ),
    "single_v_unequal": (V60, {**BUTT, "parent_t": ["12", "20"]}, ["root", "2-4"]),
    "single_v_partial": (
        {"kind": "single_v", "angle_deg": "60", "depth_mm": "8", "gap_mm": "0"},
        {"weld_type": "butt_pjp", "joint_type": "butt", "parent_t": "20"},
        ["1", "2-3"],
    ),
    "single_v_tack": (
        {"kind": "single_v", "angle_deg": "60", "gap_mm": "3", "root_face_mm": "1"},
        {**BUTT, "parent_t": {"min": "4", "max": "33"}, "deposit_t": {"min": "2", "max": "5"}},
        ["tack"],
    ),
    "double_v": (
        {"kind": "double_v", "angle_deg": "60", **ROOT},
        {**BUTT, "parent_t": "30", "weld_detail": "bs"},
        ["root", "fill 2-6", "back 7-12"],
    ),
    "single_bevel_butt": (
        {"kind": "single_bevel", "angle_deg": "45", "gap_mm": "3", "root_face_mm": "1"},
        {**BUTT, "parent_t": "12"},
        ["root", "2-4"],
    ),
    "single_bevel_tee": (
        {"kind": "single_bevel", "angle_deg": "50", **ROOT},
        {**TEE, "parent_t": ["15", "25"]},
        ["root", "2-6"],
    ),
    "single_bevel_corner": (
        {"kind": "single_bevel", "angle_deg": "45", **ROOT},
        {"weld_type": "butt_cjp", "joint_type": "corner", "parent_t": "15"},
        ["root", "2-3"],
    ),
    "double_bevel_tee": (
        {"kind": "double_bevel", "angle_deg": "50", **ROOT},
        {**TEE, "parent_t": ["20", "25"], "weld_detail": "bs"},
        ["root", "2-6"],
    ),
    "single_u": (
        {"kind": "single_u", "angle_deg": "20", "radius_mm": "6", **ROOT},
        {**BUTT, "parent_t": "30"},
        ["root", "2-10"],
    ),
    "double_u": (
        {"kind": "double_u", "angle_deg": "20", "radius_mm": "6", **ROOT},
        {**BUTT, "parent_t": "50", "weld_detail": "bs"},
        ["root", "2-16"],
    ),
    "single_j_tee": (
        {"kind": "single_j", "angle_deg": "20", "radius_mm": "8", **ROOT},
        {**TEE, "parent_t": "30"},
        ["root", "2-10"],
    ),
    "double_j_tee": (
        {"kind": "double_j", "angle_deg": "20", "radius_mm": "6", **ROOT},
        {**TEE, "parent_t": "40", "weld_detail": "bs"},
        ["root", "2-12"],
    ),
    "fillet_tee": ({"kind": "none"}, {**FILLET, "parent_t": RANGE, "throat_a": {"min": "3", "max": "6"}}, ["one run"]),
    "fillet_tee_leg": (
        {"kind": "none", "sides": "2"},
        {**FILLET, "parent_t": ["12", "20"], "leg_z": "10"},
        ["root", "2-3", "4-6"],
    ),
    "fillet_lap": (
        {"kind": "none", "overlap_mm": "40"},
        {"weld_type": "fillet", "joint_type": "lap", "parent_t": ["10", "12"], "throat_a": "5"},
        ["1", "2-3"],
    ),
    "fillet_corner": (
        {"kind": "none"},
        {"weld_type": "fillet", "joint_type": "corner", "parent_t": "10", "throat_a": "5"},
        ["1", "2-3"],
    ),
    "fillet_cruciform": (
        {"kind": "none"},
        {"weld_type": "fillet", "joint_type": "cruciform", "parent_t": ["12", "20"], "throat_a": "5"},
        ["1"],
    ),
    "fillet_end_plate": (
        {"kind": "none", "arrangement": "end_plate"},
        {**FILLET, "parent_t": ["15", "25"], "throat_a": "7"},
        ["1", "2-3"],
    ),
    "fillet_stiffener": (
        {"kind": "none", "arrangement": "stiffener"},
        {**FILLET, "parent_t": ["12", "20"], "throat_a": "5"},
        ["1"],
    ),
}


def preparation(name: str) -> Preparation:
    """The joint of a case."""
    plain, window, _ = CASES[name]
    return parse_preparation(plain, parse_values(window))


def beads(name: str):
    """The beads of a case; the last row is welded by another process, so that both fills are drawn."""
    rows = CASES[name][2]
    return beads_of([(i + 1, row, "138" if 0 < i == len(rows) - 1 else "135") for i, row in enumerate(rows)])
