"""Joint preparations and cautions of the demonstration's procedures."""

from joints.demo.firm import BAY_1, BAY_2, CELL, RIG
from joints.demo.materials import Plain

_EDGES = "flame or plasma cut, ground bright 20 mm each side, dry and free of grease"
PREPARATIONS: dict[str, Plain] = {
    "fillet": {"kind": "none", "gap_mm": "0", "tolerances": "gap up to 2 mm", "method": _EDGES, "torch_angle": "45°"},
    "square_both": {
        "kind": "square", "gap_mm": "0", "tolerances": "gap up to 0.5 mm",
        "method": "machined edges, mill scale ground",
    },
    "v_ceramic": {
        "kind": "single_v", "angle_deg": "45", "gap_mm": "5", "root_face_mm": "0",
        "tolerances": "gap ± 1 mm, angle ± 5°",
        "method": _EDGES, "backing": "ceramic strip with a flat groove 13 mm wide",
    },
    "double_v": {
        "kind": "double_v", "angle_deg": "60", "gap_mm": "2", "root_face_mm": "2",
        "tolerances": "gap ± 1 mm, angle ± 5°",
        "method": _EDGES,
    },
    "v_open": {
        "kind": "single_v", "angle_deg": "60", "gap_mm": "3", "root_face_mm": "1", "tolerances": "gap ± 0.5 mm",
        "method": _EDGES,
    },
    "bevel_open": {
        "kind": "single_bevel", "angle_deg": "50", "gap_mm": "2", "root_face_mm": "1", "tolerances": "gap ± 1 mm",
        "method": "profiled by thermal cutting, ground",
    },
}  # fmt: skip

_ARC = "Arc rays, hot metal and fume: screens, extraction at the arc, clothing and visor."
CAUTIONS = {
    CELL: f"{_ARC} Nobody inside the light curtain while the cell is armed; lock the gate before entering.",
    RIG: f"{_ARC} Keep hands and cables clear of the moving portal; dry flux is dusty.",
    BAY_1: f"{_ARC} No burning work near paint or oxygen; a fire watch stays half an hour.",
    BAY_2: f"{_ARC} Dry gloves and boots; switch off before changing electrodes in wet places.",
}
