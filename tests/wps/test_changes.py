"""What changed between two revisions, in words; and who changed what on a page."""

from typing import Any

from tests.wps.factory import RUN, make_record
from wps import workflow
from wps.changes import Change, changes
from wps.content import content
from wps.models import ProcedureRevision, ProcedureRun
from wps.trail import trail


def _changed(in_force: ProcedureRevision, by: Any, **fields: Any) -> tuple[Change, ...]:
    draft = workflow.start_revision(in_force.procedure, by)
    for name, value in fields.items():
        setattr(draft, name, value)
    draft.save()
    return changes(content(in_force), content(draft))


def test_a_copy_differs_in_nothing(in_force: ProcedureRevision, coordinator: Any) -> None:
    assert _changed(in_force, coordinator) == ()


def test_values_change_in_words(in_force: ProcedureRevision, coordinator: Any) -> None:
    window = in_force.window | {"parent_t": {"min": "6", "max": "20"}, "interpass": "180"}
    del window["gas"]
    kind = in_force.preparation | {"kind": "single_v"}
    found = _changed(in_force, coordinator, window=window, serves_tack=True, preparation=kind)
    assert set(found) == {
        Change("Tack welding", "no", "yes"),
        Change("Parent thickness", "6 to 24 mm", "6 to 20 mm"),
        Change("Interpass temperature", "", "180 °C"),
        Change("Shielding gas", "M21", ""),
        Change("Preparation", "square edges", "single V"),
    }


def test_what_differs_by_process(in_force: ProcedureRevision, coordinator: Any) -> None:
    (found,) = _changed(in_force, coordinator, process_windows={"135": {"position": ["PF"]}})
    assert found == Change("Position of process 135", "", "PF · 3G / 3F up")


def test_runs_and_records(in_force: ProcedureRevision, coordinator: Any) -> None:
    draft = workflow.start_revision(in_force.procedure, coordinator)
    draft.runs.update(current_max_a=250)
    ProcedureRun.objects.create(revision=draft, **RUN | {"order": 2, "layer": "cap"})
    draft.records.add(make_record("WPQR 002"))
    first, second, records = changes(content(in_force), content(draft))
    assert (first.label, "220–260 A" in first.before, "220–250 A" in first.after) == ("Run 1", True, True)
    assert (second.label, second.before, second.after.startswith("cap, ")) == ("Run 2", "", True)
    assert records == Change("Supporting records", "WPQR 001", "WPQR 001, WPQR 002")


def test_a_value_that_cannot_be_read_is_shown_as_it_stands(in_force: ProcedureRevision, coordinator: Any) -> None:
    window = in_force.window | {"parent_t": "thick"}
    assert Change("Parent thickness", "6 to 24 mm", "thick") in _changed(in_force, coordinator, window=window)


def test_who_changed_what(in_force: ProcedureRevision, second_coordinator: Any) -> None:
    workflow.withdraw(in_force, second_coordinator, in_force.approved_on, "the cell was rebuilt")
    said = [(entry.who, entry.what) for entry in trail(ProcedureRevision.objects.get(pk=in_force.pk))]
    assert ("second_coordinator", "withdrew it: the cell was rebuilt") in said
    assert ("second_coordinator", "approved it") in said
    assert ("coordinator", "started it") in said
