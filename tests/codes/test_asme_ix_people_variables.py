"""ASME IX people: materials, backing, process extras and operators, value by value; the look-up tables."""

import pytest

from codes.asme_ix_people_2021.metals import F_ROWS, FAMILIES
from codes.asme_ix_tables import P_ROWS, f_number, p_row
from codes.clauses import Mark
from codes.editions import edition
from codes.terms import tokens
from codes.values import Steel, SteelPair
from codes.verdict import Outcome
from tests.codes.test_asme_ix_people_cases import BASES
from tests.codes.test_asme_ix_people_tables import CODE, ask, covered
from tests.codes.us_people_cases import values


def test_every_p_number_against_every_other() -> None:
    steel = {"1", "3", "4", "5A", "5B", "5C", "6", "7", "8", "9A", "9B", "9C", "10A", "10B", "10C", "10F", "10G"}
    steel |= {"10H", "10I", "10J", "10K", "11A", "11B", "15E", "15F", "34", *map(str, range(41, 50))}
    families = [steel, set(map(str, range(21, 27))), {"51", "52", "53", "61", "62"}]
    every = [p for p in tokens("p_number") if p != "unassigned"]
    assert {p[1:] for p in every} == set().union(*families) | {"31", "32", "33", "35"}
    for tested in every:
        for asked in every:
            together = any({tested[1:], asked[1:]} <= family for family in families) or tested == asked
            assert covered(f"p_number={tested}", f"p_number={asked}") is together, (tested, asked)


def test_two_metals_must_both_be_covered() -> None:
    assert covered("", "p_number=P1+P8")
    assert ask("", "p_number=P1+P21").reasons == ("p_number",)
    assert covered("p_number=P1+P21", "p_number=P8+P22")


def test_an_unassigned_metal_waits_for_evidence() -> None:
    found = ask("", "p_number=unassigned")
    assert found.outcome is Outcome.NOT_STATED
    assert "same chemistry" in found.sentence
    assert ask("p_number=unassigned", "p_number=unassigned").outcome is Outcome.NOT_STATED
    assert ask("p_number=unassigned", "p_number=P1").outcome is Outcome.OUTSIDE


def test_the_p_number_of_a_grade_is_looked_up_and_said_to_be_unverified() -> None:
    for grade, says in (("A36", ""), ("A572 Gr 50", "not verified")):
        piece = values(BASES["welder"][0], "p_number=") | {"steels": SteelPair(Steel(grade=grade), Steel(grade=grade))}
        [limits] = CODE["welder"].limit_sets([piece], {})
        said = next(limit.because for limit in limits.limits if limit.variable == "p_number")
        assert "tested P1" in said
        assert ("not verified" in said) is bool(says)


F_BACKED = {
    "F1": "F1", "F2": "F1 F2", "F3": "F1 F2 F3", "F4": "F1 F2 F3 F4", "F5": "F1 F5", "F6": "F6",
    "F22": "F21 F22 F23 F24 F25 F26", "F34": "F34 F41 F42 F43 F44 F45 F46", "F43": "F34 F41 F42 F43 F44 F45 F46",
    "F31": "F31", "F51": "F51 F52 F53 F54 F55 F56", "F61": "F61", "F71": "F71",
}  # fmt: skip
F_OPEN = F_BACKED | {f"F{n}": f"F{n}" for n in range(1, 6)}


@pytest.mark.parametrize("tested", F_BACKED)
def test_f_numbers(tested: str) -> None:
    for asked in tokens("f_number"):
        backed = asked in F_BACKED[tested].split()
        for detail in ("ss_mb", "ss_nb"):
            assert covered(f"f_number={tested}; weld_detail={detail}", f"f_number={asked}") is backed, (detail, asked)
        without = asked in F_OPEN[tested].split()
        found = covered(f"f_number={tested}; weld_detail=ss_nb", f"f_number={asked}; weld_detail=ss_nb")
        assert found is without, asked
        partial = "weld_type=butt_pjp; weld_detail="
        assert covered(f"f_number={tested}; weld_detail=ss_nb", f"f_number={asked}; {partial}") is backed


