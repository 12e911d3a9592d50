"""What a specification must state before it is checked: each need arises where its condition holds, and only there."""

from typing import Any

import pytest

from codes.iso_15609_1_2019 import FIELDS, Need
from codes.variables import VARIABLES
from tests.wps.factory import RUN
from wps.completeness import ALWAYS_KNOWN, FROM_PREPARATION, missing
from wps.models import ProcedureRevision, ProcedureRun


def _labels(draft: ProcedureRevision) -> list[str]:
    return [one.label for one in missing(draft)]


def test_a_complete_draft_lacks_nothing(draft: ProcedureRevision) -> None:
    assert missing(draft) == ()


STATED = [field.name for field in FIELDS if field.need is Need.ALWAYS and field.name in VARIABLES]


@pytest.mark.parametrize("name", [*(n for n in STATED if n != "process"), "throat_a", "gas", "filler_make"])
def test_each_stated_value_is_missed(draft: ProcedureRevision, name: str) -> None:
    del draft.window[name]
    assert name in [one.name for one in missing(draft)]


def test_every_field_of_the_standard_has_its_place() -> None:
    """In the window, in the preparation, in the runs, or known to the register itself."""
    runs_and_records = {"run_sequence", "gas_flow", "records"}
    placed = {*VARIABLES, *FROM_PREPARATION, *ALWAYS_KNOWN, *runs_and_records}
    assert {field.name for field in FIELDS if field.need is not Need.OPTIONAL} <= placed


CONDITIONS = [
    ({"product": ["pipe"]}, "Outside diameter"),
    ({"run_type": ["multi_run"]}, "Interpass temperature"),
    ({"weld_type": ["butt_cjp"]}, "Deposited thickness"),
    ({"weld_type": ["butt_cjp"]}, "Sides and backing"),
    ({"weld_detail": ["bs"]}, "Root gouging"),
    ({"weld_type": ["branch"]}, "Branch angle"),
    ({"pwht": ["yes"]}, "Heat treatment temperature"),
    ({"pulsed_current": ["yes"]}, "Program of the power source"),
    ({"process": ["141"]}, "Tungsten type and diameter"),
    ({"mechanisation": ["automatic"]}, "Wire feed speed"),
    ({"process": ["121"]}, "Flux designation"),
]


@pytest.mark.parametrize(("change", "label"), CONDITIONS)
def test_a_need_arises_where_its_condition_holds(draft: ProcedureRevision, change: Any, label: str) -> None:
    assert label not in _labels(draft)
    draft.window |= change
    assert label in _labels(draft)


def test_heat_input_is_needed_where_toughness_is_and_comes_from_the_runs(draft: ProcedureRevision) -> None:
    draft.window |= {"impact_required": ["yes"], "heat_measure": ["heat_input"]}
    assert missing(draft) == ()
    draft.runs.update(voltage_min_v=None)
    assert _labels(draft) == ["Arc voltage", "Heat input"]


def test_no_filler_is_needed_without_filler(draft: ProcedureRevision) -> None:
    draft.window |= {"process": ["142"]}
    for name in ("filler_designation", "filler_make"):
        del draft.window[name]
    draft.preparation["tungsten"] = "WL 15, 2.4 mm"
    draft.runs.update(process="142", filler_designation="", diameter_mm=None)
    assert missing(draft) == ()


TEXTS = [
    ("kind", "Sketch of the joint: angle, gap, root face"),
    ("method", "How edges are cut, cleaned, jigged and tacked"),
    ("technique", "Stringer or weave, widest run"),
    ("gas_nozzle", "Gas nozzle"),
    ("stick_out_mm", "Stick-out"),
]


@pytest.mark.parametrize(("key", "label"), TEXTS)
def test_the_texts_of_the_preparation_are_needed(draft: ProcedureRevision, key: str, label: str) -> None:
    del draft.preparation[key]
    assert _labels(draft) == [label]


def test_runs_are_needed_for_every_process(draft: ProcedureRevision) -> None:
    draft.window["process"] = ["135", "136"]
    assert "Sequence of runs of process 136 (ISO 15609-1:2019, 4.4.2)" in [one.sentence for one in missing(draft)]
    ProcedureRun.objects.create(revision=draft, **RUN | {"order": 2, "process": "136"})
    assert "Sequence of runs" not in _labels(draft)


def test_a_run_states_process_and_gas_flow(draft: ProcedureRevision) -> None:
    draft.runs.update(gas_flow_max_l_min=None)
    assert _labels(draft) == ["Gas flow"]
    draft.runs.update(process="")
    assert "Process of run 1" in _labels(draft)


def test_a_wps_rests_on_records(draft: ProcedureRevision) -> None:
    draft.records.clear()
    assert _labels(draft) == ["Records (WPQR) it rests on"]


def test_it_serves_something(draft: ProcedureRevision) -> None:
    draft.serves_final = False
    assert _labels(draft) == ["Whether it serves tack or final welding"]


def test_what_cannot_be_read_is_missing(draft: ProcedureRevision) -> None:
    draft.window["parent_t"] = "thick"
    assert "parent_t" in missing(draft)[0].label
