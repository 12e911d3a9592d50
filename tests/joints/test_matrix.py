"""Answers counted."""

from dataclasses import dataclass

import pytest

from codes.verdict import Outcome
from codes.words import lower_first
from joints.day import Answered
from joints.matrix import SHOWN, matrix, plain_reason, reason_words


@dataclass
class Result:
    outcome: Outcome
    reasons: tuple[str, ...] = ()
    sentence: str = "Outside: so."


def answered(number: int, outcome: Outcome, *reasons: str, assembly: int = 1) -> Answered:
    return Answered(number, str(number), assembly, f"B{assembly}", Result(outcome, reasons))  # type: ignore[arg-type]


def test_counts_by_assembly_and_leading_reason() -> None:
    found = matrix(
        [
            answered(1, Outcome.COVERED),
            answered(2, Outcome.OUTSIDE, "procedure:thickness", "person:position"),
            answered(3, Outcome.OUTSIDE, "procedure:parent_t", assembly=2),
            answered(4, Outcome.NOT_STATED, "person:position", assembly=2),
        ]
    )
    assert found.sentence == "1 of 4 joints are covered; 2 outside, 1 not stated."
    assert [(a.mark, a.tally.covered, a.tally.outside, a.tally.not_stated) for a in found.assemblies] == [
        ("B1", 1, 1, 0),
        ("B2", 0, 1, 1),
    ]
    assert [(r.text, r.count) for r in found.reasons] == [
        ("No procedure: parent thickness", 2),
        ("Nobody qualified: position", 1),
    ]


@pytest.mark.parametrize("number", [SHOWN, SHOWN + 1])
def test_only_the_first_joints_of_a_reason_are_named(number: int) -> None:
    (reason,) = matrix([answered(n, Outcome.OUTSIDE, "procedure:position") for n in range(number)]).reasons
    assert (reason.count, reason.more) == (number, number - SHOWN)


def test_no_joints_and_all_covered() -> None:
    assert matrix([]).sentence == "No joints are on file yet."
    assert matrix([answered(1, Outcome.COVERED)]).sentence == "All 1 joints are covered."


@pytest.mark.parametrize(
    ("key", "words"),
    [("parent_t", "parent thickness"), ("nobody", "no certificate of the right kind"), ("odd_key", "odd key")],
)
def test_reasons_in_words(key: str, words: str) -> None:
    assert reason_words(key) == words


def test_reasons_that_mean_the_same() -> None:
    assert plain_reason("procedure:thickness") == plain_reason("procedure:parent_t")
    assert lower_first("Assembly B101") == "assembly B101"
    assert lower_first("AWS position") == "AWS position"