def test_every_f_number_and_p_number_stands_in_one_row() -> None:
    assert sorted(f for row in F_ROWS for f in row.tested) == sorted(tokens("f_number"))
    assert sorted(p for f in FAMILIES for p in f.members) == sorted(set(tokens("p_number")) - {"unassigned"})


def test_f5_and_f1_is_a_switch() -> None:
    assert covered("f_number=F5", "f_number=F1")
    assert any("asme_ix_f5_covers_f1" in reading for reading in ask("f_number=F5", "f_number=F1").readings)
    assert not covered("f_number=F5", "f_number=F1", settings={"asme_ix_f5_covers_f1": "no"})


@pytest.mark.parametrize("tested", ["ss_mb", "bs", "ss_nb", "ss_gb", "ss_fb"])
def test_backing(tested: str) -> None:
    for asked in ("ss_mb", "bs", "ss_nb", "ss_gb", "ss_fb"):
        yes = asked in ("ss_mb", "bs") or tested not in ("ss_mb", "bs")
        assert covered(f"weld_detail={tested}", f"weld_detail={asked}") is yes, asked


def test_whoever_filled_over_a_root_was_tested_with_backing() -> None:
    assert ask("weld_detail=ss_nb; place=fill", "weld_detail=ss_nb").reasons == ("backing",)
    assert covered("weld_detail=ss_nb; place=root", "weld_detail=ss_nb")


GTAW = "process=141; f_number=F6; weld_detail=ss_nb; "


@pytest.mark.parametrize(
    ("joint", "yes"),
    [
        ("backing_gas=I1", True), ("backing_gas=N5", True), ("backing_gas=none", False),
        ("backing_gas=none; weld_detail=ss_mb", True), ("backing_gas=none; weld_detail=bs", True),
        ("backing_gas=; weld_detail=ss_gb", True), ("backing_gas=none; weld_type=butt_pjp", True),
        ("backing_gas=none; weld_detail=ss_mb; p_number=P10I", False),
        ("backing_gas=I1; weld_detail=ss_mb; p_number=P10I", True),
    ],
)  # fmt: skip
def test_backing_gas(joint: str, yes: bool) -> None:
    assert covered(GTAW + "backing_gas=I1", GTAW + joint) is yes
    if "P10I" not in joint:
        assert covered(GTAW + "backing_gas=none", GTAW + joint)


def test_backing_gas_not_stated() -> None:
    assert ask(GTAW + "backing_gas=I1", GTAW).outcome is Outcome.NOT_STATED
    assert ask(GTAW, GTAW + "backing_gas=none").outcome is Outcome.NOT_STATED
    assert ask(GTAW + "weld_detail=ss_gb", GTAW + "backing_gas=none").reasons == ("backing_gas",)


@pytest.mark.parametrize(
    ("tested", "asked", "reason"),
    [
        ("141", "141", ""), ("141", "145", ""), ("141", "142", "filler_addition"), ("141", "143", "filler_form"),
        ("142", "141", "filler_addition"), ("142", "142", ""), ("143", "141", "filler_form"), ("143", "143", ""),
    ],
)  # fmt: skip
def test_filler_of_gtaw(tested: str, asked: str, reason: str) -> None:
    found = ask(f"process={tested}; f_number=F6", f"process={asked}; f_number=F6")
    assert found.reasons == ((reason,) if reason else ())


@pytest.mark.parametrize("tested", ["solid", "metal_cored", "flux_cored", "flux_coated", "powder"])
def test_form_of_the_filler_where_it_is_stated(tested: str) -> None:
    for asked in ("solid", "metal_cored", "flux_cored", "flux_coated", "powder"):
        same = asked == tested or {asked, tested} == {"solid", "metal_cored"}
        assert (
            covered(f"{GTAW}weld_detail=ss_mb; product_form={tested}", f"{GTAW}weld_detail=ss_mb; product_form={asked}")
            is same
        )


