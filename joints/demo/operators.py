"""Test pieces of operators and weld setters of the invented shop (ISO 14732:2013), from a short line."""

from typing import Any

from joints.demo.firm import ROBOT, TRACTOR

_BOTH: dict[str, Any] = {
    "operator_method": "procedure_test",
    "functional_knowledge": "yes",
    "multi_arc": "no",
    "product": "plate",
}
_MACHINES: dict[str, dict[str, Any]] = {
    "robot": {"mechanisation": "automatic", "robot": "yes", "unit": ROBOT, "arc_sensor": "yes", "joint_sensor": "yes"},
    "saw": {
        "mechanisation": "fully_mechanised",
        "unit": TRACTOR,
        "joint_tracking": "yes",
        "arc_length_control": "yes",
        "visual_control": "direct",
    },
}
_WELDS: dict[str, dict[str, Any]] = {
    "single": {"run_type": "single_run", "weld_type": "fillet"},
    "multi": {"run_type": "multi_run", "weld_type": "fillet"},
    "butt": {"run_type": "multi_run", "weld_type": "butt_cjp", "weld_detail": "bs"},
}


def operator_piece(line: str) -> dict[str, Any]:
    """The test piece of a line such as "robot 135 multi" or "saw 121 butt PA"."""
    machine, process, weld, *position = line.split()
    where = {"position": position[0]} if position else {"position": "PB"}
    return _BOTH | _MACHINES[machine] | {"process": process} | _WELDS[weld] | where
