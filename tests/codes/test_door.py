"""`python -m codes`: exit codes, messages that name the field, lists, dates, several records, what-ifs, the schema."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from codes.__main__ import main
from codes.door.schema import schemas

ROOT = Path(__file__).resolve().parents[2]

BUTT = {
    "process": "135",
    "transfer_mode": "S",
    "product": "P",
    "weld_type": "BW",
    "filler_group": "FM1",
    "filler_type": "S",
    "deposit_t": 12,
    "layers": 4,
    "position": "PA",
    "weld_detail": "ss mb",
}
JOINT = {name: value for name, value in BUTT.items() if name != "layers"} | {
    "mechanisation": "partly mechanised",
    "deposit_t": 15,
}


def welder(**more):
    return {"kind": "welder", "code": "EN ISO 9606-1:2017", "tested": BUTT} | more


def ask(question):
    code, printed = main([], json.dumps(question).encode())
    return code, json.loads(printed)


def test_covered_is_exit_0_with_every_variable_found_and_the_limits_earned():
    code, answer = ask({"id": "A", "record": welder(), "demand": JOINT})
    assert (code, answer["outcome"], answer["id"]) == (0, "covered", "A")
    assert {"process", "position", "deposit_t", "weld_detail"} <= {f["variable"] for f in answer["findings"]}
    limits = answer["records"][0]["limits"][0]["limits"]
    thickness = next(limit for limit in limits if limit["variable"] == "deposit_t")
    assert thickness["range"] == {"min": "3", "max": None} and "Table 6" in thickness["clause"]


def test_outside_is_exit_1_and_names_value_range_and_clause():
    code, answer = ask({"record": welder(), "demand": JOINT | {"position": "PF"}})
    assert (code, answer["outcome"], answer["reasons"]) == (1, "outside", ["position"])
    assert "Table 9" in answer["findings"][0]["clause"]


def test_not_stated_is_exit_2():
    demand = {name: value for name, value in JOINT.items() if name != "position"}
    code, answer = ask({"record": welder(), "demand": demand})
    assert (code, answer["outcome"]) == (2, "not stated")


LIFE = {"tested_on": "2025-03-15", "option": "a", "events": [{"kind": "confirmation", "on": "2025-09-10"}]}


@pytest.mark.parametrize(
    ("on", "code", "reasons"),
    [
        ("2025-09-10", 0, []),
        ("2026-03-10", 0, []),  # six months after the confirmation, that day included
        ("2026-03-11", 1, ["validity_confirmation"]),
        ("2025-03-14", 1, ["validity_not_started"]),
    ],
)
def test_validity_on_a_date(on, code, reasons):
    got, answer = ask({"record": welder(**LIFE), "demand": JOINT, "on": on})
    assert (got, answer["reasons"]) == (code, reasons)
    assert answer["records"][0]["validity"]["periods"]


def test_a_date_without_a_test_date_is_not_stated_and_a_date_alone_asks_for_validity():
    assert ask({"record": welder(), "demand": JOINT, "on": "2026-01-01"})[0] == 2
    assert ask({"record": welder(**LIFE), "on": "2026-01-01"})[0] == 0
    assert ask({"record": welder(**LIFE), "on": "2026-04-01"})[0] == 1


@pytest.mark.parametrize(
    ("question", "field"),
    [
        (5, "question"),
        ({}, "record"),
        ({"record": welder(), "records": [welder()]}, "record"),
        ({"records": [], "demand": JOINT}, "records"),
        ({"record": welder()}, "demand"),
        ({"record": welder() | {"code": "ISO 99999"}, "demand": JOINT}, "record.code"),
        ({"record": welder() | {"kind": "procedure"}, "demand": JOINT}, "record.kind"),
        ({"record": welder() | {"colour": "red"}, "demand": JOINT}, "record.colour"),
        ({"record": welder() | {"tested": BUTT | {"deposit_t": -1}}, "demand": JOINT}, "record.tested.deposit_t"),
        ({"record": welder() | {"tested": [BUTT, {"position": "QX"}]}, "demand": JOINT}, "record.tested[1].position"),
        ({"record": welder(), "demand": JOINT | {"thicknes": 3}}, "thicknes"),
        ({"record": welder(), "demand": JOINT, "on": "31.12.2026"}, "on"),
        (
            {"record": welder(events=[{"kind": "confirmation", "on": "2026-01-01"}]), "demand": JOINT},
            "record.tested_on",
        ),
        ({"record": welder(**LIFE | {"events": [{"on": "2025-09-10"}]}), "on": "2026-01-01"}, "record.events[0].kind"),
        ({"record": welder(), "demand": JOINT, "settings": {"lenience": "yes"}}, "settings.lenience"),
        ({"record": welder(), "demand": JOINT, "unstated": "guess"}, "unstated"),
        ({"record": welder(), "demand": JOINT, "hurry": True}, "question.hurry"),
    ],
)
def test_a_bad_question_is_exit_3_and_names_the_field(question, field):
    code, answer = ask(question)
    assert code == 3
    assert answer["error"]["field"] == field
    assert answer["error"]["problem"]


@pytest.mark.parametrize("stdin", [b"", b"{", b"\xff\xfe", b'{"record": NaN}', b"[" * 100_000, b"[]"])
def test_what_is_not_json_is_exit_3(stdin):
    code, printed = main([], stdin)
    assert code == 3 and "error" in json.loads(printed)


def test_a_list_is_answered_in_one_run_and_the_exit_code_is_the_worst():
    covered = {"id": 1, "record": welder(), "demand": JOINT}
    outside = {"id": 2, "record": welder(), "demand": JOINT | {"position": "PF"}}
    unstated = {"id": 3, "record": welder(), "demand": {"process": "135"}}
    bad = {"id": 4}
    assert [
        ask(questions)[0] for questions in ([covered], [covered, unstated], [unstated, outside], [outside, bad])
    ] == [
        0,
        2,
        1,
        3,
    ]
    _, answers = ask([covered, bad])
    assert answers[0]["outcome"] == "covered" and answers[1]["error"]


def test_of_several_certificates_only_those_valid_on_the_day_count():
    lapsed = welder(**LIFE)
    flat_only = welder(tested_on="2026-02-01", option="a")
    demand = {"demand": JOINT, "on": "2026-05-01"}
    assert ask({"records": [lapsed, flat_only]} | demand)[0] == 0
    assert ask({"records": [lapsed]} | demand)[0] == 1


WPQR = {
    "level": 2,
    "process": "135",
    "mechanisation": "partly",
    "steels": "S355J2+N",
    "parent_t": 12,
    "weld_type": "BW",
    "position": "PF",
    "run_type": "ml",
    "weld_detail": "ss nb",
}


def test_what_ifs_judge_only_what_is_asked_and_say_that_they_prove_nothing():
    record = {"code": "ISO 15614-1:2017", "tested": WPQR}
    demand = {"steels": ["S235JR", "S355J0"], "parent_t": 10}
    strict_code, strict = ask({"record": record, "demand": demand})
    code, answer = ask({"record": record, "demand": demand, "unstated": "not asked"})
    assert (strict_code, code) == (2, 0)
    assert "no proof" in answer["what_if"] and "what_if" not in strict
    too_thick = ask({"record": record, "demand": {"parent_t": 25}, "unstated": "not asked"})
    assert (too_thick[0], too_thick[1]["reasons"]) == (1, ["thickness"])


def test_the_schema_is_a_schema_and_accepts_the_questions_asked_here():
    document = schemas()
    Draft202012Validator.check_schema(document)
    validator = Draft202012Validator(document)
    for question in (
        {"record": welder(**LIFE), "on": "2026-01-01"},
        [{"record": welder(), "demand": {"deposit_t": 15}}],
    ):
        assert list(validator.iter_errors(question)) == []
    assert list(validator.iter_errors({"demand": {}}))


def test_the_module_runs_as_a_command():
    question = json.dumps({"record": welder(), "demand": JOINT | {"deposit_t": 2}})
    done = subprocess.run(
        [sys.executable, "-m", "codes"], input=question, capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert done.returncode == 1 and json.loads(done.stdout)["reasons"] == ["thickness_s"]
    schema = subprocess.run(
        [sys.executable, "-m", "codes", "--schema"], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert schema.returncode == 0 and "question" in json.loads(schema.stdout)["$defs"]
    assert main(["--colour"], b"")[0] == 3