@pytest.mark.parametrize(("tested", "asked", "yes"), [
    ("ci", "ci", True), ("ci", "ss_nb", False), ("ci", "ss_mb", True), ("ss_nb", "ci", False), ("ss_mb", "ci", False),
])  # fmt: skip
def test_consumable_insert(tested: str, asked: str, yes: bool) -> None:
    more = "process=141; f_number=F6; backing_gas=none; weld_detail="
    assert covered(more + tested, more + asked) is yes


@pytest.mark.parametrize("tested", ["DCEP", "DCEN", "AC"])
def test_current_of_gtaw_only(tested: str) -> None:
    for asked in ("DCEP", "DCEN", "AC"):
        gtaw = "process=141; f_number=F6; current_type="
        assert covered(gtaw + tested, gtaw + asked) is (asked == tested)
        assert covered(f"current_type={tested}", f"current_type={asked}")


@pytest.mark.parametrize("tested", ["dip", "globular", "spray", "pulsed"])
def test_transfer_mode(tested: str) -> None:
    gmaw = "process=135; f_number=F6; deposit_t=12; transfer_mode="
    for asked in ("dip", "globular", "spray", "pulsed"):
        assert covered(gmaw + tested, gmaw + asked) is ((asked == "dip") is (tested == "dip"))
    assert ask(gmaw + tested, gmaw).outcome is Outcome.NOT_STATED
    assert ask(gmaw + "dip; soundness_test=volumetric", gmaw + "dip").reasons == ("transfer_mode",)


def test_gmaw_and_fcaw_are_two_processes_unless_the_firm_reads_them_as_one() -> None:
    gmaw, fcaw = "process=135; f_number=F6; transfer_mode=spray", "process=136; f_number=F6"
    one = {"asme_ix_gmaw_fcaw": "one"}
    for tested, asked in ((gmaw, fcaw), (fcaw, gmaw)):
        assert ask(tested, asked).reasons == ("process",)
        assert covered(tested, asked, settings=one)
    assert not covered(fcaw, gmaw.replace("spray", "dip"), settings=one)
    assert not covered(gmaw.replace("spray", "dip"), fcaw, settings=one)


@pytest.mark.parametrize("tested", ["uphill", "downhill"])
def test_progression(tested: str) -> None:
    for asked in ("uphill", "downhill"):
        up = f"aws_position=3G; progression={asked}"
        assert covered(f"aws_position=3G; progression={tested}", up) is (asked == tested)
        saw = "process=121; f_number=F6; "
        assert covered(f"{saw}aws_position=3G; progression={tested}", saw + up)
    assert ask(f"aws_position=3G; progression={tested}", "aws_position=3G; progression=").outcome is Outcome.NOT_STATED
    assert covered(f"aws_position=3G; progression={tested}", "aws_position=1G; progression=")


def test_a_fillet_test_covers_no_groove_and_needs_no_backing() -> None:
    fillet = "weld_type=fillet; parent_t=8; aws_position=2F; weld_detail=; deposit_t="
    assert covered(fillet, "weld_type=fillet; aws_position=2F; weld_detail=; deposit_t=")
    for groove in ("butt_cjp", "butt_pjp", "branch"):
        assert ask(fillet, f"weld_type={groove}").reasons == ("weld_type",)


