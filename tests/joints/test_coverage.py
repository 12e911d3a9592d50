"""The answer to one joint: covered, outside or not stated, by procedure and by person, for both phases."""

from dataclasses import replace
from datetime import date
from decimal import Decimal as D

import pytest

from codes.limits import Limit, OneOf, span
from codes.values import Interval
from codes.verdict import Outcome
from joints.coverage import answer, ranked_procedures
from joints.demands import Place
from tests.joints.makers import (
    CODE,
    ON,
    RANGE,
    S355,
    certificate,
    demand,
    joint_demand,
    limits,
    procedure,
    record,
    validity,
    within,
)
from wps.offers import ProcedureOffer


def outcome(joint=None, procedures=None, certificates=None, on: date = ON) -> Outcome:
    return ask(joint, procedures, certificates, on).outcome


def ask(joint=None, procedures=None, certificates=None, on: date = ON):
    return answer(
        joint or joint_demand(),
        (procedure(),) if procedures is None else procedures,
        (certificate(),) if certificates is None else certificates,
        on,
    )


def test_covered_names_procedure_people_and_day() -> None:
    found = ask(certificates=(certificate("Ada Krol", pk=1), certificate("Bo Lind", pk=2), certificate("Cy Moe", pk=3)))
    assert found.outcome is Outcome.COVERED
    assert found.sentence == "Covered by WPS 014 rev C; 3 people may weld it on 2026-11-25."
    assert found.reasons == ()


@pytest.mark.parametrize(
    ("t", "expected"),
    [
        ((D(3), D(12)), Outcome.COVERED),
        ((D("2.999"), D(12)), Outcome.OUTSIDE),
        ((D(12), D(30)), Outcome.COVERED),
        ((D(12), D("30.001")), Outcome.OUTSIDE),
        (None, Outcome.NOT_STATED),
    ],
)
def test_thickness_at_both_edges_outside_and_not_stated(t, expected: Outcome) -> None:
    assert outcome(joint_demand(demand(parent_t=t))) is expected


def test_outside_says_what_is_wanted_and_what_is_allowed() -> None:
    found = ask(joint_demand(demand(parent_t=D(32)), tack=demand()))
    assert found.sentence.startswith("Outside: parent thickness 32 mm, WPS 014 rev C allows 3 to 30 mm")
    assert "procedure:parent_t" in found.reasons
    assert found.tack.outcome is Outcome.COVERED


def test_the_records_are_asked_too_not_the_window_alone() -> None:
    short = procedure("WPS 2 rev A", record("WPQR 2", limits("WPQR 2", t=(3, 16))))
    found = ask(joint_demand(demand(parent_t=D(20))), (short,))
    assert found.outcome is Outcome.OUTSIDE
    assert "the records of WPS 2 rev A allow 3 to 16 mm" in found.sentence


@pytest.mark.parametrize(("second", "expected"), [((12, 30), Outcome.COVERED), ((18, 30), Outcome.OUTSIDE)])
def test_two_records_cover_together_only_without_a_gap(second, expected: Outcome) -> None:
    """The procedure's preheat of 20 to 100 °C lies in neither record alone."""
    heat = procedure(
        "WPS 3 rev A",
        record("WPQR 3", limits("WPQR 3", Limit("travel_speed", within(3, 16), RANGE))),
        record("WPQR 4", limits("WPQR 4", Limit("travel_speed", within(*second), RANGE))),
        window={"travel_speed": Interval(D(5), D(25), "mm/min")},
    )
    found = ask(procedures=(heat,))
    assert found.outcome is expected
    if expected is Outcome.COVERED:
        assert "WPQR 3 and WPQR 4 together" in str(found.final.procedures[0].verdict.findings)


def test_what_the_joint_does_not_say_is_never_filled_from_the_procedure() -> None:
    found = ask(joint_demand(demand(position=None)))
    assert found.outcome is Outcome.NOT_STATED
    assert found.sentence.startswith("Not stated: position not stated")


def test_what_the_procedure_owns_comes_from_it() -> None:
    """The joint says nothing of gas; the certificate looks at it."""
    gas = certificate("Ada Krol", Limit("gas", OneOf(("M21",)), RANGE))
    assert outcome(certificates=(gas,)) is Outcome.COVERED
    other = certificate("Ada Krol", Limit("gas", OneOf(("C1",)), RANGE))
    assert outcome(certificates=(other,)) is Outcome.OUTSIDE


def test_a_throat_range_says_nothing_about_a_butt_weld() -> None:
    both = procedure(window={"throat_a": Interval(D(3), D(8), "mm")})
    butt = demand(weld_type="butt_cjp", throat_a=None, deposit_t=D(12))
    assert outcome(joint_demand(butt), (both,)) is Outcome.COVERED
    assert outcome(joint_demand(demand(throat_a=None)), (both,)) is Outcome.NOT_STATED
    assert outcome(joint_demand(demand(throat_a=D("8.01"))), (both,)) is Outcome.OUTSIDE


