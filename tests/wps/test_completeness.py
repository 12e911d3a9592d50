"""What a specification must state before it is checked: each need arises where its condition holds, and only there."""

from typing import Any

import pytest

from tests.wps.factory import RUN
from wps.completeness import NEEDS, missing
from wps.models import ProcedureRevision, ProcedureRun
from wps.runs import FROM_RUNS


def _labels(draft: ProcedureRevision) -> list[str]:
    return [one.label for one in missing(draft)]


def test_a_complete_draft_lacks_nothing(draft: ProcedureRevision) -> None:
    assert missing(draft) == ()


STATED = sorted(
    {need.variable for need in NEEDS if not need.when} - set(FROM_RUNS) | {"throat_a", "gas", "transfer_mode"}
)


@pytest.mark.parametrize("name", [name for name in STATED if name != "process"])
def test_each_stated_value_is_missed(draft: ProcedureRevision, name: str) -> None:
    del draft.window[name]
    assert [one.variable for one in missing(draft)] == [name]


CONDITIONS = [
    ({"product": ["pipe"]}, "Outside diameter"),
    ({"run_type": ["multi_run"]}, "Interpass temperature"),
    ({"weld_type": ["butt_cjp"]}, "Deposited thickness"),
    ({"weld_type": ["butt_cjp"]}, "Sides and backing"),
    ({"weld_detail": ["bs"]}, "Root gouging"),
    ({"joint_type": ["branch"]}, "Branch angle"),
    ({"pwht": ["yes"]}, "Heat treatment temperature"),
    ({"impact_required": ["yes"]}, "Impact test temperature"),
    ({"mechanisation": ["automatic"]}, "Wire feed speed"),
    ({"process": ["121"]}, "Flux designation"),
]


@pytest.mark.parametrize(("change", "label"), CONDITIONS)
def test_a_need_arises_where_its_condition_holds(draft: ProcedureRevision, change: Any, label: str) -> None:
    assert label not in _labels(draft)
    draft.window |= change
    assert label in _labels(draft)


def test_heat_input_is_needed_where_toughness_is_and_comes_from_the_runs(draft: ProcedureRevision) -> None:
    draft.window |= {"impact_required": ["yes"], "impact_temperature": "-20"}
    assert missing(draft) == ()
    draft.runs.update(voltage_min_v=None)
    assert _labels(draft) == ["Heat input"]


def test_no_filler_is_needed_without_filler(draft: ProcedureRevision) -> None:
    draft.window |= {"process": ["142"]}
    del draft.window["filler_designation"]
    draft.runs.update(process="142", filler_designation="", diameter_mm=None)
    assert missing(draft) == ()


@pytest.mark.parametrize(("key", "label"), [("kind", "Joint preparation"), ("method", "How edges are cut and cleaned")])
def test_the_preparation_is_needed(draft: ProcedureRevision, key: str, label: str) -> None:
    del draft.preparation[key]
    assert _labels(draft) == [label]


def test_runs_are_needed_for_every_process(draft: ProcedureRevision) -> None:
    draft.window["process"] = ["135", "136"]
    assert "A run of process 136 (ISO 15609-1:2019, 4.4.2)" in [one.sentence for one in missing(draft)]
    ProcedureRun.objects.create(revision=draft, **RUN | {"order": 2, "process": "136"})
    assert "A run" not in _labels(draft)
    draft.runs.all().delete()
    assert "Runs with their parameters" in _labels(draft)


def test_a_run_states_process_and_gas_flow(draft: ProcedureRevision) -> None:
    draft.runs.update(gas_flow_max_l_min=None)
    assert _labels(draft) == ["Gas flow of run 1"]
    draft.runs.update(process="")
    assert "Process of run 1" in _labels(draft)


def test_it_serves_something(draft: ProcedureRevision) -> None:
    draft.serves_final = False
    assert _labels(draft) == ["Whether it serves tack or final welding"]


def test_what_cannot_be_read_is_missing(draft: ProcedureRevision) -> None:
    draft.window["parent_t"] = "thick"
    assert "parent_t" in missing(draft)[0].label
