"""Whole questions of every kind, to copy and change: `python3 -m codes --example NAME`. Invented firms and records."""

from collections.abc import Mapping
from dataclasses import dataclass

from codes.parse import Plain

Values = dict[str, Plain]


@dataclass(frozen=True, slots=True)
class Example:
    """A question, what it asks in words, and the exit code that answers it."""

    asks: str
    question: Mapping[str, Plain]
    code: int = 0


def _but(values: Values, *without: str, **changed: Plain) -> Values:
    return {name: value for name, value in values.items() if name not in without} | changed


WPQR: Values = {
    "level": 2, "process": "135", "mechanisation": "partly mechanised", "transfer_mode": "spray",
    "weld_type": "butt_cjp", "joint_type": "butt", "product": "plate", "parent_t": 12, "deposit_t": 12,
    "run_type": "multi_run", "position": "PA", "steels": "S355J2", "delivery_state": "N", "filler_type": "S",
    "filler_designation": "G 42 4 M21 3Si1", "gas": "M21", "gas_co2": 18, "wire_system": "single",
    "current_type": "DC+", "pulsed_current": "no", "heat_input": 1.2, "preheat": 20, "interpass": 200,
    "post_heat": "no", "pwht": "no", "impact_tested": "no", "hardness_tested": "yes", "weld_detail": "ss_nb",
    "backing_gas": "none",
}  # fmt: skip
ISO_JOINT = _but(
    WPQR, "impact_tested", "hardness_tested", parent_t=20, deposit_t=20, impact_required="no", hardness_required="no"
)
ISO_CODE = "ISO 15614-1:2017"
WINDOW = _but(ISO_JOINT, parent_t={"min": 6, "max": 60}, deposit_t={"min": 6, "max": 60})
PQR_AWS: Values = {
    "unit_system": "us", "contractor": "Northern Steel", "process": "GMAW", "transfer_mode": "spray",
    "mechanisation": "semiautomatic", "product": "plate", "weld_type": "butt_cjp", "joint_type": "butt",
    "groove_type": "single_v", "groove_angle": 45, "root_opening": "1/4 in", "root_face": 0, "weld_detail": "ss_mb",
    "backing_material": "steel", "steels": "A36", "parent_t": "1/2 in", "aws_position": "1G", "run_type": "multi_run",
    "filler_designation": "ER70S-6", "filler_diameter": "0.045 in", "electrodes": 1, "current": 250, "voltage": 28,
    "travel_speed": "12 in/min", "power_output": "cv", "current_type": "DCEP", "gas_mixture": "90Ar/10CO2",
    "gas_flow": "40 ft³/h", "preheat": "60 F", "interpass_min": "60 F", "pwht": "no",
}  # fmt: skip
WRITTEN: Values = {
    "unit_system": "us", "process": "FCAW", "mechanisation": "semiautomatic", "weld_type": "fillet",
    "joint_type": "tee", "steels": "A36", "parent_t": "1/2 in", "leg_z": "1/4 in", "aws_position": "2F",
    "run_type": "single_run", "filler_designation": "E71T-1C", "filler_diameter": "1/16 in", "current": 250,
    "voltage": 28, "travel_speed": "12 in/min", "current_type": "DCEP", "gas_mixture": "CO2", "preheat": "50 F",
    "pwht": "no", "impact_required": "no", "cyclic_load": "no", "in_makers_range": "yes", "weld_pass": "root",
    "root_pass_t": "1/4 in", "power_output": "cv",
}  # fmt: skip
PQR_FILL: Values = {
    "unit_system": "si", "process": "135", "mechanisation": "partly_mechanised", "steels": "P-1 Gr 1",
    "weld_type": "butt_cjp", "joint_type": "butt", "product": "plate", "parent_t": 40, "deposit_t": 40,
    "position": "PA", "max_run_t": 5, "f_number": "F6", "a_number": "A1", "filler_designation": "ER70S-6",
    "filler_diameter": 1.2, "gas": "M21", "gas_co2": 18, "transfer_mode": "spray", "extra_filler": "none",
    "preheat": 20, "pwht": "no", "current_type": "DC+", "impact_tested": "no",
}  # fmt: skip
PQR_ROOT = _but(
    PQR_FILL, "gas_co2", "transfer_mode", process="141", mechanisation="manual", parent_t=13, deposit_t=5, gas="I1",
    filler_diameter=2.4, current_type="DC-",
)  # fmt: skip
ROOT_ASKED = _but(
    PQR_ROOT, "impact_tested", "unit_system", place="root", parent_t=100, deposit_t=10, run_type="multi_run",
    impact_required="no", pressure_retaining="no",
)  # fmt: skip
WELDER: Values = {
    "process": "135", "transfer_mode": "spray", "product": "plate", "weld_type": "fillet", "filler_group": "FM1",
    "filler_type": "S", "parent_t": 10, "position": "PB", "run_type": "ml",
}  # fmt: skip
AWS_WELDER: Values = {
    "unit_system": "us", "contractor": "Northern Steel", "process": "SMAW", "filler_designation": "E7018",
    "weld_type": "groove", "product": "plate", "parent_t": "3/8 in", "aws_position": "3G", "progression": "uphill",
    "weld_detail": "ss_mb",
}  # fmt: skip
GATED: Values = {
    "qualification_route": "procedure_test", "level": 2, "last_used_on": "2026-03-02", "coordinator_level": "S",
    "impact_tested_at": -20,
}  # fmt: skip
EN_JOINT: Values = {
    "execution_class": "EXC3", "on": "2026-08-31", "phase": "final", "steels": "S355J2", "process": "135",
    "mechanisation": "partly mechanised", "weld_type": "butt_cjp", "parent_t": 12, "over_primer": "no",
    "deep_penetration": "no",
    "impact_required": "no",
}  # fmt: skip