def test_the_tacks_count_as_much_as_the_final_weld() -> None:
    found = ask(joint_demand(demand(), tack=demand(process="111")))
    assert found.outcome is Outcome.OUTSIDE
    assert found.final.outcome is Outcome.COVERED
    assert found.sentence.startswith("Outside for the tacks: process 111")


def test_no_procedure_that_serves_the_phase() -> None:
    found = ask(procedures=(procedure(serves=("final",)),))
    assert found.outcome is Outcome.OUTSIDE
    assert "no procedure to ISO 15614-1:2017 approved on 2026-11-25 serves tack welding" in found.sentence
    assert "procedure:none approved" in found.reasons
    found = ask(joint_demand(code=""), procedures=(procedure(serves=("final",)),))
    assert "no procedure approved on 2026-11-25 serves tack welding" in found.sentence


def to_code(label: str, code: str, pk: int) -> ProcedureOffer:
    return replace(procedure(label, record(f"R{pk}", code=code), pk=pk), code=code)


def test_a_procedure_to_another_code_is_never_named_the_nearest() -> None:
    """Common practice: a contract to AWS D1.1 takes no procedure qualified to ISO 15614-1, and the reverse."""
    iso, aws = to_code("WPS 1", CODE, 1), to_code("WPS 2", "AWS D1.1:2020", 2)
    thick = joint_demand(demand(parent_t=D(32), position="PF"), code="AWS D1.1/D1.1M:2020")
    found = ask(thick, (iso, aws))
    assert [one.label for one in found.final.procedures] == ["WPS 2"] and found.final.serving == 1
    assert [one.label for one in ranked_procedures(thick.final, thick, (iso, aws), ON, {})] == ["WPS 2"]
    alone = ask(thick, (iso,))
    assert alone.sentence == (
        "Outside: no procedure to AWS D1.1/D1.1M:2020 approved on 2026-11-25 serves final welding."
    )
    assert alone.reasons[0] == "procedure:none approved"


def test_a_procedure_with_a_record_of_the_code_or_without_a_code_is_still_asked() -> None:
    both = replace(procedure("WPS 3", record("R3", code="AWS D1.1:2020")), code=CODE)
    assert ask(joint_demand(code="AWS D1.1:2020"), (both,)).final.serving == 1
    assert ask(joint_demand(code="AWS D1.1:2020"), (to_code("WPS 4", "", 4),)).final.serving == 1
    assert ask(joint_demand(code="AWS D1.1:2015"), (to_code("WPS 5", "AWS D1.1:2020", 5),)).final.serving == 0


def test_each_of_two_phases_names_its_own_procedure_and_people() -> None:
    tack, final = procedure("WPS 7 rev A", serves=("tack",), pk=7), procedure("WPS 8 rev B", serves=("final",), pk=8)
    found = ask(procedures=(tack, final))
    expected = (
        "Covered by WPS 8 rev B, tacks by WPS 7 rev A; 1 person may weld it and 1 person may tack it on 2026-11-25."
    )
    assert found.sentence == expected


@pytest.mark.parametrize(
    ("on", "expected"),
    [
        (date(2025, 12, 31), Outcome.OUTSIDE),
        (date(2026, 1, 1), Outcome.COVERED),
        (date(2027, 1, 1), Outcome.COVERED),
        (date(2027, 1, 2), Outcome.OUTSIDE),
    ],
)
def test_a_certificate_counts_on_its_first_and_last_day_only(on: date, expected: Outcome) -> None:
    assert outcome(on=on) is expected


def test_a_lapsed_certificate_says_so() -> None:
    found = ask(certificates=(certificate(valid=validity(end=date(2026, 10, 1))),))
    assert found.sentence.startswith(
        "Outside: nobody may weld it on 2026-11-25; the procedure WPS 014 rev C covers it; nearest "
    )
    assert "person:validity_confirmation" in found.reasons


@pytest.mark.parametrize(
    ("mechanisation", "kind", "expected"),
    [
        ("partly_mechanised", "welder", Outcome.COVERED),
        ("partly_mechanised", "operator", Outcome.OUTSIDE),
        ("automatic", "operator", Outcome.COVERED),
        ("automatic", "welder", Outcome.OUTSIDE),
    ],
)
def test_welders_weld_by_hand_and_operators_by_machine(mechanisation: str, kind: str, expected: Outcome) -> None:
    either = procedure(window={"mechanisation": ("partly_mechanised", "automatic")})
    joint = joint_demand(demand(mechanisation=mechanisation))
    assert outcome(joint, (either,), (certificate(kind=kind),)) is expected


def test_without_mechanisation_nobody_is_the_right_kind() -> None:
    assert outcome(joint_demand(demand(mechanisation=None))) is Outcome.NOT_STATED


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("ISO 9606-1:2012", Outcome.COVERED),
        ("EN ISO 9606-1:2017", Outcome.COVERED),
        ("AWS D1.1:2020", Outcome.OUTSIDE),
    ],
)
def test_a_certificate_of_another_family_of_codes_does_not_count(code: str, expected: Outcome) -> None:
    assert outcome(certificates=(certificate(code=code),)) is expected


