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
    "v_copper": {
        "kind": "single_v", "angle_deg": "45", "gap_mm": "5", "root_face_mm": "0",
        "tolerances": "gap ± 1 mm, angle ± 5°",
        "method": _EDGES, "backing": "copper bar with a flat groove 13 mm wide, water-cooled",
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

_HAND: Plain = {"technique": "stringer, weave at most 3 times the wire"}
_WIRE: Plain = {"stick_out_mm": "15 to 20", "gas_nozzle": "bore 16 mm", "waveform": "synergic program 17"}
TECHNIQUE: dict[str, Plain] = {
    "135": {**_HAND, **_WIRE},
    "136": {**_HAND, **_WIRE, "filler_handling": "spools kept dry in their foil, 24 h in the open at most"},
    "138": {**_HAND, **_WIRE},
    "111": {**_HAND, "filler_handling": "2 h at 350 °C, then from the quiver at 100 °C"},
    "141": {**_HAND, "tungsten": "WLa 15, 2.4 mm, ground to 30°"},
    "121": {"stick_out_mm": "28 to 32", "torch_angle": "90°", "filler_handling": "flux 2 h at 300 °C"},
}
"""What ISO 15609-1 asks of each process beside the figures."""
FILLER_MAKE = {"135": "Ferrolin S-3", "138": "Ferrolin MC-46", "141": "Ferrolin W-3", "121": "Ferrolin S2"}
"""Trade names where the record leaves them open."""

_ARC = "Arc rays, hot metal and fume: screens, extraction at the arc, clothing and visor."
CAUTIONS = {
    CELL: f"{_ARC} Nobody inside the light curtain while the cell is armed; lock the gate before entering.",
    RIG: f"{_ARC} Keep hands and cables clear of the moving portal; dry flux is dusty.",
    BAY_1: f"{_ARC} No burning work near paint or oxygen; a fire watch stays half an hour.",
    BAY_2: f"{_ARC} Dry gloves and boots; switch off before changing electrodes in wet places.",
}
