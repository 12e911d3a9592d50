"""A joint on file as demands; sizes that follow from others; what is not said stays unstated."""

from decimal import Decimal as D

import pytest

from codes.values import Steel, SteelPair
from joints.demands import joint_demand
from joints.models import Job, Joint, Workstation
from joints.order import natural_key
from joints.sizes import contradict, leg_of_throat, throat_of_leg

CELL = Workstation(
    name="Cell A",
    kind="robotic_cell",
    processes=["135"],
    mechanisation="automatic",
    unit="Arm 6 with control C4",
    arc_sensor="yes",
    joint_sensor="no",
)
BAY = Workstation(
    name="Bay 1", kind="manual_bay", processes=["135", "111"], mechanisation="partly_mechanised", unit="x"
)


def joint(**changes: object) -> Joint:
    fields = {
        "number": "1",
        "weld_type": "fillet",
        "grade_1": "S355J2",
        "grade_2": "S235JR",
        "t1_mm": D(12),
        "t2_mm": D(20),
        "throat_mm": D(5),
        "final_process": "135",
        "final_workstation": CELL,
        "tack_process": "135",
        "tack_workstation": BAY,
        "tack_throat_mm": D(3),
    }
    return Joint(**(fields | changes))


def demand(phase: str = "final", job: Job | None = None, **changes: object):
    found = joint_demand(joint(**changes), job or Job(number="1", title="x"))
    return getattr(found, phase).demands[0]


@pytest.mark.parametrize(("leg", "throat"), [("10", "7.07"), ("7", "4.95"), ("5", "3.54"), ("7.08", "5.01")])
def test_leg_to_throat(leg: str, throat: str) -> None:
    assert throat_of_leg(D(leg)) == D(throat)


def test_throat_to_leg_and_back() -> None:
    assert leg_of_throat(D(5)) == D("7.07")
    assert throat_of_leg(leg_of_throat(D(5))) == D(5)


@pytest.mark.parametrize(
    ("leg", "says"), [("7", False), ("6.36", False), ("6.35", True), ("7.78", False), ("7.79", True)]
)
def test_throat_and_leg_contradict_beyond_half_a_millimetre(leg: str, says: bool) -> None:
    assert contradict(D(5), D(leg)) is says


def test_a_fillet_states_both_thicknesses_and_its_throat() -> None:
    found = demand()
    assert found["parent_t"] == (D(12), D(20))
    assert found["throat_a"] == D(5)
    assert "deposit_t" not in found
    assert found["steels"] == SteelPair(Steel("1.2", D(355), "S355J2"), Steel("1.1", D(235), "S235JR"))


@pytest.mark.parametrize(
    ("changes", "name", "value"),
    [
        ({"throat_mm": None, "leg_mm": D(10)}, "throat_a", D("7.07")),
        ({"throat_mm": None}, "throat_a", None),
        ({"weld_type": "butt_cjp"}, "deposit_t", D(12)),
        ({"weld_type": "butt_cjp", "t2_mm": None}, "deposit_t", None),
        ({"weld_type": "butt_pjp", "penetration_mm": D(6)}, "deposit_t", D(6)),
        ({"weld_type": "butt_pjp"}, "deposit_t", None),
        ({"weld_type": "butt_cjp", "final_process": "141+135"}, "deposit_t", None),
        ({"weld_type": "butt_cjp", "final_process": "141+135"}, "joint_deposit_t", D(12)),
        ({"weld_type": "butt_cjp", "final_process": "141+135"}, "joint_processes", "141/135"),
        ({"final_process": "135"}, "joint_processes", "135"),
        ({"t2_mm": None}, "parent_t", None),
        ({"t2_mm": D(12)}, "parent_t", D(12)),
        ({"position": "PB"}, "position", "PB"),
        ({}, "position", None),
        ({"grade_2": ""}, "steels", None),
        ({"weld_detail": "ss_nb"}, "gouging", "none"),
        ({"weld_detail": "bs"}, "gouging", None),
        ({"weld_type": ""}, "throat_a", None),
    ],
)
def test_what_a_joint_says_and_what_it_leaves_open(changes: dict[str, object], name: str, value: object) -> None:
    assert demand(**changes).get(name) == value


def test_an_unknown_grade_leaves_the_steels_open_and_says_why() -> None:
    found = joint_demand(joint(grade_1="S999"), Job())
    assert "steels" not in found.final.demands[0]
    assert any('"S999" is not a steel grade held here' in note for note in found.final.notes)


def test_each_process_makes_a_demand() -> None:
    found = joint_demand(joint(final_process="141+135"), Job())
    assert [d["process"] for d in found.final.demands] == ["141", "135"]


def test_a_machine_states_its_unit_and_sensors_a_hand_does_not() -> None:
    final, tack = demand("final"), demand("tack")
    assert (final["mechanisation"], final["robot"], final["role"]) == ("automatic", "yes", "operator")
    assert (final["unit"], final["arc_sensor"], final["joint_sensor"]) == ("Arm 6 with control C4", "yes", "no")
    assert (tack["mechanisation"], tack["robot"]) == ("partly_mechanised", "no")
    assert not {"unit", "role", "arc_sensor"} & set(tack)


def test_a_tack_is_one_run_of_its_own_throat() -> None:
    tack = demand("tack")
    assert (tack["run_type"], tack["throat_a"]) == ("single_run", D(3))
    assert demand("tack", weld_type="butt_cjp")["deposit_t"] == D(3)
    assert "throat_a" not in demand("tack", tack_throat_mm=None)


def test_a_phase_without_process_or_workstation_states_neither() -> None:
    found = demand("tack", tack_process="", tack_workstation=None)
    assert not {"process", "mechanisation"} & set(found)


def test_the_job_states_its_requirements() -> None:
    job = Job(impact_required=True, impact_temperature_c=D(-20), execution_class="EXC3", level=2)
    found = demand(job=job)
    assert found["impact_temperature"] == D(-20)
    assert (found["impact_required"], found["hardness_required"], found["pwht"]) == ("yes", "no", "no")
    assert (found["execution_class"], found["level"]) == ("EXC3", D(2))
    assert "impact_temperature" not in demand(job=Job(impact_temperature_c=D(-20)))


def test_yield_by_band_is_the_firms_choice() -> None:
    thick = joint(t1_mm=D(50), t2_mm=D(50), grade_2="S355J2")
    by_grade = joint_demand(thick, Job()).final.demands[0]["steels"]
    by_band = joint_demand(thick, Job(), {"yield_by_band": "by band"}).final.demands[0]["steels"]
    assert (by_grade.first.yield_mpa, by_band.first.yield_mpa) == (D(355), D(335))


@pytest.mark.parametrize(("first", "second"), [("B2", "B10"), ("b2", "B3"), ("9", "10"), ("B1-9", "B1-10"), ("", "1")])
def test_marks_in_the_order_people_count(first: str, second: str) -> None:
    assert natural_key(first) < natural_key(second)
