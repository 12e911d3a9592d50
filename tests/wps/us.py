"""Records and drafts to AWS D1.1 and ASME IX, in full: figures as a US shop writes them, kept in SI."""

from datetime import date
from decimal import Decimal
from typing import Any

from tests.wps.factory import PREPARATION
from wps import workflow
from wps.models import ProcedureRevision, ProcedureRun, Road, TestRecord

AWS, ASME = "AWS D1.1:2020", "ASME IX:2021"
A36 = {"group": "", "yield_mpa": None, "grade": "A36"}
HALF_INCH, QUARTER_INCH = "12.7", "6.35"
GROOVE: dict[str, Any] = {
    "weld_type": "butt_cjp", "joint_type": "butt", "groove_type": "single_v", "groove_angle": "45",
    "root_opening": QUARTER_INCH, "root_face": "0", "weld_detail": "ss_mb", "backing_material": "steel",
}  # fmt: skip
AWS_PIECE: dict[str, Any] = {
    **GROOVE, "unit_system": "us", "contractor": "Fabricator North", "process": "135", "product": "plate",
    "mechanisation": "partly_mechanised", "parent_t": HALF_INCH, "steels": [A36, A36], "run_type": "multi_run",
    "aws_position": "1G", "filler_designation": "ER70S-6", "filler_diameter": "1.143", "electrodes": "1",
    "current_type": "DC+", "current": "250", "voltage": "28", "travel_speed": "304.8", "power_output": "cv",
    "transfer_mode": "spray", "gas_mixture": "90Ar/10CO2", "gas_flow": "19", "preheat": "20", "interpass_min": "20",
    "pwht": "no", "impact_tested": "no",
}  # fmt: skip
AWS_WINDOW: dict[str, Any] = {
    **{name: [value] for name, value in GROOVE.items() if name not in ("groove_angle", "root_opening", "root_face")},
    "groove_angle": "45", "root_opening": QUARTER_INCH, "root_face": "0", "unit_system": ["us"],
    "contractor": "Fabricator North", "process": ["135"], "product": ["plate"], "mechanisation": ["partly_mechanised"],
    "parent_t": {"min": QUARTER_INCH, "max": "19.05"}, "steels": [A36, A36], "run_type": ["multi_run"],
    "aws_position": ["1G"], "filler_designation": "ER70S-6", "electrodes": "1", "current_type": ["DC+"],
    "power_output": ["cv"], "transfer_mode": ["spray"], "gas_mixture": "90Ar/10CO2", "preheat": "20",
    "interpass_min": "20", "pwht": ["no"], "impact_required": ["no"],
}  # fmt: skip
US_PREPARATION = PREPARATION | {
    "kind": "single_v", "angle_deg": "45", "gap_mm": QUARTER_INCH, "root_face_mm": "0", "peening": "none",
}  # fmt: skip
US_RUN: dict[str, Any] = {
    "order": 1, "layer": "all passes", "process": "135", "filler_designation": "ER70S-6",
    "diameter_mm": Decimal("1.143"), "current_type": "DC+", "current_min_a": Decimal(240),
    "current_max_a": Decimal(260), "voltage_min_v": Decimal(27), "voltage_max_v": Decimal(29),
    "speed_min_mm_min": Decimal("254"), "speed_max_mm_min": Decimal("355.6"), "gas_flow_min_l_min": Decimal(18),
    "gas_flow_max_l_min": Decimal(20),
}  # fmt: skip
FILLET: dict[str, Any] = {
    "unit_system": ["us"], "process": ["136"], "mechanisation": ["partly_mechanised"], "weld_type": ["fillet"],
    "joint_type": ["tee"], "product": ["plate"], "steels": [A36, A36], "parent_t": {"min": "6.35", "max": "19.05"},
    "leg_z": "6.35", "aws_position": ["2F"], "run_type": ["single_run"], "filler_designation": "E71T-1C",
    "gas_mixture": "CO2", "in_makers_range": ["yes"], "power_output": ["cv"], "current_type": ["DC+"],
    "preheat": "10", "pwht": ["no"], "impact_required": ["no"], "cyclic_load": ["no"], "weld_pass": ["root"],
    "root_pass_t": "6.35",
}  # fmt: skip
ASME_PIECE: dict[str, Any] = {
    "unit_system": "si", "process": "135", "mechanisation": "partly_mechanised",
    "steels": [{"group": "P-1 Gr 1", "yield_mpa": None, "grade": ""}] * 2, "weld_type": "butt_cjp",
    "joint_type": "butt", "product": "plate", "parent_t": "12", "deposit_t": "12", "position": "PA", "max_run_t": "5",
    "f_number": "F6", "a_number": "A1", "filler_designation": "ER70S-6", "filler_diameter": "1.2", "gas": "M21",
    "gas_co2": "18", "transfer_mode": "spray", "extra_filler": "none", "preheat": "20", "pwht": "no",
    "current_type": "DC+", "impact_tested": "no", "product_form": "solid",
}  # fmt: skip
ASME_WINDOW: dict[str, Any] = {
    "process": ["135"], "mechanisation": ["partly_mechanised"],
    "steels": [{"group": "P-1 Gr 1", "yield_mpa": None, "grade": ""}] * 2, "weld_type": ["butt_cjp"],
    "joint_type": ["butt"], "product": ["plate"], "parent_t": {"min": "5", "max": "24"},
    "deposit_t": {"min": "5", "max": "24"}, "root_opening": "3", "weld_detail": ["ss_mb"], "position": ["PA"],
    "max_run_t": "6", "f_number": ["F6"], "a_number": ["A1"], "filler_designation": "ER70S-6", "gas": ["M21"],
    "gas_co2": "18", "transfer_mode": ["spray"], "extra_filler": ["none"], "product_form": ["solid"], "preheat": "20",
    "interpass": "250", "pwht": ["no"], "current_type": ["DC+"], "run_type": ["multi_run"],
    "wire_system": ["single"], "impact_required": ["no"],
}  # fmt: skip


