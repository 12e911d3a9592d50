"""AWS D1.1 people: the personnel variables line by line, switches, retests, and the edition of 2015."""

from decimal import Decimal as D

import pytest

from codes.aws_d1_1_people_2020.f_numbers import smaw_group
from codes.editions import edition
from codes.limits import LimitSet
from codes.verdict import Outcome
from tests.codes.aws_people_asks import BASES, CODE, ask, covered
from tests.codes.us_people_cases import values

F_COVERS = {"F1": "F1", "F2": "F1 F2", "F3": "F1 F2 F3", "F4": "F1 F2 F3 F4"}


@pytest.mark.parametrize("tested", F_COVERS)
def test_electrode_groups(tested: str) -> None:
    for kind in ("welder", "tack welder"):
        for asked in F_COVERS:
            found = ask(f"f_number={tested}", f"f_number={asked}", kind)
            assert (found.outcome is Outcome.COVERED) is (asked in F_COVERS[tested].split()), (kind, asked)


@pytest.mark.parametrize(
    ("designation", "group"),
    [
        ("E7018", "F4"), ("E7018-1H4R", "F4"), ("E8018-C3", "F4"), ("E7015", "F4"), ("E7048", "F4"),
        ("AWS A5.1: E7018", "F4"), ("E11018-M", "F4"), ("E6010", "F3"), ("E7010-A1", "F3"), ("E6011", "F3"),
        ("E6012", "F2"), ("E6013", "F2"), ("E7014", "F2"), ("E7024", "F1"), ("E6027", "F1"), ("E7028", "F1"),
        ("E6020", "F1"), ("ER70S-6", ""), ("E71T-1C", ""), ("E308L-16", ""), ("", ""), ("E7019", ""),
    ],
)  # fmt: skip
def test_group_of_an_electrode_class(designation: str, group: str) -> None:
    assert smaw_group(designation) == group


@pytest.mark.parametrize(
    ("tested", "gouged", "covers"),
    [
        ("ss_mb", "", "ss_mb ss_fb bs+thermal bs+mechanical"),
        ("ss_fb", "", "ss_mb ss_fb bs+thermal bs+mechanical"),
        ("bs", "thermal", "ss_mb ss_fb bs+thermal bs+mechanical"),
        ("bs", "none", "ss_mb ss_fb bs+thermal bs+mechanical bs+none"),
        ("ss_nb", "", "ss_nb ss_gb ss_mb ss_fb bs+thermal bs+mechanical bs+none"),
        ("ss_gb", "", "ss_nb ss_gb ss_mb ss_fb bs+thermal bs+mechanical bs+none"),
    ],
)
def test_backing(tested: str, gouged: str, covers: str) -> None:
    every = "ss_nb ss_gb ss_mb ss_fb bs+none bs+thermal bs+mechanical"
    for asked in every.split():
        detail, _, gouging = asked.partition("+")
        found = covered(f"weld_detail={tested}; gouging={gouged}", f"weld_detail={detail}; gouging={gouging}")
        assert found is (asked in covers.split()), asked
    assert covered(f"weld_detail={tested}; gouging={gouged}", "weld_type=fillet; aws_position=3F; weld_detail=")


def test_gouging_not_stated_is_never_covered() -> None:
    assert ask("", "weld_detail=bs; gouging=").outcome is Outcome.NOT_STATED
    assert ask("weld_detail=bs; gouging=", "").outcome is Outcome.NOT_STATED


@pytest.mark.parametrize("tested", ["uphill", "downhill"])
def test_progression(tested: str) -> None:
    for asked in ("uphill", "downhill"):
        assert covered(f"progression={tested}", f"progression={asked}") is (asked == tested)
    assert covered(f"progression={tested}", "aws_position=1G; progression=")
    assert covered("progression=uphill+downhill", "progression=downhill")


@pytest.mark.parametrize("kind", ["operator", "tack welder"])
def test_progression_of_others_is_a_switch(kind: str) -> None:
    asked = "progression=downhill"
    assert not covered("", asked, kind)
    found = ask("", "", kind)
    assert any("aws_d1_1_progression_others" in reading for reading in found.readings)
    assert covered("", asked, kind, {"aws_d1_1_progression_others": "welders"})