@pytest.mark.parametrize(
    ("code", "expected"),
    [(" iso 15614-1:2017", Outcome.COVERED), ("ISO 15614-1:2004", Outcome.OUTSIDE), ("", Outcome.NOT_STATED)],
)
def test_a_record_to_another_edition_does_not_count(code: str, expected: Outcome) -> None:
    assert outcome(procedures=(procedure("WPS 1 rev A", record(code=code)),)) is expected


@pytest.mark.parametrize(("level", "expected"), [(1, Outcome.COVERED), (2, Outcome.COVERED), (3, Outcome.OUTSIDE)])
def test_a_record_serves_its_level_and_lower(level: int, expected: Outcome) -> None:
    assert outcome(joint_demand(demand(level=D(level)))) is expected


def test_a_procedure_without_records_covers_nothing() -> None:
    bare = replace(procedure(), records=())
    found = ask(procedures=(bare,))
    assert found.outcome is Outcome.OUTSIDE
    assert "no supporting test record" in found.sentence


def test_a_record_without_ranges_covers_nothing() -> None:
    silent = replace(record(), sets=(), problem="withdrawn")
    assert outcome(procedures=(procedure("WPS 1 rev A", silent),)) is Outcome.NOT_STATED


def test_a_workstation_that_does_not_run_the_process() -> None:
    found = ask(joint_demand(place=Place("Bay 2", ("111",))))
    assert found.outcome is Outcome.OUTSIDE
    assert "process 135 · GMAW, Bay 2 allows 111 · SMAW" in found.sentence
    assert "place:workstation" in found.reasons


def test_several_processes_need_every_process_and_one_person_for_all() -> None:
    two = procedure(
        "WPS 9 rev A",
        record("W1", limits("W1", process="141")),
        record("W2", limits("W2")),
        window={"process": ("141", "135")},
    )
    both = (demand(process="141"), demand())
    tig = Limit("process", OneOf(("141",)), RANGE)
    mag = Limit("process", OneOf(("135",)), RANGE)
    joint = joint_demand(*both, tack=demand())
    each = (certificate("Ada", tig, pk=1), certificate("Bo", mag, pk=2))
    assert outcome(joint, (two,), each) is Outcome.OUTSIDE
    assert "no one person" in ask(joint, (two,), each).sentence
    one = (replace(each[0], person_id=2), each[1])
    assert outcome(joint, (two,), one) is Outcome.COVERED
    only_mag = procedure("WPS 9 rev A", record("W2", limits("W2")), window={"process": ("141", "135")})
    assert outcome(joint, (only_mag,), one) is Outcome.OUTSIDE


def test_procedures_come_nearest_first() -> None:
    near = procedure("near", window={"parent_t": Interval(D(3), D(10), "mm")}, pk=1)
    far = procedure("far", window={"parent_t": Interval(D(3), D(10), "mm"), "position": "PA"}, pk=2)
    joint = joint_demand()
    found = answer(joint, (far, near), (certificate(),), ON)
    assert [p.label for p in found.final.procedures] == ["near"]
    assert [p.label for p in ranked_procedures(joint.final, joint, (far, near), ON, {})] == ["near", "far"]


def test_nothing_on_file_at_all() -> None:
    found = ask(procedures=(), certificates=())
    assert found.outcome is Outcome.OUTSIDE
    assert set(found.reasons) == {"procedure:none approved", "person:nobody"}


def test_a_needed_extra_test_is_never_covered() -> None:
    conditional = Limit("position", OneOf(("PA",)), RANGE, needs="production weld test")
    cert = certificate("Ada Krol", conditional)
    assert outcome(certificates=(cert,)) is Outcome.NOT_STATED


def test_a_temperature_range_is_drawn_in_its_unit() -> None:
    cold = procedure(window={"impact_temperature": span(D(-20), None, "°C").interval})
    joint = joint_demand(demand(impact_required="yes", impact_temperature=D(-40)))
    assert outcome(joint, (cold,)) is Outcome.OUTSIDE
    joint = joint_demand(demand(impact_required="yes", impact_temperature=D(-20)))
    assert outcome(joint, (cold,)) is Outcome.COVERED


def test_a_grade_that_is_not_known_is_named_in_place_of_not_stated() -> None:
    plain = joint_demand(demand(steels=None))
    noted = replace(plain.final, notes=('"ST52-3" is not a steel grade held here; nearest: SM520C', "steel of part 2"))
    needs = procedure(window={"steels": S355})
    found = ask(replace(plain, final=noted), (needs,))
    assert found.final.sentence == 'Not stated: "ST52-3" is not a steel grade held here.'
    assert ask(plain, (needs,)).final.sentence == "Not stated: parent materials not stated."
