"""`python -m codes` as US fabricators ask: inches, AWS letters, uses that stand in a person's own record."""

import json

import pytest

from codes.__main__ import main
from codes.door.us_forms import in_iso_words, spelled_out

TESTED = {
    "unit_system": "us",
    "contractor": "North",
    "process": "SMAW",
    "filler_designation": "E7018",
    "weld_type": "groove",
    "product": "plate",
    "parent_t": "3/8 in",
    "aws_position": "3G",
    "progression": "uphill",
    "weld_detail": "ss_mb",
}
JOINT = TESTED | {"mechanisation": "manual", "joint_type": "butt", "parent_t": "3/4 in", "groove_angle": 45}


def ask(question):
    code, printed = main([], json.dumps(question).encode())
    return code, json.loads(printed)


def welder(*events, **life):
    return {"kind": "welder", "code": "AWS D1.1:2020", "tested": TESTED, "events": list(events)} | life


def use(on, **details):
    return {"kind": "use", "on": on, "details": details}


@pytest.mark.parametrize(("thickness", "code"), [("1/8 in", 0), ("0.12 in", 1), ("3/4 in", 0), ("13/16 in", 1)])
def test_inches_are_judged_by_the_us_figures(thickness, code):
    assert ask({"record": welder(), "demand": JOINT | {"parent_t": thickness}})[0] == code


@pytest.mark.parametrize(
    ("event", "on", "code"),
    [
        (use("2025-01-10"), "2025-07-10", 0),
        (use("2025-01-10"), "2025-07-11", 1),
        (use("2025-01-10", process="SMAW", mechanisation="manual", employer="North"), "2025-07-10", 0),
        (use("2025-01-10", process="FCAW", mechanisation="semiautomatic"), "2025-02-01", 1),
        (use("2025-01-10", employer="South"), "2025-02-01", 1),
        (use("2025-01-10", mechanisation="robotic"), "2025-02-01", 1),
    ],
)
def test_a_use_is_of_the_record_it_stands_in_unless_it_says_otherwise(event, on, code):
    got, answer = ask({"record": welder(event, tested_on="2024-07-20"), "on": on})
    assert got == code, answer["sentence"]
    assert ("continuity" in answer["reasons"]) == bool(code)


def test_a_word_that_no_detail_knows_is_named():
    record = welder(use("2025-01-10", process="glue"), tested_on="2024-07-20")
    code, answer = ask({"record": record, "on": "2025-02-01"})
    assert (code, answer["error"]["field"]) == (3, "record.events[0].details.process")


@pytest.mark.parametrize("kind", ["tack welder", "tack_welder", "Tack Welder"])
def test_a_code_and_a_kind_find_the_book(kind):
    tested = {name: TESTED[name] for name in ("unit_system", "contractor", "process", "filler_designation")}
    record = {"kind": kind, "code": "AWS D1.1:2020", "tested": tested | {"aws_position": "F"}}
    demand = tested | {"mechanisation": "manual", "aws_position": "F", "parent_t": "1/8 in", "phase": "tack"}
    assert ask({"record": record, "demand": demand})[0] == 0


FILLET = {
    "unit_system": "us",
    "process": "SMAW",
    "filler_designation": "E7018",
    "filler_diameter": "5/32 in",
    "steels": [{"grade": "A36"}, {"grade": "A36"}],
    "parent_t": "1/2 in",
    "weld_type": "fillet",
    "joint_type": "tee",
    "run_type": "single",
    "leg_z": "5/16 in",
    "aws_position": "2F",
    "preheat": "32 °F",
    "in_makers_range": "yes",
    "current_type": "DCEP",
    "pwht": "no",
    "impact_required": "no",
    "cyclic_load": "no",
}


@pytest.mark.parametrize(("leg", "code"), [("5/16 in", 0), ("3/8 in", 1), (None, 2)])
def test_a_prequalified_procedure_without_a_demand_is_judged_by_what_it_writes(leg, code):
    record = {"kind": "prequalified", "code": "AWS D1.1:2020", "tested": FILLET | {"leg_z": leg}}
    assert ask({"record": record})[0] == code


