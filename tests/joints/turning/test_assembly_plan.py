"""The plan of an assembly on file: what is covered where, within the arc, and why a weld has no stop."""

from decimal import Decimal as D
from typing import Any

import pytest

from codes.clauses import Clause, Mark
from codes.limits import Limit, OneOf
from joints.day import Day
from joints.models import Assembly
from joints.papers.cell import place_of
from joints.turning.assembly import Turning, turning_of
from register.plants.reach import whole
from tests.joints.makers import ON, certificate, make_job, make_joint, procedure
from tests.joints.turning.geometry import beam, cell, geometry

pytestmark = pytest.mark.django_db
RANGE = Clause("Test code", "range", Mark.OWN)


def day_of(*positions: str, people: tuple[str, ...] = ()) -> Day:
    """A day on which one procedure and one person are qualified for these positions (the person for others)."""
    day = Day(ON)
    day.procedures = (procedure(window={"position": positions}),)
    rows = (Limit("process", OneOf(("135",)), RANGE), Limit("position", OneOf(people or positions), RANGE))
    day.certificates = (certificate("Ada Krol", *rows),)
    return day


def found(assembly: Assembly, day: Day, prefer: bool = True) -> Turning:
    return turning_of(assembly, cell(), day, prefer)


def stops(one: Turning) -> list[tuple[str, tuple[str, ...], tuple[str, ...]]]:
    """Turn, joints and positions of each stop."""
    return [
        (str(halt.turn), tuple(made.joint.number for made in halt.made), tuple(made.token for made in halt.made))
        for halt in one.halts
    ]


def test_four_fillets_flat_and_horizontal_in_two_stops() -> None:
    """ψ 45 needs 315 for flat, which 270 does not reach; 0 and 180 hold all four in PB."""
    one = found(beam(), day_of("PA", "PB"))
    assert [made for _, made, _ in stops(one)] == [("1", "4"), ("2", "3")]
    assert one.sentence.startswith("2 stops bring all 4 welds into qualified positions")
    assert one.proof == "Fewer stops will not do: of joints 1, 3 no two can be welded at one stop."
    # More than two degrees inside the limits of PB: a face angle of 52.5 at 172.5.
    assert [turn for turn, _, _ in stops(one)] == ["0", "172.5"]
    assert one.turned == D("172.5")


def test_flat_only_leaves_the_weld_that_the_arc_does_not_bring_there() -> None:
    one = found(beam(), day_of("PA"))
    assert [made for _, made, _ in stops(one)] == [("1",), ("2",), ("3",)] or one.planned == 3
    assert [(left.joint.number, left.why) for left in one.left] == [
        (
            "4",
            "the arc brings it into PB · 2F, PC, PD · 4F, PE · 4F; procedures and people are qualified for "
            "PA · 1F only",
        )
    ]
    assert "1 has none" in one.sentence


def test_the_people_count_as_much_as_the_procedure() -> None:
    one = found(beam(), day_of("PA", "PB"), prefer=True)
    fewer = found_with_people(("PA",))
    assert len(one.halts) == 2 and len(fewer.halts) >= 2
    assert all(made.token == "PA" for halt in fewer.halts for made in halt.made)


def found_with_people(people: tuple[str, ...]) -> Turning:
    return found(Assembly.objects.get(mark="B1"), day_of("PA", "PB", people=people))


def test_a_weld_that_nobody_is_qualified_for_says_why() -> None:
    one = found(beam(t1_mm=D(60)), day_of("PA", "PB"))
    assert one.planned == 0
    assert one.sentence == "No weld of this assembly has a stop at which it can be made there."
    assert "not covered in" in one.left[0].why and "60 mm" in one.left[0].why


def test_any_qualified_position_may_take_fewer_stops() -> None:
    assembly = beam()
    day = day_of("PA", "PB", "PC", "PD", "PE")
    assert len(found(assembly, day).halts) == 2
    assert len(found(assembly, day, prefer=False).halts) == 1


def test_vertical_upwards_comes_before_downwards() -> None:
    job = make_job()
    geometry(make_joint(job, number="9", final_workstation=cell(0, 0)), "0 0 1", "1 1 0")
    assembly = Assembly.objects.get(mark="B1")
    assert stops(found(assembly, day_of("PF", "PG"))) == [("0", ("9",), ("PF",))]
    assert stops(found(assembly, day_of("PG"))) == [("0", ("9",), ("PG",))]