def _record(kind: str, code: str, tested: Values, label: str = "", **life: Plain) -> Values:
    named: Values = {"kind": kind, "code": code, "label": label or code}
    return named | life | {"tested": tested}


def _look_up(name: str, **inputs: Plain) -> Values:
    return {"look_up": name} | inputs


EXAMPLES: Mapping[str, Example] = {
    "record": Example(
        "ISO 15614-1: does a record cover a joint?",
        {"record": _record("wpqr", ISO_CODE, WPQR, "WPQR 1"), "demand": ISO_JOINT},
    ),
    "window": Example(
        "ISO 15614-1: do several records together cover a WPS window? The piece that none covers is named",
        {
            "records": [
                _record("wpqr", ISO_CODE, WPQR, "WPQR 1"),
                _record("wpqr", ISO_CODE, _but(WPQR, parent_t=60, deposit_t=60), "WPQR 2"),
            ],
            "demand": WINDOW,
        },
        1,
    ),
    "combined": Example(
        "ASME IX: a root by one record on the base thickness of another (QW-200.4(b))",
        {
            "records": [
                _record("pqr", "ASME IX:2021", PQR_ROOT, "PQR 1"),
                _record("pqr", "ASME IX:2021", PQR_FILL, "PQR 2"),
            ],
            "demand": ROOT_ASKED,
        },
    ),
    "aws record": Example(
        "AWS D1.1: does a record cover a WPS, value by value?",
        {
            "record": _record("pqr", "AWS D1.1:2020", PQR_AWS | {"impact_tested": "no"}, "PQR 7"),
            "demand": PQR_AWS | {"parent_t": "3/4 in", "current": 270, "impact_required": "no"},
        },
    ),
    "prequalified": Example(
        "AWS D1.1: is what a WPS writes prequalified? Without a demand it is judged by what it writes itself",
        {"record": _record("prequalified", "AWS D1.1:2020 prequalified", WRITTEN, "WPS 8")},
    ),
    "not prequalified": Example(
        "the same with short circuit transfer: the reason why not",
        {
            "record": _record(
                "prequalified",
                "AWS D1.1:2020 prequalified",
                WRITTEN | {"process": "GMAW", "filler_designation": "ER70S-6", "transfer_mode": "short circuit"},
                "WPS 9",
            )
        },
        1,
    ),
    "gates": Example(
        "EN 1090-2: does a record count in an execution class on a day?",
        {"record": _record("gate", "EN 1090-2:2018", GATED, "WPQR 1"), "demand": EN_JOINT},
    ),
    "gate shut": Example(
        "the same for a record to level 1: the gate that fails is named",
        {"record": _record("gate", "EN 1090-2:2018", GATED | {"level": 1}, "WPQR 3"), "demand": EN_JOINT},
        1,
    ),
    "welder": Example(
        "ISO 9606-1: may a welder weld a joint on a day?",
        {
            "record": _record("welder", "ISO 9606-1:2012", WELDER, tested_on="2026-03-02", option="a"),
            "demand": WELDER | {"mechanisation": "partly mechanised", "parent_t": 8},
            "on": "2026-08-31",
        },
    ),
    "aws welder": Example(
        "AWS D1.1: the same, with a use that keeps the qualification in effect",
        {
            "record": _record(
                "welder",
                "AWS D1.1:2020",
                AWS_WELDER,
                tested_on="2026-03-02",
                events=[{"kind": "use", "on": "2026-06-10"}],
            ),
            "demand": AWS_WELDER
            | {"mechanisation": "manual", "joint_type": "butt", "parent_t": "3/4 in", "groove_angle": 45},
            "on": "2026-08-31",
        },
    ),
    "own grade": Example(
        "a joint in a steel that the firm adds, with its source",
        {
            "steel_grades": [{"name": "X355", "group": "1.2", "bands": "40:355", "source": "data sheet 12, 2026"}],
            "record": _record("wpqr", ISO_CODE, WPQR, "WPQR 1"),
            "demand": ISO_JOINT | {"steels": "X355"},
        },
    ),
    "grade": Example("group and yield of a steel grade", _look_up("grade", grade="S355J2+N", thickness=50)),
    "minimum fillet": Example(
        "AWS D1.1: smallest fillet", _look_up("minimum_fillet", thickness="3/4 in", unit_system="us", process="GMAW")
    ),
    "preheat": Example(
        "AWS D1.1: least preheat",
        _look_up("preheat", grade="A572 Gr 50", thickness="1-1/2 in", unit_system="us", process="GMAW"),
    ),
    "matching filler": Example(
        "AWS D1.1: does a filler match a steel?",
        _look_up("matching_filler", grade="A572 Gr 50", filler_designation="ER70S-6"),
    ),
    "heat input": Example(
        "a calculation",
        {
            "calculation": "heat_input",
            "inputs": {"process": "135", "voltage": 28, "current": 250, "travel_speed": 400},
        },
    ),
}
"""Name -> example. A test asks each and compares the exit code."""
