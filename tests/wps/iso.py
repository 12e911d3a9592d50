"""A record and a draft to ISO 15614-1:2017 level 2, in full: fillet welds by a robot, 12 mm."""

from datetime import date
from decimal import Decimal
from typing import Any

from tests.wps.factory import KNOWN_CODE, PREPARATION, RUN
from wps import workflow
from wps.models import ProcedureRevision, ProcedureRun, TestRecord

STEEL = {"group": "1.2", "yield_mpa": "355", "grade": "S355J2+N"}
PIECE: dict[str, Any] = {
    "process": "135", "mechanisation": "automatic", "robot": "yes", "steels": [STEEL, STEEL], "weld_type": "fillet",
    "joint_type": "tee", "product": "plate", "parent_t": ["12"], "throat_a": "5", "run_type": ["multi_run"],
    "position": ["PB"], "impact_tested": "no", "hardness_tested": "yes", "hardness_hv10": "310", "filler_type": "S",
    "filler_designation": "ISO 14341-A G 42 4 M21 3Si1", "filler_diameter": ["1.2"], "current_type": ["DC+"],
    "pulsed_current": "no", "current": "260", "voltage": "28", "travel_speed": "420", "heat_measure": "heat_input",
    "heat_input": ["0.83"], "preheat": "20", "interpass": "180", "post_heat": "no", "pwht": "no",
    "wire_system": "single", "transfer_mode": ["spray"], "gas": "M21", "gas_co2": "18",
}  # fmt: skip
WINDOW: dict[str, Any] = {
    "process": ["135"], "mechanisation": ["automatic"], "robot": ["yes"], "weld_type": ["fillet"],
    "joint_type": ["tee"], "product": ["plate"], "steels": [STEEL, STEEL], "parent_t": {"min": "6", "max": "24"},
    "throat_a": {"min": "5", "max": "8"}, "run_type": ["multi_run"], "position": ["PA", "PB"], "filler_type": ["S"],
    "filler_designation": "ISO 14341-A G 42 4 M21 3Si1", "filler_make": "Ferrolin S-3",
    "current_type": ["DC+"], "pulsed_current": ["no"],
    "heat_measure": ["heat_input"], "preheat": "20", "interpass": "180", "post_heat": ["no"], "pwht": ["no"],
    "wire_system": ["single"], "transfer_mode": ["spray"], "gas": ["M21"], "gas_co2": "18",
    "impact_required": ["no"], "hardness_required": ["no"],
}  # fmt: skip


def iso_record(number: str = "WPQR 012", **piece: Any) -> TestRecord:
    """The record, with changes to its piece."""
    return TestRecord.objects.create(
        number=number, code=KNOWN_CODE, level=2, welded_on=date(2024, 5, 6), pieces=[PIECE | piece]
    )


def iso_draft(author: Any, records: list[TestRecord], number: str = "WPS 014", **window: Any) -> ProcedureRevision:
    """The draft, complete, with changes to its window."""
    draft = workflow.start_procedure(number, "Stiffeners and end plates, robot cell", KNOWN_CODE, author)
    draft.window = WINDOW | window
    draft.preparation = PREPARATION | {"kind": "none", "torch_angle": "45°"}
    draft.save()
    draft.records.set(records)
    feed = {"wire_feed_min_m_min": Decimal(8), "wire_feed_max_m_min": Decimal("9.5")}
    ProcedureRun.objects.create(revision=draft, **RUN | feed)
    return draft
