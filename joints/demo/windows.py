"""Words of the column `traits` of procedures.csv: what each adds to the ranges that a procedure states."""

from joints.demo.materials import (
    AUTOMATIC,
    MATCHING,
    PULSED,
    SOFT_WELD,
    STRONG,
    UP_TO_S355,
    UP_TO_S460M,
    UP_TO_S690Q,
    Plain,
)

SIZES = ("parent_t", "throat_a", "deposit_t", "diameter", "branch_angle")
"""Variables whose range is written low-high in the tables."""

_PLATE: Plain = {"product": "plate", "steels": UP_TO_S355}
_BUTT: Plain = {**_PLATE, "weld_type": "butt_cjp", "joint_type": ["butt", "tee", "corner"]}
_HOLLOW: Plain = {"product": "pipe", "rotated": ["no", "yes"], "steels": UP_TO_S355}

TRAITS: dict[str, Plain] = {
    "fillet": {**_PLATE, "weld_type": "fillet", "joint_type": ["tee", "lap", "corner", "cruciform"]},
    "butt_ceramic": {**_BUTT, "weld_detail": "ss_mb", "backing_stays": "no"},
    "butt_ground": {**_BUTT, "weld_detail": "bs", "gouging": "mechanical"},
    "butt_ungouged": {**_BUTT, "joint_type": "butt", "weld_detail": "bs", "gouging": ["none", "mechanical"]},
    "butt_tack": {
        **_BUTT,
        "weld_detail": ["ss_mb", "bs"],
        "backing_stays": "no",
        "gouging": ["none", "mechanical"],
    },
    "butt_open": {
        **_BUTT,
        "weld_detail": ["ss_nb", "bs"],
        "gouging": ["none", "mechanical"],
        "root_filler_type": "B",
    },
    "hollow_fillet": {**_HOLLOW, "weld_type": "fillet", "joint_type": ["tee", "lap", "corner"]},
    "hollow_butt": {**_HOLLOW, "weld_type": "butt_cjp", "joint_type": "butt", "weld_detail": "ss_nb"},
    "hollow_branch": {
        **_HOLLOW,
        "weld_type": "branch",
        "joint_type": "branch",
        "weld_detail": "ss_nb",
        "backing_gas": "none",
    },
    "single": {"run_type": "single_run", "filler_group": "FM1"},
    "multi": {"run_type": "multi_run", "filler_group": "FM1"},
    "automatic": AUTOMATIC,
    "tandem": {"wire_system": "tandem"},
    "pulsed": PULSED,
    "tough": {"impact_required": "yes", "impact_temperature": "-20", "heat_measure": "heat_input"},
    "s460": {"steels": UP_TO_S460M},
    "s690": {"steels": UP_TO_S690Q},
    "strong": {**STRONG, "filler_group": "FM2"},
    "matching": MATCHING,
    "soft": {**SOFT_WELD, "filler_group": "FM5"},
}