def test_cored_wire_is_one_process_unless_the_firm_parts_it() -> None:
    tested, asked = "process=136; f_number=", "process=114; f_number="
    assert covered(tested, asked)
    assert any(reading.startswith("aws_d1_1_fcaw") for reading in ask(tested, asked).readings)
    assert not covered(tested, asked, settings={"aws_d1_1_fcaw": "separate"})
    assert covered(tested, "process=132; f_number=", settings={"aws_d1_1_fcaw": "separate"})


def test_partial_penetration_is_free_of_thickness_unless_the_firm_binds_it() -> None:
    asked = "weld_type=butt_pjp; groove_angle=60; parent_t=2in"
    assert covered("parent_t=3/8in", asked)
    assert not covered("parent_t=3/8in", asked, settings={"aws_d1_1_pjp_thickness": "groove"})
    assert ask("", "weld_type=butt_pjp; groove_angle=29").reasons == ("groove_angle",)


GMAW = "process=135; f_number=; transfer_mode="


@pytest.mark.parametrize("tested", ["dip", "globular", "spray", "pulsed"])
def test_short_circuiting_is_a_process_of_its_own(tested: str) -> None:
    for asked in ("dip", "globular", "spray", "pulsed"):
        assert covered(GMAW + tested, GMAW + asked) is ((asked == "dip") is (tested == "dip"))
    assert ask(GMAW + tested, GMAW).outcome is Outcome.NOT_STATED
    assert ask(GMAW, GMAW + tested).outcome is Outcome.NOT_STATED


def test_radiography_does_not_qualify_short_circuiting() -> None:
    assert ask(GMAW + "dip; soundness_test=volumetric", GMAW + "dip").reasons == ("process",)
    assert covered(GMAW + "dip; soundness_test=bends", GMAW + "dip")
    assert covered(GMAW + "spray; soundness_test=volumetric", GMAW + "spray")


@pytest.mark.parametrize(
    ("process", "covers"), [("111", "111"), ("138", "131 133 135 138"), ("121", "121 125"), ("141", "141 143")]
)
def test_processes_by_their_letters(process: str, covers: str) -> None:
    more = f"process={process}; transfer_mode=spray"
    every = ["111", "114", "121", "125", "131", "133", "135", "136", "138", "141", "143"]
    assert [p for p in every if covered(more, f"process={p}; transfer_mode=spray")] == covers.split()


def test_by_hand_never_covers_the_robot_and_the_robot_never_the_hand() -> None:
    by_hand = ask("", "mechanisation=automatic")
    assert (by_hand.outcome, by_hand.reasons) == (Outcome.OUTSIDE, ("person",))
    assert "a test by hand never covers a machine or a robot" in by_hand.sentence
    by_robot = ask("", "mechanisation=manual", "operator")
    assert (by_robot.outcome, by_robot.reasons) == (Outcome.OUTSIDE, ("person",))
    assert "never covers welding by hand" in by_robot.sentence
    tack = ask("", "mechanisation=automatic", "tack welder")
    assert "never covers a machine or a robot" in tack.sentence


def test_training_on_the_machine_counts_only_if_recorded_allowed_and_for_some_processes() -> None:
    trained = GMAW + "spray; machine_training=yes"
    asked = GMAW + "spray; mechanisation=automatic; wire_system="
    assert covered(trained, asked + "single")
    assert ask(trained, asked + "tandem").reasons == ("electrodes",)
    assert ask(trained, asked).outcome is Outcome.NOT_STATED
    assert not covered(trained, asked + "single", settings={"aws_d1_1_welder_as_operator": "never"})
    assert not covered(trained.replace("yes", "no"), asked + "single")
    assert not covered("machine_training=yes", "mechanisation=automatic; wire_system=single")


@pytest.mark.parametrize(
    ("kind", "mode"), [("welder", "automatic"), ("operator", "manual"), ("tack welder", "automatic")]
)
def test_a_test_of_the_other_kind_is_no_test(kind: str, mode: str) -> None:
    assert ask(f"mechanisation={mode}", "", kind).reasons == ("person",)


