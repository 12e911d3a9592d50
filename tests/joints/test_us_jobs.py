"""A job under AWS D1.1: a prequalified procedure, a welder and a tack welder; and each thing that takes it outside."""

from dataclasses import replace
from datetime import date
from decimal import Decimal as D
from typing import Any

import pytest

from codes.check import covers
from codes.limits import Limit, OneOf, when_is
from codes.verdict import Outcome
from joints.answers import JointAnswer
from joints.bulk import Engine
from joints.coverage import answer
from joints.day import Day
from joints.demands import joint_demand
from joints.forms import JobForm
from joints.merge import owned_by, window_for
from joints.models import Job, Joint
from joints.people import kinds_wanted, suitable
from joints.us_demands import us_demand
from qualifications.models import Certificate, Person
from tests.joints import makers
from tests.joints.makers import ON, RANGE, demand, make_job, make_joint, make_station
from tests.wps.us import AWS, prequalified_draft
from wps import workflow

pytestmark = pytest.mark.django_db
APPROVED = date(2026, 3, 2)
FIRM = "Fabricator North"
QUARTER = D("6.35")
PLATE = {
    "unit_system": "us", "process": "136", "contractor": FIRM, "weld_type": "butt_cjp", "product": "plate",
    "parent_t": "9.525", "aws_position": "2G", "weld_detail": "ss_mb",
}  # fmt: skip
TACKED = {
    "unit_system": "us",
    "process": "136",
    "contractor": FIRM,
    "aws_position": "2F",
    "mechanisation": "partly_mechanised",
}


@pytest.fixture(autouse=True)
def shop(coordinator: Any, second_coordinator: Any) -> None:
    """WPS 8 for fillets of 1/4 in with 136 in 2F; W1 tested in 2G in June, T1 who tacks only."""
    draft = prequalified_draft(coordinator, contractor=FIRM)
    draft.serves_tack = True
    draft.save()
    workflow.check_revision(draft, second_coordinator, APPROVED)
    workflow.approve(draft, second_coordinator, APPROVED)
    certified("Ada Krol", "W1", "welder", PLATE)
    certified("Bo Lang", "T1", "tack_welder", TACKED)


def certified(name: str, number: str, kind: str, piece: dict[str, Any], on: date = date(2026, 6, 10)) -> Certificate:
    holder = Person.objects.create(name=name, identification=number, employer=FIRM)
    code = f"{AWS} {kind.replace('_', ' ')}"
    return Certificate.objects.create(
        person=holder, code=code, kind=kind, number=number, pieces=[piece], welded_on=on, employer_then=FIRM
    )


def joint(**changes: Any) -> Joint:
    job = make_job(procedure_code=AWS)
    bay = make_station(processes=["136"])
    fields = {
        "grade_1": "A36", "grade_2": "A36", "t1_mm": D("9.525"), "t2_mm": D("12.7"), "throat_mm": None,
        "leg_mm": QUARTER, "final_process": "136", "tack_process": "136", "tack_throat_mm": D(3),
        "final_workstation": bay, "tack_workstation": bay,
    }  # fmt: skip
    return make_joint(job, **(fields | changes))


def explained(weld: Joint, on: date = ON) -> JointAnswer:
    """The explained answer, held to the one in bulk."""
    day = Day(on)
    found = day.explain(weld, weld.assembly.job)
    (bulk,) = day.answers(Joint.objects.filter(pk=weld.pk))
    assert (bulk.result.outcome, bulk.result.sentence) == (found.outcome, found.sentence)
    assert bulk.result.reasons == found.reasons
    assert bulk.result.tack.person_ids == found.tack.person_ids
    return found


def test_covered_by_a_prequalified_procedure_a_welder_and_a_tack_welder() -> None:
    found = explained(joint())
    assert found.outcome is Outcome.COVERED, found.sentence
    assert found.final.labels == found.tack.labels == ("WPS 8 rev A",)
    assert [one.person_name for one in found.final.people] == ["Ada Krol"]
    assert [one.person_name for one in found.tack.people] == ["Ada Krol", "Bo Lang"]