def test_in_words_the_welder_never_covers_the_robot_nor_the_robot_the_hand() -> None:
    robot = ask("", "mechanisation=automatic")
    assert robot.reasons == ("mechanisation",)
    assert "never covers machine or automatic welding, the robot included" in robot.sentence
    for mode in ("automatic", "fully_mechanised"):
        hand = ask(f"mechanisation={mode}", "mechanisation=partly_mechanised", "operator")
        assert hand.reasons == ("mechanisation",)
        assert "never covers welding by hand" in hand.sentence
    assert ask("mechanisation=manual", "", "operator").outcome is Outcome.OUTSIDE
    assert ask("mechanisation=automatic", "").outcome is Outcome.OUTSIDE


def test_automatic_operators_are_bound_to_process_and_mode_only() -> None:
    tested = "mechanisation=automatic; aws_position=; weld_detail=; run_type=; visual_control=; joint_tracking="
    asked = "mechanisation=automatic; aws_position=4G; weld_detail=ss_nb"
    assert covered(tested, asked, "operator")
    assert not covered(tested, asked.replace("automatic", "fully_mechanised"), "operator")
    assert not covered("", asked.replace("4G", "1G").replace("ss_nb", "ss_mb"), "operator")
    wide = {"asme_ix_machine_for_automatic": "wide"}
    assert covered("", "mechanisation=automatic", "operator", wide)


@pytest.mark.parametrize(
    ("tested", "asked", "reason"),
    [
        ("visual_control=remote", "visual_control=direct", "visual_control"),
        ("joint_tracking=yes", "joint_tracking=no", "joint_tracking"),
        ("joint_tracking=no", "joint_tracking=yes", ""),
        ("process=141; arc_length_control=yes", "process=141; arc_length_control=no", "avc"),
        ("process=141; arc_length_control=no", "process=141; arc_length_control=yes", ""),
        ("weld_detail=ci", "weld_detail=ss_nb", "insert"),
        ("weld_detail=ci", "weld_detail=ss_mb", ""),
        ("weld_detail=ss_nb", "weld_detail=ss_mb", ""),
        ("weld_detail=ss_mb", "weld_detail=bs", ""),
        ("aws_position=3G", "aws_position=3G; product=pipe; diameter=610", "position"),
        ("aws_position=3G", "aws_position=3G; product=pipe; diameter=611", ""),
        ("", "product=pipe; diameter=72.9", "diameter"),
        ("weld_type=fillet; aws_position=1F", "", "weld_type"),
    ],
)
def test_machine_operators(tested: str, asked: str, reason: str) -> None:
    assert ask(tested, asked, "operator").reasons == ((reason,) if reason else ())


def test_diameters_of_operators_are_a_switch() -> None:
    free = {"asme_ix_operator_diameter": "no"}
    assert covered("aws_position=3G", "aws_position=3G; product=pipe; diameter=60.3", "operator", free)
    assert not covered("aws_position=3G", "aws_position=4G; product=pipe; diameter=60.3", "operator", free)


@pytest.mark.parametrize(
    "name", ["process", "visual_control", "joint_tracking", "aws_position", "weld_detail", "run_type"]
)
def test_what_the_operators_record_does_not_state_leaves_it_open(name: str) -> None:
    assert ask(f"{name}=", "", "operator").outcome is Outcome.NOT_STATED


def test_tests_join_only_where_all_but_the_position_agrees() -> None:
    parts = "aws_position=3G&&aws_position=4G; progression="
    large = "product=pipe; diameter=1000; aws_position=5G"
    assert covered(parts, large)
    assert not covered("aws_position=3G&&aws_position=4G; progression=; deposit_t=11", large)
    pipes = "product=pipe; diameter=100; aws_position={}"
    both = pipes.format("2G") + "; progression=&&" + pipes.format("5G")
    assert covered(both, "product=pipe; diameter=100; aws_position=6G")
    assert not covered(pipes.format("5G"), "product=pipe; diameter=100; aws_position=6G")


def test_another_organisation_needs_its_own_test() -> None:
    assert ask("contractor=North", "contractor=South").reasons == ("employer",)
    assert covered("contractor=North", "contractor=North")
    assert covered("contractor=North", "contractor=")