@pytest.mark.parametrize(
    ("attempt", "outcome"),
    [
        ("attempt=first", Outcome.COVERED),
        ("attempt=immediate_retest; retest_welds=2", Outcome.COVERED),
        ("attempt=immediate_retest; retest_welds=1", Outcome.OUTSIDE),
        ("attempt=immediate_retest", Outcome.NOT_STATED),
        ("attempt=after_training; trained_on=2025-03-01", Outcome.COVERED),
        ("attempt=after_training", Outcome.NOT_STATED),
    ],
)
def test_retests(attempt: str, outcome: Outcome) -> None:
    assert ask(attempt, "").outcome is outcome


def test_a_tack_welder_may_retest_once_with_one_weld() -> None:
    assert covered("attempt=immediate_retest; retest_welds=1", "", "tack welder")


def test_another_contractor_needs_the_engineers_acceptance() -> None:
    assert ask("", "contractor=South; engineer_acceptance=no").reasons == ("employer",)
    assert ask("", "contractor=South; engineer_acceptance=").outcome is Outcome.NOT_STATED
    assert covered("", "contractor=South; engineer_acceptance=yes")
    assert covered("", "contractor=")
    assert ask("contractor=", "").outcome is Outcome.NOT_STATED


def test_tests_join_only_where_all_but_the_position_agrees() -> None:
    up, overhead = "aws_position=3G", "aws_position=4G; progression="
    assert covered(f"{up}&&{overhead}", "product=pipe; diameter=24in; aws_position=5G")
    thinner = f"{up}; parent_t=3/8in&&{overhead}; parent_t=1in"
    assert not covered(thinner, "product=pipe; diameter=24in; aws_position=5G")
    # Never the position of one test with the thickness of another.
    assert not covered(thinner, "aws_position=3G; parent_t=1in")
    other = f"{up}&&{overhead}; f_number=F3"
    assert not covered(other, "aws_position=2G; f_number=F4; product=pipe; diameter=24in; aws_position=5G")
    both = f"{up}&&{up}; progression=downhill&&{overhead}"
    assert covered(both, "product=pipe; diameter=24in; aws_position=5G; progression=downhill")


@pytest.mark.parametrize(
    ("tested", "covers", "misses"),
    [("1.49in", ["1/8in", "1.49in"], ["1.5in", "0.12in"]), ("1.5in", ["1/8in", "9in"], ["0.12in"])],
)
def test_electroslag(tested: str, covers: list[str], misses: list[str]) -> None:
    piece = f"process=72; parent_t={tested}"
    for t in covers:
        assert covered(piece, f"process=72; parent_t={t}", "operator")
    for t in misses:
        assert ask(piece, f"process=72; parent_t={t}", "operator").reasons == ("thickness",)
    assert ask(piece, "process=72; aws_position=1G", "operator").reasons == ("position",)


@pytest.mark.parametrize("tested", ["single", "twin", "tandem"])
def test_electrodes_of_operators(tested: str) -> None:
    for asked in ("single", "twin", "tandem"):
        yes = tested != "single" or asked == "single"
        assert covered(f"wire_system={tested}", f"wire_system={asked}", "operator") is yes
    assert ask("wire_system=", "", "operator").outcome is Outcome.NOT_STATED


def test_2015_answers_alike_under_its_own_numbers() -> None:
    old = edition("AWS D1.1:2015 welder").limit_sets([values(BASES["welder"][0], "aws_position=3G")], {})
    new = CODE["welder"].limit_sets([values(BASES["welder"][0], "aws_position=3G")], {})
    text = " ".join(str(limit.clause) for limit in old[0].limits)
    assert "AWS D1.1:2015, Table 4.10" in text
    assert "2020" not in text
    assert "Table 6." not in text + " ".join(r for limit in old[0].limits for r in limit.readings)
    assert [limit.allowed for limit in old[0].limits] == [limit.allowed for limit in new[0].limits]


def test_a_set_without_an_unconditional_limit_cannot_arise() -> None:
    for code in CODE.values():
        for limits in code.limit_sets([{}], {}):
            assert isinstance(limits, LimitSet)
            assert any(not limit.when for limit in limits.limits)


def test_figures_are_exact() -> None:
    [limits] = CODE["welder"].limit_sets([values(BASES["welder"][0], "parent_t=3/8in")], {})
    ends = [limit.allowed.interval.hi for limit in limits.limits if limit.variable == "parent_t"]  # type: ignore[attr-defined]
    assert D("19.05") in ends
