"""Look-ups of the US codes and of EN 1090-2 through `python -m codes`: figures at both edges, and bad questions."""

import json

import pytest
from jsonschema import Draft202012Validator

from codes.__main__ import main
from codes.door.look_up import LOOK_UPS
from codes.door.schema import schemas

US, SI = {"unit_system": "us"}, {"unit_system": "si"}


def ask(name, **stated):
    code, printed = main([], json.dumps({"look_up": name, **stated}).encode())
    return code, json.loads(printed)


@pytest.mark.parametrize(
    ("name", "stated", "value"),
    [
        ("minimum_fillet", {"thickness": "1/4 in", "other_thickness": "1 in", "process": "GMAW", **US}, "3.175"),
        ("minimum_fillet", {"thickness": "1/2 in", "process": "FCAW", **US}, "4.7625"),
        ("minimum_fillet", {"thickness": "3/4 in", "process": "FCAW", **US}, "6.35"),
        ("minimum_fillet", {"thickness": "13/16 in", "process": "FCAW", **US}, "7.9375"),
        ("minimum_fillet", {"thickness": 20, "filler_designation": "E7018", **SI}, "6"),
        ("minimum_fillet", {"thickness": "20.1", "filler_designation": "E7018", **SI}, "8"),
        (
            "minimum_fillet",
            {"thickness": "1 in", "other_thickness": "3/16 in", "filler_designation": "E6010", **US},
            "4.7625",
        ),
        ("minimum_fillet", {"thickness": "1/4 in", "process": "GMAW", "cyclic": True, **US}, "4.7625"),
        ("maximum_edge_fillet", {"thickness": "1/4 in", **US}, "4.7625"),
        ("maximum_edge_fillet", {"thickness": "3/16 in", **US}, "4.7625"),
        ("maximum_edge_fillet", {"thickness": 6, **SI}, "4"),
        ("maximum_edge_fillet", {"thickness": "5.9", **SI}, "5.9"),
        ("maximum_edge_fillet", {"thickness": "1/2 in", "built_out": "yes", **US}, "12.7"),
        ("minimum_fillet_length", {"leg": "5/16 in", **US}, "31.75"),
        ("leg_with_gap", {"leg": "1/4 in", "gap": "1/8 in", **US}, "9.525"),
        ("leg_with_gap", {"leg": "1/4 in", "gap": "1/4 in", **US}, None),
        ("minimum_pjp_size", {"thickness": "1-1/2 in", "process": "SAW", **US}, "7.9375"),
        ("minimum_pjp_size", {"thickness": "1-9/16 in", "process": "SAW", **US}, "9.525"),
        ("minimum_pjp_size", {"thickness": 38, "process": "SAW", **SI}, "8"),
        ("preheat", {"grade": "A36", "thickness": "1 in", "filler_designation": "E7018", **US}, "50"),
        ("preheat", {"grade": "A36", "thickness": 20, "filler_designation": "E7018", **SI}, "0"),
        ("preheat", {"grade": "A516-60", "thickness": "1 in", "filler_designation": "E6010", **US}, "150"),
        (
            "preheat",
            {"grade": "A572-65", "other_grade": "A36", "thickness": "1 in", "filler_designation": "E8018-C3", **US},
            "150",
        ),
        ("preheat", {"grade": "A913-65", "thickness": "2 in", "filler_designation": "E8018-C3-H8", **US}, "32"),
        ("preheat", {"grade": "A913-65", "thickness": "2 in", "filler_designation": "E8018-C3", **US}, "225"),
        ("preheat", {"grade": "A992", "thickness": 65, "process": "FCAW", **SI}, "65"),
        ("preheat", {"grade": "A992", "thickness": "65.1", "process": "FCAW", **SI}, "110"),
        (
            "preheat",
            {"grade": "A36", "thickness": "1/2 in", "process": "GMAW", "parent_temperature": "20 °F", **US},
            "70",
        ),
        ("base_metal_group", {"grade": "A36", "thickness": "3/4 in", **US}, "I"),
        ("base_metal_group", {"grade": "A36", "thickness": "13/16 in", **US}, "II"),
        ("base_metal_group", {"grade": "A36", "thickness": 20, **SI}, "I"),
        ("base_metal_group", {"grade": "ASTM A572 Gr. 65"}, "III"),
        ("base_metal_group", {"grade": "A514"}, "by test"),
        ("p_number", {"grade": "SA-516 Gr 70"}, "P1"),
        ("p_number", {"grade": "A992"}, "unassigned"),
        ("f_number", {"filler_designation": "E7018-1 H4R"}, "F4"),
        ("f_number", {"filler_designation": "E308L-16"}, "F5"),
        ("f_number", {"filler_designation": "F7A2-EM12K"}, "F6"),
        ("exposure_hours", {"filler_designation": "E7018"}, "4"),
        ("exposure_hours", {"filler_designation": "E7018-H4R"}, "9"),
        ("exposure_hours", {"filler_designation": "E8018-C3"}, "2"),
        ("exposure_hours", {"strength_ksi": 100}, "0.5"),
        ("quality_level", {"execution_class": "EXC2"}, "C"),
        ("iso_3834_part", {"execution_class": "EXC3"}, "ISO 3834-2"),
        ("coordinator_level", {"execution_class": "EXC2", "grade": "S355J2", "thickness": 25}, "B"),
        ("coordinator_level", {"execution_class": "EXC2", "grade": "S355J2", "thickness": "25,1"}, "S"),
        ("coordinator_level", {"execution_class": "EXC1", "grade": "S355J2", "thickness": 25}, "none"),
        ("execution_class", {"consequence_class": "CC2", "action": "fatigue"}, "EXC3"),
        ("ndt_share", {"execution_class": "EXC3", "weld": "butt_transverse"}, "20"),
        ("ndt_share", {"execution_class": "EXC3", "weld": "fillet", "throat": 12, "thickness": 30}, "5"),
        ("ndt_share", {"execution_class": "EXC3", "weld": "fillet", "throat": 12, "thickness": "30.1"}, "10"),
        ("hold_hours", {"size": 6, "heat_input": 3, "yield_mpa": 355}, "0"),
        ("hold_hours", {"size": "6.1", "heat_input": 3, "yield_mpa": 355}, "8"),
        ("hold_hours", {"size": "6.1", "heat_input": "3.1", "yield_mpa": 460}, "40"),
    ],
)
def test_a_look_up(name, stated, value):
    code, answer = ask(name, **stated)
    assert (code, answer.get("value")) == (0, value), answer
    assert answer.get("clause") or value == "unassigned"


