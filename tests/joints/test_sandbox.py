"""Readers of files from outside are bounded, and only so many run at once."""

import threading
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from joints import sandbox
from joints.imports import sheets
from joints.imports.files import read_file
from joints.imports.table import Refusal
from joints.sandbox import Bounds, GaveUp, answer_of
from tests.joints.files import good_xlsx

GREEDY = "tests.joints.greedy_reader"
BOUNDS = Bounds(memory=300 * 1024**2, cpu_seconds=20, seconds=20, answer=4000)


def test_a_reader_runs_within_its_bounds_and_learns_nothing_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SECRET_KEY", "not for readers")
    code, said = answer_of(GREEDY, b"limits", BOUNDS)
    limits, around = said.decode().splitlines()
    assert (code, limits) == (0, f"{300 * 1024**2} 20 4001 0")
    assert "SECRET_KEY" not in around and "DATABASE_URL" not in around


@pytest.mark.parametrize(
    ("asked", "bounds", "says"),
    [
        (b"memory", BOUNDS, "too large for its memory"),
        (b"answer", BOUNDS, "gave up|more of its welds"),
        (b"time", replace(BOUNDS, seconds=0.3), r"longer than 0\.3 seconds"),
    ],
)
def test_a_reader_that_takes_more_is_ended(asked: bytes, bounds: Bounds, says: str) -> None:
    with pytest.raises(GaveUp, match=says):
        answer_of(GREEDY, asked, bounds)


def test_what_fits_is_handed_over() -> None:
    assert answer_of(GREEDY, b"memory", replace(BOUNDS, memory=1024**3)) == (0, b"419430400\n")
    assert answer_of(GREEDY, b"refuse", BOUNDS) == (3, b"No.\n")


def test_a_workbook_beyond_the_bounds_is_refused_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheets, "BOUNDS", replace(sheets.BOUNDS, memory=8 * 1024**2))
    with pytest.raises(Refusal, match=r"The workbook cannot be read: the reader gave up .* Nothing was saved"):
        read_file(good_xlsx())


@pytest.fixture
def one_place(settings: Any, tmp_path: Path) -> None:
    """A machine that reads one file at a time."""
    settings.FILES_READ_AT_ONCE, settings.VAR_DIR = 1, tmp_path


def test_who_comes_second_is_told_so_and_may_come_again(one_place: None) -> None:
    with sandbox._turn(waits=0), pytest.raises(Refusal, match="Other files are being read at the moment"):
        answer_of(GREEDY, b"refuse", BOUNDS, waits=0)
    assert answer_of(GREEDY, b"refuse", BOUNDS, waits=0)[0] == 3


def test_who_waits_gets_his_turn(one_place: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sandbox, "LOOK_EVERY", 0.01)
    first = sandbox._turn(waits=0)
    first.__enter__()
    threading.Timer(0.1, first.__exit__, (None, None, None)).start()
    assert answer_of(GREEDY, b"refuse", BOUNDS, waits=20)[0] == 3


def test_as_many_as_the_machine_allows_read_at_once(one_place: None, settings: Any) -> None:
    settings.FILES_READ_AT_ONCE = 2
    with sandbox._turn(waits=0), sandbox._turn(waits=0), pytest.raises(Refusal), sandbox._turn(waits=0):
        pass


def test_a_fault_while_reading_gives_the_place_back(one_place: None) -> None:
    with pytest.raises(BlockingIOError), sandbox._turn(waits=0):
        raise BlockingIOError
    with sandbox._turn(waits=0):
        pass