def us_record(code: str, number: str = "PQR 7", **piece: Any) -> TestRecord:
    """A record to AWS D1.1 or ASME IX, with changes to its piece."""
    pieces = [(AWS_PIECE if code.startswith("AWS") else ASME_PIECE) | piece]
    return TestRecord.objects.create(number=number, code=code, welded_on=date(2024, 5, 6), pieces=pieces)


def us_draft(
    author: Any, code: str, records: list[TestRecord], number: str = "WPS 7", **window: Any
) -> ProcedureRevision:
    """A complete draft on the road by test, with changes to its window."""
    own = (AWS_WINDOW if code.startswith("AWS") else ASME_WINDOW) | window
    gap = {"gap_mm": QUARTER_INCH if code.startswith("AWS") else "3"}
    return _draft(author, number, code, own, records, [US_RUN], US_PREPARATION | gap)


def prequalified_draft(
    author: Any, number: str = "WPS 8", code: str = AWS, run: dict[str, Any] | None = None, **window: Any
) -> ProcedureRevision:
    """A complete draft on the prequalified road: 1/4 in fillets in 2F with E71T-1C."""
    one = US_RUN | {"process": "136", "filler_designation": "E71T-1C", "diameter_mm": Decimal("1.5875")} | (run or {})
    draft = _draft(author, number, code, FILLET | window, [], [one], US_PREPARATION | {"kind": "none"})
    draft.road = Road.PREQUALIFIED
    draft.save()
    return draft


def _draft(
    author: Any, number: str, code: str, window: dict[str, Any], records: list[TestRecord], runs: list[dict[str, Any]],
    preparation: dict[str, Any],
) -> ProcedureRevision:  # fmt: skip
    draft = workflow.start_procedure(number, "Plate work", code, author)
    draft.window, draft.preparation = window, preparation
    draft.save()
    draft.records.set(records)
    for run in runs:
        ProcedureRun.objects.create(revision=draft, **run)
    return draft
