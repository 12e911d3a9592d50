"""Short notations at the door: keys, values that say several variables, designation lines, a life in short keys."""

import json

import pytest

from codes.__main__ import main
from codes.door.schema import schemas
from codes.door.short_forms import KEYS, long_form
from codes.door.short_life import LIFE_KEYS
from codes.door.short_values import gas_of, level_of, steels_of, weld_of
from codes.parse import BadField
from codes.terms import UnknownTerm, parse_term
from codes.variables import VARIABLES


def ask(question):
    code, printed = main([], json.dumps(question).encode())
    return code, json.loads(printed)


def wpqr(**tested):
    return {"code": "ISO 15614-1:2017", "tested": tested}


def welder(**tested):
    return {"code": "ISO 9606-1:2012", "tested": tested}


def test_every_short_key_stands_for_a_variable_and_hides_none() -> None:
    assert set(KEYS.values()) <= set(VARIABLES)
    assert not set(KEYS) & set(VARIABLES)


def test_the_schema_lists_the_short_keys_and_the_readings() -> None:
    document = schemas()["$defs"]
    assert set(document["short_forms"]["properties"]) >= {*KEYS, *LIFE_KEYS}
    assert "15614-1 preheat and interpass" in document["question"]["properties"]["settings"]["properties"]


@pytest.mark.parametrize(
    ("word", "says"),
    [
        ("BW", {"weld_type": "BW"}),
        ("BW+FWs", {"weld_type": "BW", "supplementary_fillet": "yes"}),
        ("BW+C", {"weld_type": "BW", "combined_piece": "yes"}),
        ("tjoint_butt_full_pen", {"weld_type": "butt_cjp", "joint_type": "tee"}),
        ("T-joint butt weld", {"weld_type": "butt_cjp", "joint_type": "tee"}),
    ],
)
def test_welds(word, says) -> None:
    assert weld_of(word) == says


@pytest.mark.parametrize(
    ("word", "says"),
    [
        ("M21", {"gas": "M21"}),
        ("ISO 14175-M21-ArC-18", {"gas": "M21", "gas_co2": "18"}),
        ("M21 ArC-18", {"gas": "M21", "gas_co2": "18"}),
        ("I3 ArHe-30", {"gas": "I3", "gas_he": "30"}),
        ("M24 - ArCO - 6/2", {"gas": "M24", "gas_co2": "6", "gas_o2": "2"}),
        ("ISO 14175-C1", {"gas": "C1"}),
        ("strange gas", {"gas": "strange gas"}),
    ],
)
def test_gases(word, says) -> None:
    assert gas_of("gas", word) == says


@pytest.mark.parametrize(
    ("word", "says"),
    [
        ("S355J2+N", "S355J2+N"),
        ("1.2", {"group": "1.2", "yield_mpa": None, "grade": ""}),
        ("1.2 355", {"group": "1.2", "yield_mpa": "355", "grade": ""}),
        ("S355J2 (1.2, 355)", {"group": "1.2", "yield_mpa": "355", "grade": "S355J2"}),
        ("group 10.1", {"group": "10.1", "yield_mpa": None, "grade": ""}),
        ("S460M/S355J2", ["S460M", "S355J2"]),
        ("S355J2 to 8.1", ["S355J2", {"group": "8.1", "yield_mpa": None, "grade": ""}]),
        ("AS/NZS 3678 350", "AS/NZS 3678 350"),
        ("unheard of", "unheard of"),
    ],
)
def test_steels(word, says) -> None:
    assert steels_of(word) == says


def test_levels() -> None:
    assert [level_of(word) for word in ("level 2", "L1", 2, "2", "three")] == ["2", "1", 2, "2", "three"]


def test_a_direct_current_without_polarity_is_refused() -> None:
    with pytest.raises(UnknownTerm):
        parse_term("current_type", "DC")
    assert [parse_term("current_type", word) for word in ("DC-", "dc +", "DC -", "DCEN")] == [
        "DC-",
        "DC+",
        "DC-",
        "DC-",
    ]


def test_a_variable_stated_by_both_its_names_is_refused() -> None:
    code, answer = ask({"record": welder(proc="135", process="136"), "demand": {"pos": "PA"}})
    assert (code, answer["error"]["field"]) == (3, "record.tested.process")


def test_a_question_to_another_system_is_left_alone() -> None:
    question = {"record": {"code": "AWS D1.1:2020", "tested": {"s": 3}}, "demand": {"t": 3}}
    assert long_form(question) is question
    assert long_form(5) == 5


def test_a_designation_line_is_a_record() -> None:
    line = "EN ISO 9606-1 135 P FW FM1 S t10 PB ml"
    asked = {"record": {"designation": line}, "demand": {"proc": "138", "t": 3, "pos": "PA"}, "unstated": "not asked"}
    code, answer = ask(asked)
    assert (code, answer["records"][0]["label"]) == (0, line)
    assert ask({**asked, "demand": {"pos": "PF"}})[1]["reasons"] == ["position"]
    code, answer = ask({**asked, "record": {"designation": "ISO 9606-1 999 P FW FM1 S t10 PB ml"}})
    assert (code, answer["error"]["field"]) == (3, "record.designation")
    assert "999" in answer["error"]["problem"]
    code, answer = ask({**asked, "record": {"designation": "EN 287-1 135 P FW 1.1 S t10 PB ml"}})
    assert (code, answer["error"]["field"]) == (3, "record.designation")
    with pytest.raises(BadField, match="beside a designation"):
        long_form({"record": {"designation": line, "tested": []}, "demand": {}})


