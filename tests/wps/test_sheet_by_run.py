"""The full specification names the runs that a figure belongs to, with the decimals of the table of runs."""

from decimal import Decimal as D

import pytest

from codes.units import System
from tests.wps.sheet_samples import BUTT, THREE_RUNS, revision, run, two_processes
from wps.models import ProcedureRevision
from wps.sheet_data import sheet_data
from wps.sheet_fields import sections

pytestmark = pytest.mark.django_db
WITHOUT_HEAT = {name: value for name, value in BUTT.items() if name != "heat_input"}


def stated(one: ProcedureRevision, system: System = System.SI) -> dict[str, str]:
    return {line.label: line.said for section in sections(one, system) for line in section.lines}


def test_figures_of_several_runs_name_their_runs() -> None:
    said = stated(revision(window=WITHOUT_HEAT))
    assert said["Current"] == "run 1: 120 to 140 A; runs 2–3: 220 to 250 A; runs 4–5: 210 to 240 A"
    assert said["Travel speed"] == "run 1: 180 to 220 mm/min; runs 2–3, 4–5: 250 to 350 mm/min"
    assert (said["Wire feed speed"], said["Filler diameter"]) == ("6 to 9 m/min", "1.2 mm")


@pytest.mark.parametrize("system", System)
def test_they_read_as_in_the_table(system: System) -> None:
    """250 to 350 mm/min is 9.9 to 13.7 in/min; 508 mm/min is 20 in/min, in a column of tenths 20.0."""
    cap = run(3, "cap", (210, 240), (25, 27), speed_min_mm_min=D(508), speed_max_mm_min=D(550))
    one = revision(window=WITHOUT_HEAT, runs=[*THREE_RUNS[:2], cap])
    table, said = sheet_data(one, system, one.approved_on).runs, stated(one, system)
    for label, head in (("Heat input", "Heat input"), ("Travel speed", "Speed"), ("Arc voltage", "Voltage")):
        at = [name for name, _ in table.heads].index(head)
        for row in table.rows:
            assert f"{row[0]}: {row[at].replace('–', ' to ')} {table.heads[at][1]}" in said[label]
    assert "20.0 to 21.6 in/min" in stated(one, System.US)["Travel speed"]


def test_one_run_needs_no_name_and_what_the_window_states_stands() -> None:
    said = stated(revision(runs=THREE_RUNS[1:2]))
    assert (said["Current"], said["Heat input"]) == ("220 to 250 A", "0.6 to 1.6 kJ/mm")
    assert stated(revision(number="WPS 015", runs=[]))["Heat input"] == "0.6 to 1.6 kJ/mm"


def test_of_several_processes_each_names_its_own_runs() -> None:
    said = stated(two_processes())["Current"]
    assert said.startswith("141 · GTAW: 90 to 120 A; 135 · GMAW: ")
    assert "run 1" not in said
