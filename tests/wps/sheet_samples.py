"""Revisions for the tests of sheets, as a shop would write them. All people, numbers and figures are invented."""

from datetime import date
from decimal import Decimal as D
from typing import Any

from django.contrib.auth.models import User

from tests.wps.factory import make_record
from wps.models import Procedure, ProcedureRevision, ProcedureRun, Status

CODE = "ISO 15614-1:2017"
STEEL = {"group": "1.2", "yield_mpa": "355", "grade": "S355J2+N"}
PIECE: dict[str, Any] = {
    "process": "135", "mechanisation": "partly_mechanised", "weld_type": "butt_cjp", "joint_type": "butt",
    "product": "plate", "steels": [STEEL, STEEL], "parent_t": "12", "deposit_t": "12", "position": "PA",
    "weld_detail": "ss_nb", "run_type": "multi_run", "filler_designation": "ISO 14341-A G 42 4 M21 3Si1",
    "gas": "M21", "current_type": "DC+", "transfer_mode": "spray", "preheat": "20", "interpass": "250", "pwht": "no",
    "heat_input": "1.2",
}  # fmt: skip
BUTT: dict[str, Any] = {
    "process": ["135"], "mechanisation": ["partly_mechanised"], "weld_type": ["butt_cjp"], "joint_type": ["butt"],
    "product": ["plate"], "steels": [STEEL], "parent_t": {"min": "6", "max": "24"},
    "deposit_t": {"min": "6", "max": "24"}, "position": ["PA", "PC", "PF"], "weld_detail": ["ss_nb"],
    "run_type": ["multi_run"], "filler_designation": "ISO 14341-A G 42 4 M21 3Si1", "gas": ["M21"], "gas_co2": "18",
    "current_type": ["DC+"], "transfer_mode": ["dip", "spray"], "preheat": "20", "interpass": "250", "pwht": ["no"],
    "impact_required": ["yes"], "impact_temperature": "-20", "hardness_required": ["no"],
    "heat_input": {"min": "0.6", "max": "1.6"},
}  # fmt: skip
V60 = {
    "kind": "single_v", "angle_deg": "60", "gap_mm": "2", "root_face_mm": "1",
    "tolerances": "gap +1 / -0 mm, angle ± 5°",
    "method": "thermally cut, ground clean, dry and free of grease",
    "tacking": "in the groove, ground to a feather edge",
    "technique": "stringer; weave at most 3 x wire diameter", "torch_angle": "75 to 85°", "stick_out_mm": "15 to 18",
}  # fmt: skip
FILLET: dict[str, Any] = {
    **{name: value for name, value in BUTT.items() if name not in ("deposit_t", "weld_detail", "gas_co2")},
    "process": ["138"], "mechanisation": ["automatic"], "robot": "yes", "weld_type": ["fillet"], "joint_type": ["tee"],
    "throat_a": {"min": "3", "max": "6"}, "parent_t": {"min": "6", "max": "40"}, "position": ["PA", "PB"],
    "run_type": ["single_run"], "filler_designation": "ISO 17632-A T 46 4 M M21 1 H5", "transfer_mode": ["spray"],
    "heat_input": {"min": "0.8", "max": "1.5"},
}  # fmt: skip
CELL_PREP = {
    "kind": "none", "arrangement": "stiffener", "method": "blast cleaned, primer at most 25 µm",
    "tacking": "two tacks on each side, by the cell's tack program", "technique": "stringer",
}  # fmt: skip


def run(order: int, layer: str, current: tuple[int, int], volts: tuple[int, int], **more: Any) -> dict[str, Any]:
    """One row of runs with 1.2 mm wire; `more` replaces fields."""
    return {
        "order": order, "layer": layer, "process": "135", "filler_designation": "G 42 4 M21 3Si1",
        "diameter_mm": D("1.2"), "current_type": "DC+", "current_min_a": D(current[0]), "current_max_a": D(current[1]),
        "voltage_min_v": D(volts[0]), "voltage_max_v": D(volts[1]), "speed_min_mm_min": D(250),
        "speed_max_mm_min": D(350), "wire_feed_min_m_min": D(6), "wire_feed_max_m_min": D(9),
        "gas_flow_min_l_min": D(14), "gas_flow_max_l_min": D(18), **more,
    }  # fmt: skip


