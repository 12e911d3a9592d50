"""A steel grade that the firm states is known by imports, forms, demands, procedures and the check of weld data."""

from typing import Any

import pytest

from codes.values import Steel, SteelPair
from joints.demands import joint_demand
from joints.imports import cells
from joints.own_grades import joints_in
from joints.weld_data.steel import known
from register.held.firm import firm_settings
from register.held.grades import state_grade, withdraw_grade
from tests.joints.makers import make_joint
from wps.forms.values import completed

pytestmark = pytest.mark.django_db
GRADE = "Rail X700"


@pytest.fixture
def stated(coordinator: Any) -> Any:
    """Group 3.1, 700 MPa to 50 mm."""
    own = {"name": GRADE, "group": "3.1", "source": "data sheet 12, 2026", "standard": "", "note": ""}
    state_grade(coordinator, "crane rails", "up to 50 mm: 700 MPa\nany: 650", **own)
    return coordinator


def demand(settings: Any) -> tuple[Any, tuple[str, ...]]:
    joint = make_joint(grade_1="rail x-700", grade_2="S355J2")
    found = joint_demand(joint, joint.assembly.job, settings).final
    return found.demands[0].get("steels"), found.notes


def test_a_joint_asks_with_group_and_yield_of_the_firms_grade(stated: Any) -> None:
    steels, _ = demand(firm_settings())
    assert steels == SteelPair(Steel("3.1", 700, GRADE), Steel("1.2", 355, "S355J2"))  # type: ignore[arg-type]


def test_and_is_not_stated_once_it_is_withdrawn(stated: Any) -> None:
    withdraw_grade(stated, GRADE, "the mill closed")
    steels, notes = demand(firm_settings())
    assert steels is None and "“" not in notes[0] and "not a steel grade held here" in notes[0]
    with pytest.raises(cells.BadCell):
        cells.grade(GRADE)


def test_imports_forms_and_the_check_of_weld_data_know_it(stated: Any) -> None:
    assert cells.grade("rail x700") == "rail x700"
    assert known("RAIL X700") and not known("Rail X701")
    (pair,) = completed([[{"grade": GRADE}, {"grade": GRADE}]])
    assert pair[0] == {"grade": GRADE, "group": "3.1", "yield_mpa": "700"}


@pytest.mark.parametrize(("written", "found"), [("RAIL-X700+N", "1 joint"), ("Rail X701", "")])
def test_joints_that_name_it_are_counted_however_they_spell_it(db: None, written: str, found: str) -> None:
    make_joint(grade_1=written)
    assert joints_in(GRADE) == found