@pytest.mark.parametrize(
    ("stated", "matches"),
    [
        ({"grade": "A572-50", "filler_designation": "E71T-1C"}, True),
        ({"grade": "A572-65", "filler_designation": "E71T-1C"}, False),
        ({"group": "I", "filler_designation": "E6010"}, True),
        ({"grade": "A36", "thickness": "1 in", "unit_system": "us", "filler_designation": "E6010"}, False),
        ({"group": "II", "filler_designation": "E8018-C3"}, True),
        ({"group": "II", "filler_designation": "E9018-M"}, False),
        ({"grade": "A992", "other_grade": "A572-65", "filler_designation": "E7018"}, True),
        ({"group": "IV", "filler_designation": "E9018M"}, True),
    ],
)
def test_matching_filler(stated, matches):
    code, answer = ask("matching_filler", **stated)
    assert (code, answer["matches"]) == (0, matches), answer["because"]
    assert "SMAW" in next(iter(answer["classes"].values()))


@pytest.mark.parametrize(
    ("name", "stated", "field"),
    [
        ("minimum_fillet", {"thickness": 6, "process": "135"}, "unit_system"),
        ("minimum_fillet", {"thickness": 6, **SI}, "low_hydrogen"),
        ("minimum_fillet", {"thickness": 6, "process": "SMAW", **SI}, "low_hydrogen"),
        ("minimum_fillet", {"thickness": 0, "process": "135", **SI}, "thickness"),
        ("minimum_fillet", {"thickness": "1/4", "process": "135", **US}, "thickness"),
        ("preheat", {"grade": "S355J2", "thickness": "1 in", "process": "FCAW", **US}, "grade"),
        ("preheat", {"grade": "A572-50", "thickness": "1 in", "filler_designation": "E6010", **US}, "grade"),
        ("matching_filler", {"grade": "A36"}, "unit_system"),
        ("matching_filler", {"grade": "A36", **US}, "thickness"),
        ("matching_filler", {"grade": "A514"}, "grade"),
        ("matching_filler", {"group": "V"}, "group"),
        ("matching_filler", {"group": "I", "filler_designation": "X99"}, "filler_designation"),
        ("matching_filler", {}, "grade"),
        ("base_metal_group", {"grade": "S355"}, "grade"),
        ("f_number", {"filler_designation": "glue"}, "filler_designation"),
        ("exposure_hours", {"filler_designation": "E6010"}, "filler_designation"),
        ("quality_level", {"execution_class": "EXC5"}, "execution_class"),
        ("coordinator_level", {"execution_class": "EXC2", "grade": "A1", "thickness": 5}, "grade"),
        ("ndt_share", {"execution_class": "EXC2", "weld": "fillet"}, "throat"),
        ("hold_hours", {"size": 0, "heat_input": 3, "yield_mpa": 355}, "size"),
    ],
)
def test_a_bad_look_up_names_the_field(name, stated, field):
    code, answer = ask(name, **stated)
    assert (code, answer["error"]["field"]) == (3, field), answer


def test_every_look_up_stands_in_the_schema():
    document = schemas()  # test_door checks that it is a schema
    titles = {one["properties"]["look_up"]["const"] for one in document["$defs"]["look_up"]["oneOf"]}
    assert titles == set(LOOK_UPS)
    question = {"look_up": "minimum_fillet", "thickness": "1/4 in", "unit_system": "us", "process": "135"}
    look_up = {"$ref": "#/$defs/look_up", "$defs": document["$defs"]}
    assert Draft202012Validator(look_up).is_valid(question)
