"""`python -m codes` answers every kind of question of every edition that is held: none is without a way in."""

import json

import pytest

from codes.__main__ import main
from codes.editions import Edition, all_editions
from codes.variables import VARIABLES, Kind

ANSWERS = ("covered", "outside", "not stated")
TESTED = {
    "unit_system": "si", "level": 2, "process": "135", "mechanisation": "partly_mechanised", "transfer_mode": "spray",
    "weld_type": "butt_cjp", "joint_type": "butt", "product": "plate", "parent_t": 12, "deposit_t": 12,
    "run_type": "multi_run", "steels": [{"group": "1.2", "yield_mpa": 355, "grade": "S355J2"}],
    "filler_designation": "ER70S-6", "weld_detail": "ss_nb", "qualification_route": "procedure_test",
    "max_run_t": 5, "functional_knowledge": "yes",
}  # fmt: skip
BY_MACHINE = ("operator",)


def ask(question):
    code, printed = main([], json.dumps(question).encode())
    return code, json.loads(printed)


def record_of(known: Edition, **life):
    names = {field.name for field in known.fields} | set(known.recorded_only)
    tested = {name: value for name, value in TESTED.items() if name in names}
    if known.kinds[0] in BY_MACHINE:
        tested["mechanisation"] = "automatic"
    tested |= {name: "1G" if name == "aws_position" else "PA" for name in ("aws_position", "position") if name in names}
    return {"code": known.key, "kind": known.kinds[0], "tested": tested} | life


def demand_of(known: Edition, record):
    same = {name: value for name, value in record["tested"].items() if name in known.demand}
    return same | ({"execution_class": "EXC2"} if "execution_class" in known.demand else {})


@pytest.mark.parametrize("known", all_editions(), ids=lambda known: known.key)
def test_a_record_against_a_demand(known: Edition) -> None:
    record = record_of(known)
    code, answer = ask({"record": record, "demand": demand_of(known, record)})
    assert answer.get("outcome") in ANSWERS, answer
    assert code == ANSWERS.index(answer["outcome"])
    # A joint like the test piece leaves much unsaid, but is nowhere outside of it.
    assert answer["outcome"] != "outside" or known.kinds[0] in ("gate", "prequalified"), answer["sentence"]
    assert all(found["clause"] and found["mark"] for found in answer["findings"])
    assert answer["records"][0]["limits"][0]["limits"]


@pytest.mark.parametrize(
    "known", [known for known in all_editions() if known.kinds == ("procedure",)], ids=lambda known: known.key
)
def test_a_window_against_several_records(known: Edition) -> None:
    """12 mm and 40 mm together hold what neither does; the piece that none holds is named."""
    records = []
    for t in (12, 40):
        record = record_of(known)
        record["tested"] |= {"parent_t": t, "deposit_t": t} if "deposit_t" in record["tested"] else {"parent_t": t}
        records.append(record)
    for top, outcome in ((79, "covered"), (999, "outside")):
        window = {"parent_t": {"min": 8, "max": top}}
        code, answer = ask({"records": records, "demand": window, "unstated": "not asked"})
        if outcome == "covered" or known.key.startswith("AWS"):
            assert code == 0, answer["sentence"]
        else:
            assert code == 1 and answer["uncovered"], answer["sentence"]
        assert ask({"record": records[0], "demand": window, "unstated": "not asked"})[0] == 1


@pytest.mark.parametrize("known", [known for known in all_editions() if known.periods], ids=lambda known: known.key)
def test_a_day_of_its_validity(known: Edition) -> None:
    record = record_of(known, tested_on="2026-03-02", option="a")
    assert ask({"record": record, "on": "2026-03-03"})[0] == 0
    code, answer = ask({"record": record, "on": "2036-03-03"})
    if known.kinds == ("tack_welder",):
        # 6.2.3: a tack welder's qualification lasts until his ability is in question.
        assert code == 0, answer
    else:
        assert code == 1 and answer["reasons"], answer


@pytest.mark.parametrize(
    "known", [known for known in all_editions() if known.kinds == ("prequalified",)], ids=lambda known: known.key
)
def test_prequalified_or_not(known: Edition) -> None:
    record = record_of(known)
    record["tested"] |= {"transfer_mode": "dip"}
    code, answer = ask({"record": record})
    assert code == 1 and "transfer_mode" in answer["reasons"], answer


@pytest.mark.parametrize(
    "known", [known for known in all_editions() if known.kinds == ("gate",)], ids=lambda known: known.key
)
@pytest.mark.parametrize(("execution_class", "route", "code"), [("EXC3", "experience", 1), ("EXC1", "experience", 0)])
def test_gates_of_an_execution_class(known: Edition, execution_class: str, route: str, code: int) -> None:
    record = {"code": known.key, "kind": "gate", "tested": {"qualification_route": route}}
    got, answer = ask({"record": record, "demand": {"execution_class": execution_class}, "unstated": "not asked"})
    assert got == code, answer["sentence"]
    assert (answer["reasons"] == ["qualification_method"]) is bool(code)


def test_every_variable_of_every_edition_is_one_that_can_be_written() -> None:
    for known in all_editions():
        for name in (*known.demand, *(field.name for field in known.fields)):
            assert name in VARIABLES and isinstance(VARIABLES[name].kind, Kind)
