"""`python -m codes` against ill will: a message and exit 3, never a break-off, endless text or a figure misread."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from codes.__main__ import main

ROOT = Path(__file__).resolve().parents[2]
QUESTION = """{"id": "a", "record": {"kind": "welder", "code": "ISO 9606-1:2012", "tested_on": "2026-03-02",
 "tested": {"process": "135", "transfer_mode": "spray", "product": "plate", "weld_type": "fillet",
  "filler_group": "FM1", "filler_type": "S", "parent_t": TESTED, "position": "PB", "run_type": "ml"}},
 "demand": {"process": "135", "parent_t": WANTED}, "on": "2026-08-31"}"""


def ask(tested="10", wanted="8", **changes):
    text = QUESTION.replace("TESTED", tested).replace("WANTED", wanted)
    for old, new in changes.values():
        assert old in text
        text = text.replace(old, new)
    code, printed = main([], text.encode())
    return code, json.loads(printed), printed


@pytest.mark.parametrize(
    "figure",
    [
        "1e999999",
        "1e999999999999999999999",
        '"1e999999999999999999999"',
        "1e-999999",
        '"1e-999999999999999999999"',
        "0." + "1" * 100_000,
        '"' + "1" * 5_000 + '"',
        '"sNaN"',
        '"-Infinity"',
        '"1/' + "7" * 4_000 + ' in"',
        '"1_0"',
        '"\u0668"',
        '"\uff18"',
    ],
)
@pytest.mark.parametrize("where", ["tested", "wanted"])
def test_a_figure_that_is_no_measurement_is_refused_in_a_short_message(figure: str, where: str) -> None:
    code, answer, printed = ask(**{where: figure})
    assert code == 3
    assert "parent_t" in answer["error"]["field"] or answer["error"]["field"] == "question"
    assert len(printed) < 10_000


def test_forty_decimals_are_still_a_figure() -> None:
    assert ask(wanted="8." + "1" * 39)[0] != 3
    assert ask(wanted="8." + "1" * 40)[0] == 3


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2200-01-01", "1899-12-31", "2026-W35-1", "20260302", 5])
@pytest.mark.parametrize("old", ['"2026-03-02"', '"2026-08-31"'])
def test_a_day_that_nobody_means_is_refused(day: object, old: str) -> None:
    code, answer, _ = ask(change=(old, json.dumps(day)))
    assert code == 3
    assert answer["error"]["field"] in ("on", "record.tested_on")


@pytest.mark.parametrize("day", ["1900-01-01", "2199-12-31"])
def test_the_first_and_last_day_are_answered(day: str) -> None:
    assert ask(change=('"2026-03-02"', json.dumps(day)))[0] in (1, 2)
    assert ask(change=('"2026-08-31"', json.dumps(day)))[0] in (1, 2)


def test_half_a_letter_comes_back_as_it_was_sent() -> None:
    code, answer, printed = ask(change=('"a"', '"\\ud800"'))
    assert code in (1, 2) and answer["id"] == "\ud800"
    assert printed.isascii()


def test_a_terminal_that_speaks_only_ascii_gets_the_answer_too() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "codes"],
        input='{"record": "ä"}'.encode(),
        capture_output=True,
        cwd=ROOT,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
        check=False,
    )
    assert done.returncode == 3 and b"Traceback" not in done.stderr
    done = subprocess.run(
        [sys.executable, "-m", "codes"],
        input=QUESTION.replace("TESTED", "10").replace("WANTED", "8").replace('"a"', '"ä"').encode(),
        capture_output=True,
        cwd=ROOT,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
        check=False,
    )
    assert json.loads(done.stdout)["id"] == "ä"


def test_deep_nesting_is_refused() -> None:
    assert main([], b"[" * 100_000)[0] == 3
    assert ask(wanted="[" * 300 + "1" + "]" * 300)[0] == 3


@pytest.mark.parametrize("tested", ["[1]", '"x"', "7"])
def test_a_piece_that_is_no_object_is_named_once(tested: str) -> None:
    code, printed = main(
        [], f'{{"record": {{"code": "ISO 9606-1:2012", "tested": {tested}}}, "demand": {{}}}}'.encode()
    )
    assert code == 3
    assert json.loads(printed)["error"]["field"] == f"record.tested{'[0]' if tested == '[1]' else ''}"