def test_a_record_of_a_test_without_a_demand_is_a_bad_question():
    assert ask({"record": welder()})[1]["error"]["field"] == "demand"


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({"aws_position": "1G"}, {"position": "PA"}),
        ({"aws_position": "3G", "progression": "uphill"}, {"position": "PF"}),
        ({"aws_position": ["2G", "5G"], "progression": "down"}, {"position": ["PC", "PJ"]}),
        ({"aws_position": "4F"}, {"position": "PD"}),
        ({"aws_position": "3G"}, {}),
        ({"aws_position": "3G", "position": "PG"}, {"position": "PG"}),
        ({"gas_mixture": "80Ar/20CO2"}, {"gas": "M21", "gas_co2": "20"}),
        ({"gas_mixture": "95Ar/5CO2"}, {"gas": "M12", "gas_co2": "5"}),
        ({"gas_mixture": "98Ar/2O2"}, {"gas": "M13", "gas_o2": "2"}),
        ({"gas_mixture": "CO2"}, {"gas": "C1"}),
        ({"gas_mixture": "Ar"}, {"gas": "I1"}),
        ({"gas_mixture": "75Ar/25He"}, {"gas": "I3", "gas_he": "25"}),
        ({"gas_mixture": "90Ar/7.5He/2.5CO2"}, {"gas": "Z", "gas_he": "7.5", "gas_co2": "2.5"}),
        ({"gas_mixture": "none"}, {"gas": "none"}),
    ],
)
def test_positions_and_mixtures_as_aws_writes_them(stated, said):
    found = in_iso_words(stated, ("position", "gas", "progression"))
    assert {name: value for name, value in found.items() if name != "progression"} == said


def test_a_mixture_that_cannot_be_read_is_named():
    record = {"code": "ASME IX:2021", "tested": {"process": "GMAW", "gas_mixture": "argon and some"}}
    code, answer = ask({"record": record, "demand": {"process": "GMAW"}})
    assert (code, answer["error"]["field"]) == (3, "record.tested.gas_mixture")


@pytest.mark.parametrize(("gas", "code"), [("80Ar/20CO2", 0), ("75Ar/25CO2", 1)])
def test_an_asme_record_in_us_terms(gas, code):
    record = {"code": "ASME IX:2021", "tested": {"unit_system": "us", "process": "GMAW", "gas_mixture": "80Ar/20CO2"}}
    assert ask({"record": record, "demand": {"gas_mixture": gas}, "unstated": "not asked"})[0] == code


def test_positions_and_a_process_with_its_mode_in_one_word():
    found = spelled_out({"aws_position": "3G + 4G", "process": "GMAW-S"})
    assert found == {"aws_position": ["3G", "4G"], "process": "GMAW", "transfer_mode": "dip"}
    record = {"code": "AWS D1.1:2020", "kind": "welder", "tested": {"unit_system": "us", "process": "GMAW-S"}}
    for process, expected in (("GMAW-S", 0), ("GMAW-P", 1)):
        assert ask({"record": record, "demand": {"process": process}, "unstated": "not asked"})[0] == expected


@pytest.mark.parametrize(("flow", "code"), [("32 cfh", 0), ("31 cfh", 1), ("60 cfh", 0), ("61 cfh", 1)])
def test_gas_flow_is_judged_where_the_mixture_is_not_recorded(flow, code):
    record = {"code": "AWS D1.1:2020", "tested": {"unit_system": "us", "process": "GMAW", "gas_flow": "40 cfh"}}
    assert ask({"record": record, "demand": {"gas_flow": flow}, "unstated": "not asked"})[0] == code


def test_the_thickness_asked_about_moves_no_steel_that_is_not_asked_about():
    tested = {"unit_system": "us", "process": "GMAW", "weld_type": "groove", "product": "plate", "steels": "A36"}
    question = {"record": {"code": "AWS D1.1:2020", "tested": tested | {"parent_t": "1/2 in"}}}
    question |= {"demand": {"parent_t": "1 in"}, "unstated": "not asked"}
    assert ask(question)[0] == 0
    assert ask(question | {"demand": {"parent_t": "1 in", "steels": "A36"}})[1]["reasons"] == ["base_metal"]


@pytest.mark.parametrize(
    ("stated", "units"),
    [
        ({"parent_t": "3/8 in"}, "us"),
        ({"parent_t": {"value": 0.375, "unit": "inch"}}, "us"),
        ({"parent_t": {"min": "1/8 in", "max": "3/4 in"}}, "us"),
        ({"parent_t": {"min": 1, "max": 2, "unit": "in"}}, "us"),
        ({"preheat": "225 F"}, "us"),
        ({"travel_speed": ["12 ipm", "14 ipm"]}, "us"),
        ({"parent_t": "10 mm"}, None),
        ({"parent_t": 10, "aws_position": "F", "contractor": "Shop 5 in"}, None),
        ({"parent_t": "3/8 in", "unit_system": "si"}, "si"),
    ],
)
def test_a_figure_in_us_units_names_the_set_of_figures(stated, units):
    assert spelled_out(stated).get("unit_system") == units