def test_the_same_by_its_throat() -> None:
    """a = 4.49 mm is z = 6.35 mm."""
    found = explained(joint(leg_mm=None, throat_mm=D("4.49")))
    assert found.outcome is Outcome.COVERED, found.sentence


def reasons(weld: Joint, on: date = ON) -> tuple[Outcome, tuple[str, ...]]:
    found = explained(weld, on)
    return found.outcome, found.final.reasons


@pytest.mark.parametrize(
    ("changes", "outcome", "reason"),
    [
        ({"position": "PD"}, Outcome.OUTSIDE, "procedure:aws_position"),
        ({"position": "PC"}, Outcome.OUTSIDE, "procedure:aws_position"),
        ({"position": ""}, Outcome.NOT_STATED, "procedure:aws_position"),
        ({"t2_mm": D("19.05")}, Outcome.COVERED, ""),
        ({"t2_mm": D("19.06")}, Outcome.OUTSIDE, "procedure:parent_t"),
        ({"t1_mm": QUARTER}, Outcome.COVERED, ""),
        ({"t1_mm": D("6.34")}, Outcome.OUTSIDE, "procedure:parent_t"),
        ({"t1_mm": None}, Outcome.NOT_STATED, "procedure:parent_t"),
        ({"leg_mm": D("6.36")}, Outcome.OUTSIDE, "procedure:leg_z"),
        ({"leg_mm": D("6.34")}, Outcome.OUTSIDE, "procedure:leg_z"),
        ({"leg_mm": None}, Outcome.NOT_STATED, "procedure:leg_z"),
        ({"grade_1": "A992"}, Outcome.OUTSIDE, "procedure:steels"),
    ],
)
def test_each_variable_at_its_edge_and_a_step_outside(changes: dict[str, Any], outcome: Outcome, reason: str) -> None:
    found, why = reasons(joint(**changes))
    assert found is outcome
    assert reason in why or (not reason and why == ())


@pytest.mark.parametrize(
    ("day", "outcome"), [(date(2026, 12, 10), Outcome.COVERED), (date(2026, 12, 11), Outcome.OUTSIDE)]
)
def test_a_welder_lapses_without_use_and_a_tack_welder_does_not(day: date, outcome: Outcome) -> None:
    found = explained(joint(), day)
    assert found.outcome is outcome
    assert "Bo Lang" in [one.person_name for one in found.tack.people]
    if outcome is Outcome.OUTSIDE:
        assert found.final.reasons == ("person:continuity",)
        assert found.final.people == ()


def test_a_tack_welder_welds_nothing_that_stays() -> None:
    Certificate.objects.filter(number="W1").update(welded_on=date(2025, 1, 10))
    found = explained(joint())
    assert found.tack.outcome is Outcome.COVERED
    assert found.final.outcome is Outcome.OUTSIDE


def test_another_position_than_the_tested_ones() -> None:
    """A tack welder tacks in the tested position only."""
    tacker = next(one for one in Day(ON).certificates if one.kind == "tack_welder")
    asked = {**demand(process="136", transfer_mode="spray"), "phase": "tack", "contractor": FIRM}
    assert any(covers(asked | {"aws_position": "2F"}, limits) for limits in tacker.sets)
    assert not any(covers(asked | {"aws_position": "1F"}, limits) for limits in tacker.sets)


def test_a_certificate_to_an_iso_standard_does_not_count_and_the_reverse() -> None:
    weld = joint()
    Job.objects.update(procedure_code="ISO 15614-1:2017")
    found = explained(Joint.objects.select_related("assembly__job").get(pk=weld.pk))
    assert found.final.people == ()


# The demand


def test_a_demand_in_us_terms() -> None:
    found = us_demand(demand(position="PF", weld_type="fillet"), "final", D(8), "none")
    added = {name: found[name] for name in ("aws_position", "progression", "leg_z", "phase")}
    assert added == {"aws_position": "3F", "progression": "uphill", "leg_z": D(8), "phase": "final"}
    assert "groove_type" not in found


