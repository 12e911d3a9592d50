"""Calculations and look-ups through the command line: answers, refusals, exit codes, units and schema."""

import inspect
import json

import jsonschema
import pytest

from codes.__main__ import main
from codes.calc.calculation import Kind
from codes.calc.registry import FAMILIES, calculations
from codes.door.look_up import LOOK_UPS
from codes.door.schema import schemas
from tests.codes.calc_cases import inputs_of, rows

HEAT = {"voltage": 28, "current": 260, "travel_speed": 420, "process": "135", "waveform_controlled": False}
QUESTION = {"calculation": "heat_input", "inputs": HEAT}
REFUSED = {"calculation": "cooling_time_3d", "inputs": {"heat_input": 1, "preheat": 500}}
VERDICT = {"record": {"code": "ISO 9606-1:2012", "tested": {}}, "demand": {"position": "PA"}}


def ask(question: object) -> tuple[int, object]:
    code, text = main([], json.dumps(question).encode())
    return code, json.loads(text)


def test_an_answer_states_value_unit_steps_flags_and_clause() -> None:
    code, answer = ask(QUESTION | {"id": "run 1"})
    assert code == 0 and isinstance(answer, dict)
    assert (answer["outcome"], answer["id"], answer["unit"]) == ("answered", "run 1", "kJ/mm")
    assert answer["value"] == "0.832" and answer["shown"] == "0.83 kJ/mm"
    assert answer["intermediate_values"][-2] == {"name": "arc_energy", "value": "1.04", "unit": "kJ/mm"}
    assert answer["clause"].startswith("EN 1011-1:2009") and answer["mark"] == "confirmed"
    assert answer["flags"] == []


def test_a_refusal_exits_3_and_names_input_and_range() -> None:
    code, answer = ask(REFUSED)
    assert code == 3 and isinstance(answer, dict)
    assert answer["outcome"] == "refused" and "not below 500 °C" in answer["reason"]
    assert answer["error"]["field"] == "inputs.preheat"


@pytest.mark.parametrize(
    ("question", "field", "problem"),
    [
        ({"calculation": "heat_inptu", "inputs": {}}, "calculation", "heat_input"),
        ({"calculation": "heat_input", "inputs": []}, "inputs", "object"),
        ({"calculation": "heat_input", "input": {}}, "input", "known: id, calculation"),
        ({"calculation": "cet", "inputs": {}}, "inputs.analysis", "must be stated"),
        ({"calculation": "cet", "inputs": {"analysis": {"C": "x"}}}, "inputs.analysis.C", "not a number"),
        ({"calculation": "heat_input", "inputs": {"amps": 1}}, "inputs.amps", "not an input of heat_input"),
        (
            {"calculation": "heat_input", "inputs": {"current": "1 kg"}},
            "inputs.current",
            "write A or kA, or",
        ),
        ({"calculation": "heat_input", "inputs": {"current": "1e99"}}, "inputs.current", "not a usable number"),
        ({"calculation": "heat_input", "inputs": {"k": "0.8 mm"}}, "inputs.k", "without a unit"),
        ({"calculation": "heat_input", "inputs": {"process": "999"}}, "inputs.process", "not a known process"),
        ({"calculation": "heat_input", "inputs": HEAT, "units": "cgs"}, "units", "si or us"),
        ({"look_up": "grade", "grade": "S356J2"}, "grade", "nearest"),
        ({"look_up": "grad"}, "look_up", "grade"),
        ({"look_up": "tack_length", "thicker_t": 0}, "thicker_t", "more than 0"),
    ],
)
def test_bad_questions_exit_3_and_name_the_field(question: object, field: str, problem: str) -> None:
    code, answer = ask(question)
    assert code == 3 and isinstance(answer, dict)
    assert answer["error"]["field"] == field and problem in answer["error"]["problem"]


def test_a_list_mixes_verdicts_calculations_and_look_ups() -> None:
    code, answers = ask([QUESTION, {"look_up": "grade", "grade": "S355J2+N"}])
    assert code == 0 and [one["outcome"] for one in answers] == ["answered", "answered"]  # type: ignore[index, attr-defined]
    code, answers = ask([QUESTION, VERDICT])
    assert code in (1, 2) and answers[0]["outcome"] == "answered"  # type: ignore[index, attr-defined]
    code, answers = ask([QUESTION, VERDICT, REFUSED])
    assert code == 3 and answers[2]["outcome"] == "refused"  # type: ignore[index, attr-defined]