def test_the_governing_code_decides_what_a_position_is() -> None:
    """A fillet with its face at 60 degrees is PC by ISO and overhead by AWS."""
    job = make_job(procedure_code="AWS D1.1:2020")
    geometry(make_joint(job, number="1", final_workstation=cell(0, 0)), "1 0 0", "0 1.732051 1")
    assembly = Assembly.objects.get(mark="B1")
    assert "not covered in PE" in found(assembly, day_of("PC")).left[0].why
    job.procedure_code = "ISO 15614-1:2017"
    job.save()
    assert stops(found(Assembly.objects.get(mark="B1"), day_of("PC"))) == [("0", ("1",), ("PC",))]


def test_a_borderline_weld_is_planned_and_said_to_be_so() -> None:
    """Face at 30 degrees: flat, with no margin at a place that does not turn."""
    job = make_job()
    geometry(make_joint(job, number="1", final_workstation=cell(0, 0)), "1 0 0", "0 0.5 0.866026")
    made = found(Assembly.objects.get(mark="B1"), day_of("PA")).halts[0].made[0]
    assert (made.token, made.has_margin) == ("PA", False)


def test_what_has_no_geometry_or_another_place_is_named() -> None:
    assembly = beam()
    job = assembly.job
    make_joint(job, number="5", final_workstation=cell())
    make_joint(job, number="6")
    make_joint(job, number="7", weld_type="branch", throat_mm=None, final_workstation=cell())
    geometry(make_joint(job, number="8", weld_detail="bs", final_workstation=cell()), "1 0 0", "0 0 1")
    one = found(assembly, day_of("PA", "PB"))
    assert [(left.joint.number, left.why) for left in one.left] == [
        ("5", "the geometry is not stated"),
        ("7", "the position is not said by one axis: plan branches and pipes by hand"),
        ("8", "one joint stands for two fillets on two sides that face apart: state a joint for each"),
    ]
    assert [joint.number for joint, _ in one.elsewhere] == ["6"]


@pytest.mark.parametrize(("first", "last", "start"), [(0, 270, 0), (-135, 135, 0), (90, 180, 90), (-180, -90, -90)])
def test_turning_starts_at_web_vertical_or_the_nearest_end(first: int, last: int, start: int) -> None:
    cell(first, last)
    assert found(beam(), day_of("PA", "PB", "PC", "PD", "PE")).start == start


def test_the_arc_from_minus_135_brings_all_four_flat() -> None:
    cell(-135, 135)
    one = found(beam(), day_of("PA"))
    assert one.planned == 4 and not one.left
    assert all(made.placed.aws == "F" for halt in one.halts for made in halt.made)


def test_each_stop_agrees_with_the_calculation(django_assert_max_num_queries: Any) -> None:
    assembly, day, station = beam(), day_of("PA", "PB"), cell()
    # The joints, the job, and once whether there is more than one plant.
    with whole(), django_assert_max_num_queries(3):
        one = turning_of(assembly, station, day)
    assert all(made.placed and made.placed.iso == made.token for halt in one.halts for made in halt.made)
    assert all(not made.placed.borderline for halt in one.halts for made in halt.made if made.placed)


def test_the_sheet_for_the_cell_says_the_turn_of_each_weld() -> None:
    """As the plan above: joints 1 and 4 at 0°, 2 and 3 at 172.5°, all in PB; of another procedure there is none."""
    assembly = beam()
    turning = found(assembly, day := day_of("PA", "PB"))
    (own,) = day.procedures
    place = place_of(assembly, own.label, turning, ON)  # type: ignore[arg-type]
    assert place.stops == (("0°", "1, 4 (PB · 2F)"), ("172.5°", "2, 3 (PB · 2F)"))
    assert place.has_rotator and "Cell" in place.heading
    other = place_of(assembly, "WPS 99 rev A", turning, ON)  # type: ignore[arg-type]
    assert other.stops == (("–", "no stop of the turning plan holds a weld of this procedure"),)


def test_a_plan_without_any_geometry_says_what_it_lacks() -> None:
    job = make_job()
    for number in ("1", "2"):
        make_joint(job, number=number, final_workstation=cell())
    one = found(Assembly.objects.get(mark="B1"), day_of("PA"))
    assert one.sentence == "No plan yet: the geometry of no weld here is stated."
    assert {why: [joint.number for joint in joints] for why, joints in one.left_by_reason.items()} == {
        "the geometry is not stated": ["1", "2"]
    }