def test_a_tack_states_no_size_and_a_groove_its_preparation() -> None:
    tack = us_demand(demand(throat_a=D(3)), "tack", D(8), "")
    assert not {"throat_a", "leg_z"} & set(tack)
    groove = us_demand(demand(weld_type="butt_cjp", throat_a=None), "final", D(8), "single_v")
    assert groove["groove_type"] == "single_v"
    assert "leg_z" not in groove


def test_a_joint_of_an_iso_job_is_asked_in_iso_terms() -> None:
    weld = make_joint()
    for phase in joint_demand(weld, weld.assembly.job).phases:
        assert not {"phase", "aws_position", "leg_z"} & set(phase.demands[0])


def test_what_the_joint_owns_by_phase() -> None:
    final, tack = ({**demand(), "phase": phase} for phase in ("final", "tack"))
    assert "leg_z" in owned_by([final]) and "throat_a" in owned_by([final])
    assert not {"leg_z", "throat_a"} & owned_by([tack])
    assert "leg_z" not in owned_by([demand()])


def test_the_progression_counts_in_vertical_positions_only() -> None:
    window = makers.procedure(window={"progression": "uphill"}).window
    asked = {**demand(), "phase": "final", "aws_position": "2F"}
    assert "progression" not in {one.variable for one in window_for(window, asked, owned_by([asked])).limits}
    asked["aws_position"] = "3F"
    assert "progression" in {one.variable for one in window_for(window, asked, owned_by([asked])).limits}


@pytest.mark.parametrize(
    ("mechanisation", "phase", "kinds"),
    [
        ("partly_mechanised", "final", {"welder"}),
        ("partly_mechanised", "tack", {"welder", "tack_welder"}),
        ("automatic", "final", {"operator", "welder"}),
        (None, "tack", set()),
        ("partly_mechanised", None, {"welder"}),
        ("automatic", None, {"operator"}),
    ],
)
def test_which_kinds_of_people_are_asked(mechanisation: str | None, phase: str | None, kinds: set[str]) -> None:
    assert kinds_wanted(demand(mechanisation=mechanisation, phase=phase)) == kinds
    people = [makers.certificate(kind=kind, pk=n, code=f"{AWS} x") for n, kind in enumerate(sorted(kinds | {"other"}))]
    chosen = {one.kind for one in suitable(people, demand(mechanisation=mechanisation, phase=phase), AWS)}
    assert chosen == (kinds or {"other"})


def test_a_window_with_conditions_is_judged_by_what_they_look_at() -> None:
    """A window may allow other positions for fillets than for grooves; the quick answer tells them apart."""
    offer = makers.procedure()
    limits = (
        *(limit for limit in offer.window.limits if limit.variable != "position"),
        Limit("position", OneOf(("PB",)), RANGE, when=(when_is("weld_type", "fillet"),)),
        Limit("position", OneOf(("PA",)), RANGE, when=(when_is("weld_type", "butt_cjp"),)),
    )
    offer = replace(offer, window=replace(offer.window, limits=limits))
    engine = Engine((offer,), (makers.certificate(),), ON)
    fillet = makers.joint_demand(demand(position="PB"))
    groove = makers.joint_demand(demand(position="PB", weld_type="butt_cjp", throat_a=None, deposit_t=D(12)))
    for asked in (fillet, groove):
        assert engine.result(asked).outcome is answer(asked, (offer,), (makers.certificate(),), ON).outcome
    assert engine.result(fillet).outcome is Outcome.COVERED
    assert engine.result(groove).outcome is Outcome.OUTSIDE


def test_the_form_offers_the_codes() -> None:
    page = str(JobForm()["procedure_code"])
    for code in ("ISO 15614-1:2017", "AWS D1.1:2020", "AWS D1.1:2015", "ASME IX:2021"):
        assert f'value="{code}"' in page