def test_units_on_the_way_in_and_out() -> None:
    inputs = HEAT | {"travel_speed": {"value": "16.5354330708661417322834645669", "unit": "in/min"}}
    _, metric = ask({"calculation": "heat_input", "inputs": inputs})
    assert abs(float(metric["value"]) - 0.832) < 1e-15  # type: ignore[index]
    _, us = ask(QUESTION | {"units": "us"})
    assert (us["value"], us["unit"], us["shown"]) == ("21.1328", "kJ/in", "21.1 kJ/in")  # type: ignore[index]


def test_figures_that_a_code_prints_per_system_are_not_converted() -> None:
    inputs = {"categories": ["B"], "thickness_mm": 50}
    _, answer = ask({"calculation": "d11_prequalified_preheat", "inputs": inputs, "units": "us"})
    assert (answer["value"], answer["unit"]) == ("65", "°C")  # type: ignore[index]


def test_look_ups() -> None:
    _, grade = ask({"look_up": "grade", "inputs": {"grade": "s355 j2 + n", "thickness": "50", "by_band": "yes"}})
    assert (grade["group"], grade["yield_mpa"]) == ("1.2", "335")  # type: ignore[index]
    for thickness, length in (("10", "40"), ("12.5", "50"), ("12.4", "49.6"), ("20", "50")):
        assert ask({"look_up": "tack_length", "thicker_t": thickness})[1]["value"] == length  # type: ignore[index]
    assert ask({"look_up": "thermal_efficiency", "process": "141"})[1]["value"] == "0.6"  # type: ignore[index]
    assert ask({"look_up": "term", "vocabulary": "position", "word": "2f"})[1]["value"] == "PB"  # type: ignore[index]


def test_the_schema_holds_every_case_and_refuses_a_wrong_one() -> None:
    document = schemas()  # test_door checks that it is a schema
    validator = jsonschema.Draft202012Validator({"$ref": "#/$defs/calculation", "$defs": document["$defs"]})
    for row in rows():
        inputs = json.loads(json.dumps(inputs_of(row), default=float))
        validator.validate({"calculation": row["calculation"], "inputs": inputs})
    assert not validator.is_valid({"calculation": "heat_input", "inputs": {"amps": 1}})
    assert not validator.is_valid({"calculation": "cet", "inputs": {}})


@pytest.mark.parametrize("name", calculations())
def test_inputs_are_the_arguments_and_the_optional_ones_have_defaults(name: str) -> None:
    asked = calculations()[name]
    arguments = inspect.signature(asked.function).parameters
    assert set(arguments) == {one.name for one in asked.inputs}
    for one in asked.inputs:
        assert (arguments[one.name].default is inspect.Parameter.empty) == (one.needed == "always"), one.name
        assert bool(one.options or one.vocabulary) == (one.kind is Kind.TERM)


@pytest.mark.parametrize("name", LOOK_UPS)
def test_inputs_of_look_ups_are_their_arguments(name: str) -> None:
    arguments = inspect.signature(LOOK_UPS[name].function).parameters
    assert set(arguments) == {one.name for one in LOOK_UPS[name].inputs}


def test_no_name_stands_twice() -> None:
    assert len(calculations()) == sum(len(family.CALCULATIONS) for family in FAMILIES)


def test_a_fraction_of_an_inch_is_an_input_with_its_unit_only() -> None:
    _, whole = ask({"look_up": "tack_length", "thicker_t": {"value": "3/8", "unit": "in"}})
    assert whole["value"] == "38.1"  # type: ignore[index]
    assert ask({"look_up": "tack_length", "thicker_t": "3/8 in"})[1]["value"] == "38.1"  # type: ignore[index]
    for written in ("3/8", "3/8 mm", "3/0 in", "3/8 in/min", "9,525", "1,500 in"):
        code, answer = ask({"look_up": "tack_length", "thicker_t": written})
        assert (code, answer["error"]["field"]) == (3, "thicker_t")  # type: ignore[index]