@pytest.mark.parametrize(("attempt", "outcome"), [
    ("attempt=immediate_retest; retest_welds=2", Outcome.COVERED),
    ("attempt=immediate_retest; retest_welds=1", Outcome.OUTSIDE),
    ("attempt=after_training", Outcome.NOT_STATED),
])  # fmt: skip
def test_retests(attempt: str, outcome: Outcome) -> None:
    assert ask(attempt, "").outcome is outcome


@pytest.mark.parametrize(
    ("grade", "number", "group"),
    [
        ("A36", "P1", 1), ("SA-36", "P1", 1), ("A/SA-36", "P1", 1), ("ASTM A36", "P1", 1), ("A106 B", "P1", 1),
        ("SA-106 Gr. C", "P1", 2), ("SA-516 Grade 70", "P1", 2), ("A516-65", "P1", 1), ("SA-537 Cl 1", "P1", 2),
        ("A537 Class 2", "P1", 3), ("API 5L X52", "P1", 1), ("API 5L X70", "P1", 3), ("SA-335 P11", "P4", 1),
        ("SA-335 P91", "P15E", 1), ("304L", "P8", 1), ("TP316L", "P8", 1), ("SA-105", "P1", 2), ("8620", "P3", 3),
    ],
)  # fmt: skip
def test_p_numbers_of_grades(grade: str, number: str, group: int) -> None:
    row = p_row(grade)
    assert row is not None
    assert (row.p_number, row.group) == (number, group)


@pytest.mark.parametrize("grade", ["A588", "A992", "A913-65", "A1085", "A572-65", "API 5L X80", "S355J2", "", "A"])
def test_metals_that_nobody_read_in_the_table_stay_unassigned(grade: str) -> None:
    assert p_row(grade) is None


def test_a_row_is_verified_only_where_a_copy_printed_it() -> None:
    assert {row.specification for row in P_ROWS if row.verified} >= {"A36", "A53", "A106"}
    assert all(row.clause.mark is Mark.CONFIRMED for row in P_ROWS if row.verified)
    assert not any(row.verified for row in P_ROWS if row.specification == "A572")


@pytest.mark.parametrize(
    ("designation", "number"),
    [
        ("E7018", "F4"), ("E7018-1H4R", "F4"), ("E8018-B2", "F4"), ("E410-15", "F4"), ("E6010", "F3"), ("E6013", "F2"),
        ("E7024", "F1"), ("E7028", "F1"), ("E308L-16", "F5"), ("E2209-16", "F5"), ("E308-26", "F1"), ("ER70S-6", "F6"),
        ("SFA-5.18 ER70S-6", "F6"), ("E71T-1C", "F6"), ("E70C-6M", "F6"), ("EM12K", "F6"), ("ER308L", "F6"),
        ("E316LT1-1", "F6"), ("ER4043", "F23"), ("ER5356", "F22"), ("ERNiCr-3", "F43"), ("ENiCrFe-3", "F43"),
        ("ERNi-1", "F41"), ("ERNiCu-7", "F42"), ("ERCuNi", "F34"), ("AWS A5.1 E7018", "F4"), ("unknown", ""), ("", ""),
    ],
)  # fmt: skip
def test_f_numbers_of_classes(designation: str, number: str) -> None:
    assert f_number(designation) == number


def test_2023_answers_alike_in_its_own_name() -> None:
    piece = values(BASES["welder"][0], "process=135; f_number=F6; transfer_mode=dip")
    old, new = (edition(f"ASME IX:{year} welder").limit_sets([piece], {})[0] for year in (2021, 2023))
    assert [limit.allowed for limit in old.limits] == [limit.allowed for limit in new.limits]
    assert {limit.clause.standard for limit in new.limits} == {"ASME IX:2023"}
    marks = {limit.clause.ref: limit.clause.mark for limit in new.limits}
    assert marks["QW-404.32"] is Mark.MEMORY
