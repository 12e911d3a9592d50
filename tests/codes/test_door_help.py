"""`python -m codes` explains itself: somebody who has nothing else gets from --help to an answer."""

import json

import pytest

from codes.__main__ import main
from codes.calc.registry import calculations
from codes.door.examples import EXAMPLES
from codes.door.help import OPTIONS
from codes.door.look_up import LOOK_UPS
from codes.editions import all_editions


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_example_is_answered_as_it_says(name: str) -> None:
    code, question = main(["--example", *name.split()], b"")
    assert code == 0
    code, printed = main([], question.encode())
    assert code == EXAMPLES[name].code, printed[:400]


def test_the_examples_ask_every_kind_of_question() -> None:
    plain = [one.question for one in EXAMPLES.values()]
    records = [one for question in plain for one in question.get("records", [question.get("record")]) if one]  # type: ignore[attr-defined,call-overload]
    kinds = {one["kind"] for one in records}
    assert kinds == {"wpqr", "pqr", "prequalified", "gate", "welder"}
    asked = {question.get("look_up") for question in plain}
    assert {"grade", "minimum_fillet", "preheat", "matching_filler"} <= asked
    assert any("calculation" in question for question in plain)


def test_help_names_every_option_and_every_code() -> None:
    code, text = main(["--help"], b"")
    assert code == 0
    assert all(option in text for option in OPTIONS if option != "--help")
    assert all(known.key in text for known in all_editions())


@pytest.mark.parametrize("known", all_editions(), ids=lambda known: known.key)
def test_the_fields_of_every_code(known) -> None:
    code, text = main(["--fields", *known.key.split()], b"")
    assert code == 0
    names = {line.split()[0] for line in text.splitlines() if line.startswith("  ")}
    assert {field.name for field in known.fields} | set(known.demand) <= names
    assert all(f"  {switch.key}: " in text for switch in known.switches)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--terms", "position"], "PA · 1G / 1F"),
        (["--look-ups"], "minimum_fillet: "),
        (["--calculations"], "heat_input: "),
        (["--example"], "prequalified"),
    ],
)
def test_what_there_is(arguments: list[str], said: str) -> None:
    code, text = main(arguments, b"")
    assert code == 0 and said in text
    known = {"--look-ups": LOOK_UPS, "--calculations": calculations(), "--example": EXAMPLES}.get(arguments[0], ())
    assert all(name in text for name in known)


@pytest.mark.parametrize(
    ("arguments", "stdin", "field", "said"),
    [
        (["--terms", "positon"], b"", "terms", "nearest: position"),
        (["--fields", "ISO 1"], b"", "fields", "ISO 15614-1:2017"),
        (["--example", "x"], b"", "example", "matching filler"),
        (["--colour"], b"", "arguments", "--fields"),
        ([], b" \n", "question", "--help"),
        ([], b'{"record": {"code": "ISO 15614-1:2017", "tested": {"pulsed": "no"}}, "demand": {"process": "135"}}',
         "record.tested.pulsed", "nearest: pulsed_current"),
        ([], b'{"record": {"code": "ISO 15614-1:2017", "tested": {}}, "demand": {}, "steel_grades": [{"name": "X"}]}',
         "steel_grades", "name, group, bands and source"),
    ],
)  # fmt: skip
def test_what_goes_wrong_says_what_would_be_right(arguments, stdin, field, said) -> None:
    code, printed = main(arguments, stdin)
    error = json.loads(printed)["error"]
    assert (code, error["field"]) == (3, field) and said in error["problem"], error


def test_the_uncovered_piece_is_told_in_words() -> None:
    _, printed = main([], json.dumps(EXAMPLES["window"].question).encode())
    answer = json.loads(printed)
    assert answer["uncovered_in_words"] == ["parent thickness above 24 to below 30 mm"]
    assert "No record covers: parent thickness above 24 to below 30 mm." in answer["sentence"]
