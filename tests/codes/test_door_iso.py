"""Short questions in the shortest notation put through the door, ISO and EN records, against the case table.

`record`: `key=value; key=value`, test pieces with `&&`, several records with `##`; `..` is a range.
"""

import csv
import json
from pathlib import Path

import pytest

from codes.__main__ import main

CASES = Path(__file__).parent / "cases" / "door_iso.csv"
WITH_LINES = CASES.open(newline="", encoding="utf-8")
with WITH_LINES:
    ROWS = list(csv.DictReader(WITH_LINES))
OF_RECORD = ("label", "designation", "tested_on")


def value(text: str):
    text = text.strip()
    if ".." in text:
        low, high = text.split("..")
        return {"min": low or None, "max": high or None}
    return json.loads(text) if text.startswith(("[", "{")) else text


def pairs(text: str) -> dict[str, object]:
    parts = (part.split("=", 1) for part in text.split(";") if part.strip())
    return {key.strip(): value(word) for key, word in parts}


def record(code: str, text: str) -> dict[str, object]:
    pieces = [pairs(piece) for piece in text.split("&&")]
    own = {key: pieces[0].pop(key) for key in OF_RECORD if key in pieces[0]}
    tested = pieces if len(pieces) > 1 else pieces[0]
    return {"code": code} | own | ({"tested": tested} if tested else {})


def asked(row: dict[str, str]) -> dict[str, object]:
    records = [record(row["code"], text) for text in row["record"].split("##")]
    settings = pairs(row["settings"])
    dated = {"on": settings.pop("on")} if "on" in settings else {}
    many = {"records": records} if len(records) > 1 else {"record": records[0]}
    return many | dated | {"demand": pairs(row["demand"]), "settings": settings, "unstated": row["mode"]}


def ask(question: object) -> tuple[int, dict]:
    code, printed = main([], json.dumps(question).encode())
    return code, json.loads(printed)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_case(row: dict[str, str]) -> None:
    code, answer = ask(asked(row))
    assert "error" not in answer, answer
    reasons = "+".join(sorted(answer["reasons"]))
    assert (answer["outcome"], reasons) == (row["expect"], "+".join(sorted(row["reasons"].split("+")))), answer[
        "sentence"
    ]
    assert code == {"covered": 0, "outside": 1, "not stated": 2}[row["expect"]]


def test_the_table_is_of_use() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS) > 700
    assert {row["expect"] for row in ROWS} == {"covered", "outside", "not stated"}
