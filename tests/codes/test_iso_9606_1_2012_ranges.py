"""ISO 9606-1:2012: what is not stated, machines, readings, products, combinations and multi-process joints."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.bulk import Compiled
from codes.check import best, check
from codes.editions import edition
from codes.iso_9606_1_2012.fields import DEMAND
from codes.iso_9606_1_2012.joint import split_multi_process
from codes.iso_9606_1_2012.switches import SWITCHES
from codes.limits import LimitSet, Unrecorded
from codes.readings import DEFAULTS, Settings
from codes.values import Steel, SteelPair, Value
from codes.variables import VARIABLES
from codes.verdict import Outcome, Verdict

CODE = edition("EN ISO 9606-1:2017")
BUTT: dict[str, Value] = {
    "process": "135",
    "transfer_mode": "spray",
    "product": "plate",
    "weld_type": "butt_cjp",
    "filler_group": "FM1",
    "filler_type": "S",
    "deposit_t": D(10),
    "layers": D(3),
    "position": "PF",
    "weld_detail": "ss_nb",
}
FILLET: dict[str, Value] = {
    "process": "135",
    "transfer_mode": "spray",
    "product": "plate",
    "weld_type": "fillet",
    "filler_group": "FM1",
    "filler_type": "S",
    "parent_t": D(10),
    "position": "PB",
    "run_type": "multi_run",
}
JOINT: dict[str, Value] = {"mechanisation": "partly_mechanised"}


def sets(*pieces: dict[str, Value], settings: Settings = DEFAULTS) -> tuple[LimitSet, ...]:
    return CODE.limit_sets(pieces, settings)


def ask(piece: dict[str, Value], settings: Settings = DEFAULTS, **joint: Value) -> Verdict:
    return best(piece | JOINT | joint, sets(piece, settings=settings))


def without(piece: dict[str, Value], name: str) -> dict[str, Value]:
    return {key: value for key, value in piece.items() if key != name}


@pytest.mark.parametrize("piece", [BUTT, FILLET], ids=["butt", "fillet"])
def test_a_joint_like_the_test_is_covered(piece: dict[str, Value]) -> None:
    assert ask(piece).outcome is Outcome.COVERED


@pytest.mark.parametrize(
    ("piece", "name"),
    [(BUTT, n) for n in BUTT if n not in ("transfer_mode", "layers")]
    + [(FILLET, n) for n in FILLET if n != "transfer_mode"],
)
def test_a_record_that_leaves_something_out_covers_nothing(piece: dict[str, Value], name: str) -> None:
    verdict = best(piece | JOINT, sets(without(piece, name)))
    assert verdict.outcome is Outcome.NOT_STATED
    assert any(isinstance(finding.limit, Unrecorded) for finding in verdict.worst)


@pytest.mark.parametrize(
    ("piece", "name"),
    # Torch, weld and metal of the joint. Multi run covers both run types, so a fillet need not say.
    [(BUTT | JOINT, n) for n in [*BUTT, "mechanisation"] if n != "layers"]
    + [(FILLET | JOINT, n) for n in [*FILLET, "mechanisation"] if n != "run_type"],
)
def test_a_joint_that_leaves_something_out_is_not_covered(piece: dict[str, Value], name: str) -> None:
    assert best(without(piece, name), sets(piece)).outcome is Outcome.NOT_STATED


def test_a_pipe_must_say_its_diameter_and_below_500_whether_it_turns() -> None:
    pipe = without(BUTT, "position") | JOINT | {"product": "pipe", "position": "PA"}
    assert best(pipe, sets(BUTT)).outcome is Outcome.NOT_STATED
    assert best(pipe | {"diameter": D(100)}, sets(BUTT)).outcome is Outcome.NOT_STATED
    assert best(pipe | {"diameter": D(500)}, sets(BUTT)).outcome is Outcome.COVERED


def test_the_root_filler_is_asked_for_an_open_root_only() -> None:
    piece = BUTT | {"process": "111", "filler_type": "B"}
    assert ask(piece).outcome is Outcome.NOT_STATED
    assert ask(piece, root_filler_type="B").outcome is Outcome.COVERED
    assert ask(piece, root_filler_type="RB").reasons == ("filler_type",)
    assert ask(piece, weld_detail="ss_mb").outcome is Outcome.COVERED


def test_solid_and_metal_cored_serve_each_other_in_the_root() -> None:
    assert ask(BUTT, root_filler_type="M").outcome is Outcome.COVERED
    assert ask(BUTT, root_filler_type="B").reasons == ("filler_type",)
    (limit,) = [one for one in sets(BUTT)[0].limits if one.variable == "root_filler_type"]
    assert [str(one) for one in limit.when[-2:]] == [
        "sides and backing is ss nb (open root)",
        "root filler type is stated",
    ]


@pytest.mark.parametrize("mechanisation", ["fully_mechanised", "automatic"])
def test_a_machine_is_never_covered_and_the_answer_names_who_is_needed(mechanisation: str) -> None:
    verdict = ask(FILLET, mechanisation=mechanisation)
    assert verdict.outcome is Outcome.OUTSIDE
    assert verdict.reasons == ("standard",)
    assert "ISO 14732" in verdict.sentence and "robot" in verdict.sentence


def test_the_wording_of_a_miss() -> None:
    verdict = ask(BUTT, deposit_t=D("20.1"))
    assert "Deposited thickness 20.1 mm is outside 3 to 20 mm, by 0.1 mm" in verdict.sentence
    assert "tested s = 10 mm: 3 mm to 2 s (ISO 9606-1:2012, 5.7, Table 6)" in verdict.sentence


def test_an_unstated_transfer_mode_counts_as_not_dip() -> None:
    piece = without(BUTT, "transfer_mode")
    assert best(BUTT | JOINT, sets(piece)).outcome is Outcome.COVERED
    assert best(BUTT | JOINT | {"transfer_mode": "dip"}, sets(piece)).reasons == ("transfer_mode",)


READINGS = [
    (
        "iso_9606_1_mode_136",
        "named",
        {"process": "136", "filler_type": "P", "weld_detail": "ss_mb"},
        {"transfer_mode": "dip"},
    ),
    ("iso_9606_1_mig_mag", "wide", {"process": "131", "transfer_mode": "dip"}, {"process": "135"}),
    ("iso_9606_1_mig_mag", "wide", {"process": "135", "transfer_mode": "dip"}, {"process": "131"}),
    (
        "iso_9606_1_plate_branch",
        "wide",
        {},
        {"weld_type": "branch", "branch_angle": D(90), "product": "pipe", "diameter": D(508), "rotated": "no"},
    ),
]


@pytest.mark.parametrize(("key", "option", "changed", "joint"), READINGS)
def test_a_reading_widens_and_the_verdict_names_it(
    key: str, option: str, changed: dict[str, Value], joint: dict[str, Value]
) -> None:
    strict = ask(BUTT | changed, **joint)
    wide = ask(BUTT | changed, {key: option}, **joint)
    assert strict.outcome is Outcome.OUTSIDE and wide.outcome is Outcome.COVERED
    assert any(line.startswith(key) and "strict" in line for line in strict.readings)
    assert any(line.startswith(key) and option in line for line in wide.readings)


def test_the_readings_of_fillet_positions() -> None:
    pipe = FILLET | {"product": "pipe", "diameter": D(100), "position": "PH"}
    assert ask(pipe, position="PC").outcome is Outcome.OUTSIDE
    assert ask(pipe, {"iso_9606_1_fillet_ph_pc": "table"}, position="PC").outcome is Outcome.COVERED
    piece = BUTT | {"supplementary_fillet": "yes", "supplementary_t": D(10)}
    joint = FILLET | JOINT | {"run_type": "single_run", "position": "PF"}
    wide = {"iso_9606_1_supplementary_fillet": "wide"}
    assert best(joint, sets(piece)).reasons == ("position",)
    assert best(joint, sets(piece, settings=wide)).outcome is Outcome.COVERED


def test_an_unknown_option_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="iso_9606_1_mig_mag"):
        sets(BUTT, settings={"iso_9606_1_mig_mag": "loose"})
    assert all(switch.default in ("strict",) for switch in SWITCHES)


def test_supplementary_fillet_prints_its_run_type() -> None:
    piece = BUTT | {"supplementary_fillet": "yes", "supplementary_t": D(10)}
    joint = FILLET | JOINT
    assert best(joint, sets(piece)).reasons == ("layer",)
    assert best(joint, sets(piece | {"supplementary_run_type": "multi_run"})).outcome is Outcome.COVERED
    single = joint | {"run_type": "single_run"}
    assert best(single, sets(piece)).outcome is Outcome.COVERED
    assert best(single, sets(without(piece, "supplementary_t"))).outcome is Outcome.NOT_STATED


def test_a_combined_piece_without_its_thickness_is_not_stated() -> None:
    piece = BUTT | {"combined_piece": "yes", "weld_detail": "ss_mb"}
    assert best(FILLET | JOINT | {"position": "PF"}, sets(piece)).outcome is Outcome.NOT_STATED
    thin = best(FILLET | JOINT | {"position": "PF"}, sets(piece | {"parent_t": D("9.9")}))
    assert thin.outcome is Outcome.OUTSIDE and "Annex C needs plate of 10 mm" in thin.sentence


@pytest.mark.parametrize(
    ("piece", "position"),
    [(BUTT, "PB"), (BUTT, "PD"), (BUTT, "PH"), (FILLET, "PJ"), (BUTT | {"product": "pipe", "diameter": D(100)}, "PF")],
)
def test_a_position_that_the_piece_cannot_have_covers_nothing(piece: dict[str, Value], position: str) -> None:
    assert ask(piece | {"position": position}, position="PA").outcome is Outcome.NOT_STATED


def test_a_fillet_test_at_45_degrees_covers_no_fillet_position() -> None:
    pipe = FILLET | {"product": "pipe", "diameter": D(100), "position": "H-L045"}
    verdict = ask(pipe, position="PA")
    assert verdict.outcome is Outcome.OUTSIDE and verdict.reasons == ("position",)


def test_a_special_branch_test_covers_its_own_angle_only() -> None:
    piece = BUTT | {
        "weld_type": "branch",
        "product": "pipe",
        "diameter": D(100),
        "position": "PH",
        "branch_angle": D(45),
    }
    assert ask(piece).outcome is Outcome.COVERED
    assert ask(piece, branch_angle=D(46)).reasons == ("branch_angle",)
    assert ask(piece, weld_type="butt_cjp").reasons[0] == "weld_type"


@pytest.mark.parametrize("angle", ["60", "90"])
def test_branch_angles_at_both_edges(angle: str) -> None:
    pipe = BUTT | {"product": "pipe", "diameter": D(100), "position": "PH"}
    assert ask(pipe, weld_type="branch", branch_angle=D(angle)).outcome is Outcome.COVERED
    assert ask(pipe, weld_type="branch").outcome is Outcome.NOT_STATED


def test_without_filler_the_parent_group_decides() -> None:
    steel = SteelPair(Steel("8.1"), Steel("8.1"))
    piece = without(BUTT, "filler_group") | {"process": "142", "filler_type": "nm", "steels": steel}
    assert ask(piece).outcome is Outcome.COVERED
    assert ask(piece, steels=SteelPair(Steel("8.1"), Steel("1.2"))).reasons == ("filler_group",)
    assert ask(piece, steels=SteelPair(Steel("8.1"), Steel("", D(355)))).outcome is Outcome.NOT_STATED
    assert ask(piece, steels=SteelPair(Steel("1.2"), Steel("", D(355)))).outcome is Outcome.OUTSIDE
    assert best(piece | JOINT, sets(without(piece, "steels"))).outcome is Outcome.NOT_STATED


@pytest.mark.parametrize("group", ["1.2", "3.1", "8.1", "11.1"])
def test_with_filler_the_parent_group_never_fails_a_welder(group: str) -> None:
    assert ask(BUTT, steels=SteelPair(Steel(group), Steel("1.1"))).outcome is Outcome.COVERED


def test_pieces_that_differ_in_two_things_do_not_join() -> None:
    thin = BUTT | {"deposit_t": D(6), "layers": D(2)}
    thick = BUTT | {"deposit_t": D(12), "position": "PA"}
    assert len(sets(thin, thick)) == 2
    assert len(sets(thin, BUTT | {"deposit_t": D(12)})) == 3


def test_three_pieces_join_two_by_two() -> None:
    """PA and PF of 10 mm join in position; PF of 10 and of 3 mm join in thickness; the third pair does not join."""
    third = BUTT | {"deposit_t": D(3)}
    found = sets(BUTT, BUTT | {"position": "PC"}, third)
    assert best(BUTT | JOINT | {"position": "PC", "deposit_t": D(20)}, found).outcome is Outcome.COVERED
    assert best(BUTT | JOINT | {"deposit_t": D("3")}, found).outcome is Outcome.COVERED
    labels = [one.label for one in found]
    assert sum("different" in label for label in labels) == 2


def test_a_joined_range_runs_from_the_smallest_to_the_largest() -> None:
    thin, thick = BUTT | {"deposit_t": D(1), "layers": D(1)}, BUTT | {"deposit_t": D(10)}
    found = sets(thin, thick)
    for size, outcome in (("0.99", Outcome.OUTSIDE), ("1", Outcome.COVERED), ("20", Outcome.COVERED)):
        assert best(BUTT | JOINT | {"deposit_t": D(size)}, found).outcome is outcome
    assert best(BUTT | JOINT | {"deposit_t": D("20.01")}, found).outcome is Outcome.OUTSIDE


def test_splitting_a_joint_of_two_processes() -> None:
    joint = BUTT | JOINT | {"process": ("141", "135"), "deposit_t": (D(3), D(9)), "filler_type": "S"}
    root, fill = split_multi_process(joint)
    assert (root["process"], root["deposit_t"], root["weld_detail"]) == ("141", D(3), "ss_nb")
    assert (fill["process"], fill["deposit_t"], fill["weld_detail"]) == ("135", D(9), "ss_mb")
    assert root["joint_processes"] == "141/135" and root["joint_deposit_t"] == D(12)
    assert split_multi_process(joint | {"process": "141+135"})[1]["process"] == "135"


def test_one_thickness_for_two_processes_is_the_whole_weld() -> None:
    root, fill = split_multi_process(BUTT | {"process": "141/135"})
    assert "deposit_t" not in root and fill["joint_deposit_t"] == D(10)


def test_splitting_refuses_another_number_of_values() -> None:
    with pytest.raises(ValueError, match="filler_type states 3 values for 2 processes"):
        split_multi_process(BUTT | {"process": ("141", "135"), "filler_type": ("S", "S", "S")})


@pytest.mark.parametrize(("total", "covered"), [("24", True), ("24.1", False), ("3", True), ("2.9", False)])
def test_a_multi_process_joint_is_measured_by_its_total(total: str, covered: bool) -> None:
    """4 + 8 mm in two recorded layers: 3 to 24 mm together, though the root alone ends at 8 mm."""
    piece = BUTT | {"process": ("141", "135"), "deposit_t": (D(4), D(8)), "layers": D(2)}
    found = sets(piece)
    demands = split_multi_process(BUTT | JOINT | {"process": ("141", "135"), "deposit_t": D(total)})
    assert {best(demand, found).outcome is Outcome.COVERED for demand in demands} == {covered}


def test_every_demand_variable_is_known_and_used() -> None:
    assert set(DEMAND) <= set(VARIABLES)
    pieces = [
        BUTT
        | {
            "process": ("141", "311"),
            "deposit_t": (D(4), D(8)),
            "product": "pipe",
            "diameter": D(60),
            "position": "PH",
        },
        FILLET,
        BUTT | {"supplementary_fillet": "yes"},
        BUTT | {"process": "142", "filler_type": "nm"},
    ]
    looked_at = {limit.variable for one in sets(*pieces) for limit in one.limits}
    looked_at |= {when.variable for one in sets(*pieces) for limit in one.limits for when in limit.when}
    assert looked_at == set(DEMAND)


REASONS = {
    *("standard", "process", "transfer_mode", "product_type", "weld_type", "branch_angle", "filler_group"),
    *("filler_type", "thickness_s", "thickness_t", "diameter", "position", "weld_detail", "layer"),
}
SIZE = st.sampled_from([D(n) for n in ("1", "2.9", "3", "8", "11.9", "12", "25", "26", "60", "500")])
PIECES = st.fixed_dictionaries(
    {},
    optional={
        "process": st.sampled_from(["111", "135", "136", "141", "142", "311"]),
        "transfer_mode": st.sampled_from(["dip", "spray"]),
        "product": st.sampled_from(["plate", "pipe"]),
        "diameter": SIZE,
        "rotated": st.sampled_from(["yes", "no"]),
        "weld_type": st.sampled_from(["butt_cjp", "butt_pjp", "fillet", "branch"]),
        "branch_angle": SIZE,
        "supplementary_fillet": st.sampled_from(["yes", "no"]),
        "combined_piece": st.sampled_from(["yes", "no"]),
        "filler_group": st.sampled_from(["FM1", "FM2", "FM5"]),
        "filler_type": st.sampled_from(["S", "B", "R", "nm"]),
        "root_filler_type": st.sampled_from(["S", "B"]),
        "deposit_t": SIZE,
        "layers": SIZE,
        "parent_t": SIZE,
        "supplementary_t": SIZE,
        "position": st.sampled_from(["PA", "PB", "PF", "PH", "H-L045"]),
        "weld_detail": st.sampled_from(["ss_nb", "ss_mb", "bs"]),
        "run_type": st.sampled_from(["single_run", "multi_run"]),
        "torch_direction": st.sampled_from(["leftward", "rightward"]),
    },
)


@given(pieces=st.lists(PIECES, min_size=1, max_size=3), joint=PIECES, hand=st.booleans())
def test_any_record_gives_limits_whose_reasons_are_known_and_bulk_agrees(
    pieces: list[dict[str, Value]], joint: dict[str, Value], hand: bool
) -> None:
    found = sets(*pieces)
    demand = joint | {"mechanisation": "manual" if hand else "automatic"}
    verdicts = [check(demand, one) for one in found]
    assert {reason for verdict in verdicts for reason in verdict.reasons} <= REASONS
    covering = [i for i, verdict in enumerate(verdicts) if verdict.outcome is Outcome.COVERED]
    assert Compiled(found).covering(demand) == covering
    assert hand or not covering


@given(piece=PIECES, name=st.sampled_from(sorted(BUTT | FILLET)))
def test_saying_less_never_covers_more(piece: dict[str, Value], name: str) -> None:
    """A record or a joint from which a statement is taken away is not covered where it was not before."""
    demand = piece | JOINT
    full = best(demand, sets(piece)).outcome is Outcome.COVERED
    if not full:
        assert best(without(demand, name), sets(piece)).outcome is not Outcome.COVERED
