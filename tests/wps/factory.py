"""Records, drafts and approved revisions for tests. All people and numbers are invented."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from tests.wps.trial import KEY
from wps import workflow
from wps.models import ProcedureRevision, ProcedureRun, TestRecord

KNOWN_CODE = "ISO 15614-1:2017"
"""A code that is found without the made-up one."""
PIECE: dict[str, Any] = {
    "process": "135",
    "parent_t": "12",
    "position": ["PA", "PB"],
    "steels": [{"group": "1.2", "yield_mpa": "355", "grade": "S355J2+N"}],
    "heat_input": "1.2",
}
WINDOW: dict[str, Any] = {
    "process": ["135"],
    "mechanisation": ["partly_mechanised"],
    "steels": [{"group": "1.2", "yield_mpa": "355", "grade": ""}],
    "product": ["plate"],
    "parent_t": {"min": "6", "max": "24"},
    "joint_type": ["tee"],
    "weld_type": ["fillet"],
    "throat_a": {"min": "3", "max": "6"},
    "run_type": ["single_run"],
    "position": ["PA", "PB"],
    "filler_designation": "ISO 14341-A G 42 4 M21 3Si1",
    "filler_make": "Ferrolin S-3",
    "wire_system": ["single"],
    "current_type": ["DC+"],
    "transfer_mode": ["spray"],
    "preheat": "20",
    "pwht": ["no"],
    "gas": ["M21"],
    "impact_required": ["no"],
    "hardness_required": ["no"],
}
PREPARATION = {
    "kind": "square",
    "method": "sawn or thermally cut, ground clean",
    "technique": "stringer",
    "stick_out_mm": "15 to 18",
    "gas_nozzle": "16 mm",
}
RUN: dict[str, Any] = {
    "order": 1,
    "layer": "single run",
    "process": "135",
    "filler_designation": "G 42 4 M21 3Si1",
    "diameter_mm": Decimal("1.2"),
    "current_type": "DC+",
    "current_min_a": Decimal(220),
    "current_max_a": Decimal(260),
    "voltage_min_v": Decimal(25),
    "voltage_max_v": Decimal(28),
    "speed_min_mm_min": Decimal(350),
    "speed_max_mm_min": Decimal(450),
    "gas_flow_min_l_min": Decimal(14),
    "gas_flow_max_l_min": Decimal(18),
}


def make_record(number: str = "WPQR 001", piece: dict[str, Any] | None = None, **facts: Any) -> TestRecord:
    """A record to the trial code: one piece, 12 mm, unless told otherwise."""
    given = {"code": KEY, "welded_on": date(2024, 5, 6), "pieces": [PIECE | (piece or {})]}
    return TestRecord.objects.create(number=number, **given | facts)


def complete_draft(
    author: Any, records: Iterable[TestRecord], number: str = "WPS 001", window: dict[str, Any] | None = None
) -> ProcedureRevision:
    """A draft that states all that must be stated, with the records as its support."""
    draft = workflow.start_procedure(number, "Fillet welds of stiffeners", KEY, author)
    draft.window = WINDOW | (window or {})
    draft.preparation = dict(PREPARATION)
    draft.save()
    draft.records.set(records)
    ProcedureRun.objects.create(revision=draft, **RUN)
    return draft


def approved(draft: ProcedureRevision, by: Any, on: date) -> ProcedureRevision:
    """The draft, checked and approved on a day by somebody else than its author."""
    workflow.check_revision(draft, by, on)
    return workflow.approve(draft, by, on)