def test_what_stands_beside_a_designation_is_added_to_it() -> None:
    line = "ISO 9606-1 136 P BW FM1 B s15 PE ss nb"
    demand = {"demand": {"process": "136", "s": 40}, "unstated": "not asked"}
    assert ask({"record": {"designation": line}} | demand)[0] == 1
    assert ask({"record": {"designation": line, "tested": {"layers": 3}}} | demand)[0] == 0


def test_a_joint_of_two_processes_is_covered_where_both_are() -> None:
    piece = welder(
        proc="141/111", prod="T", weld="BW", fm="FM1/FM1", ft="S/B", s="4/8", layers=4, D=114.3, pos="PH", det="ss nb"
    )
    joint = {"proc": "141/111", "ft": "S/B", "det": "ss nb"}
    assert ask({"record": piece, "demand": joint | {"s": "4/26"}, "unstated": "not asked"})[0] == 0
    code, answer = ask({"record": piece, "demand": joint | {"ft": "S/C", "s": "4/26"}, "unstated": "not asked"})
    assert (code, answer["reasons"]) == (1, ["filler_type"])
    code, answer = ask({"record": piece, "demand": joint | {"ft": ["S", "B", "M"]}, "unstated": "not asked"})
    assert (code, answer["error"]["field"]) == (3, "demand.process")


def test_a_procedure_piece_of_two_processes_gives_each_its_own_deposit() -> None:
    both = wpqr(process=["141", "135"], deposit_t=[4, 16], parent_t=20, weld="BW", run_type="ml")
    for process, s, code in (("141", 8, 0), ("141", 8.1, 1), ("135", 32, 0), ("135", 32.1, 1)):
        demand = {"process": process, "deposit_t": s}
        assert ask({"record": both, "demand": demand, "unstated": "not asked"})[0] == code, (process, s)
    total = wpqr(process=["141", "135"], deposit_t=20, parent_t=20, weld="BW", run_type="ml")
    assert ask({"record": total, "demand": {"process": "141", "deposit_t": 20}})[0] == 2


def test_the_date_of_a_question_reaches_the_gates() -> None:
    gate = {"code": "EN 1090-2:2018", "tested": {"last_used_on": "2024-11-25"}}
    asked = {"record": gate, "demand": {"execution_class": 2, "steels": "S460N"}, "unstated": "not asked"}
    assert ask(asked | {"on": "2025-11-25"})[0] == 0
    assert ask(asked | {"on": "2025-11-26"})[1]["findings"][0]["needs"].startswith("a production weld test")


def test_a_what_if_names_a_silent_record_only_where_nothing_else_is_judged() -> None:
    question = {"record": wpqr(parent_t=12, run_type="ml"), "unstated": "not asked"}
    assert ask(question | {"demand": {"position": "PA"}})[0] == 2
    assert ask(question | {"demand": {"position": "PA", "parent_t": 20}})[0] == 0
    assert ask(question | {"demand": {"position": "PA", "parent_t": 25}})[1]["reasons"] == ["thickness"]


def test_windows_of_what_ifs_are_cut_over_several_records() -> None:
    records = [wpqr(weld="BW", run_type="ml", parent_t=t) for t in (10, 50)]
    window = {"records": records, "unstated": "not asked"}
    assert ask(window | {"demand": {"parent_t": {"min": 3, "max": 20}}})[0] == 0
    code, answer = ask(window | {"demand": {"parent_t": {"min": 3, "max": 100}}})
    assert code == 1
    assert answer["uncovered"] == [
        {"parent_t": {"min": "20", "max": "25", "min_exclusive": True, "max_exclusive": True}}
    ]


def test_in_class_1_the_works_decide_on_option_c() -> None:
    life = {"test": "2024-06-10", "opt": "c", "conf": "2024-12-01", "samemfr": "yes", "docq": "yes", "iso3834": 3}
    demand = {"asof": "2025-01-10", "exc": "EXC1"}
    assert ask({"record": welder() | life, "demand": demand})[0] == 0
    code, answer = ask({"record": welder() | life, "demand": demand | {"shop3834": 4}})
    assert (code, answer["reasons"]) == (1, ["revalidation_option"])
    assert ask({"record": welder() | life, "demand": demand | {"exc": "EXC2", "shop3834": 4}})[0] == 0


def test_a_life_in_short_keys_needs_events_that_are_a_list() -> None:
    code, answer = ask(
        {"record": welder() | {"test": "2024-06-10", "conf": "2024-12-01", "events": "x"}, "on": "2025-01-01"}
    )
    assert (code, answer["error"]["field"]) == (3, "record.events")


def test_a_consumable_insert_and_a_root_without_gouging_have_keys_of_their_own() -> None:
    operator = {"std": "14732", "tested": {"kind": "mech", "proc": "121", "weld": "BW", "det": "ss mb", "ci": "no"}}
    assert ask({"record": operator, "demand": {"det": "ss mb"}, "unstated": "not asked"})[0] == 0
    insert = {"std": "14732", "tested": {"kind": "mech", "proc": "141", "weld": "BW", "ci": "yes"}}
    code, answer = ask({"record": insert, "demand": {"det": "ss nb"}, "unstated": "not asked"})
    assert (code, answer["reasons"]) == (1, ["consumable_insert"])
    ungouged = wpqr(weld="BW", det="bs", gouged=False)
    assert ask({"record": ungouged, "demand": {"gouging": "grinding"}, "unstated": "not asked"})[0] == 0
    code, answer = ask({"record": wpqr(weld="BW", det="bs", gouged=True), "demand": {"det": "bs"}})
    assert (code, answer["error"]["field"]) == (3, "record.tested.gouged")