THREE_RUNS = [
    run(1, "root", (120, 140), (18, 20), speed_min_mm_min=D(180), speed_max_mm_min=D(220)),
    run(2, "fill 2-3", (220, 250), (25, 28)),
    run(3, "cap 4-5", (210, 240), (25, 27)),
]
ROBOT_RUN = [
    run(
        1, "one run", (260, 290), (28, 30), process="138", filler_designation="T 46 4 M M21 1 H5",
        speed_min_mm_min=D(420), speed_max_mm_min=D(480),
    )
]  # fmt: skip


def people() -> tuple[User, User, User]:
    """Author, checker, approver."""
    names = (("marta", "Marta", "Kowalczyk"), ("jonas", "Jonas", "Feld"), ("ines", "Inês", "Duarte"))
    return tuple(
        User.objects.get_or_create(username=user, defaults={"first_name": first, "last_name": last})[0]
        for user, first, last in names
    )  # type: ignore[return-value]


def revision(number: str = "WPS 014", letter: str = "C", approved: bool = True, **given: Any) -> ProcedureRevision:
    """A revision with runs and a record; approved at once unless told otherwise."""
    author, checker, approver = people()
    procedure, _ = Procedure.objects.get_or_create(
        number=number, defaults={"title": given.pop("title", "Butt welds of flange plates")}
    )
    runs, records = given.pop("runs", THREE_RUNS), given.pop("records", None)
    fields = {
        "code": CODE, "serves_tack": True, "window": BUTT, "preparation": V60, "workstation_note": "bays 1 and 2",
    } | given  # fmt: skip
    found = ProcedureRevision.objects.create(
        procedure=procedure,
        letter=letter,
        author=author,
        author_name=author.get_full_name(),
        editors=["marta"],
        **fields,
    )
    found.records.set(
        [make_record(f"WPQR {number[-3:]}{letter}", code=CODE, level=2, pieces=[PIECE])] if records is None else records
    )
    for one in runs:
        ProcedureRun.objects.create(revision=found, **one)
    return approve(found, checker, approver) if approved else found


def approve(found: ProcedureRevision, checker: User, approver: User) -> ProcedureRevision:
    """Checked and approved without asking whether its records cover it: sheets are tested here, not coverage."""
    found.status, found.checked_by, found.checked_on = Status.CHECKED, checker, date(2026, 2, 27)
    found.checked_name = checker.get_full_name()
    found.save()
    found.status, found.approved_by, found.approved_on = Status.APPROVED, approver, date(2026, 3, 2)
    found.approved_name = approver.get_full_name()
    found.save()
    return found


def robot(**given: Any) -> ProcedureRevision:
    """A fillet weld in the robot cell."""
    facts = {
        "number": "WPS 021", "letter": "A", "title": "Stiffeners, robot cell", "window": FILLET,
        "preparation": CELL_PREP, "runs": ROBOT_RUN, "workstation_note": "cell 1, rotator 0 to 270°",
    }  # fmt: skip
    return revision(**{**facts, **given})


def two_processes(**given: Any) -> ProcedureRevision:
    """Root by 141, fill and cap by 135."""
    window = {**BUTT, "process": ["141", "135"], "gas": [], "transfer_mode": []}
    parts = {
        "141": {
            "gas": ["I1"],
            "current_type": ["DC-"],
            "filler_designation": "ISO 636-A W 42 5 W3Si1",
            "mechanisation": ["manual"],
        },
        "135": {"gas": ["M21"], "transfer_mode": ["spray"]},
    }
    del window["filler_designation"]
    root = run(
        1, "root", (90, 120), (10, 12), process="141", filler_designation="W 42 5 W3Si1", diameter_mm=D("2.4"),
        current_type="DC-",
        wire_feed_min_m_min=None, wire_feed_max_m_min=None, speed_min_mm_min=D(60), speed_max_mm_min=D(90),
    )  # fmt: skip
    facts = {
        "number": "WPS 033",
        "letter": "B",
        "window": window,
        "process_windows": parts,
        "runs": [root, *THREE_RUNS[1:]],
    }
    return revision(**{**facts, **given})


def all_samples() -> dict[str, ProcedureRevision]:
    """One of each."""
    return {
        "butt": revision(),
        "robot": robot(),
        "two": two_processes(),
        "draft": revision("WPS 040", "A", approved=False, records=[], title="Trial of a narrow groove"),
    }
