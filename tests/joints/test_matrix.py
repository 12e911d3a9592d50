"""Answers counted."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from types import SimpleNamespace
from unittest.mock import Mock

import pytest
from django.template.loader import render_to_string

from codes.units import System
from codes.verdict import Outcome
from codes.words import lower_first
from joints.answers import reasons_as_told
from joints.day import Answered
from joints.margins import Room
from joints.matrix import SHOWN, matrix, plain_reason, reason_words
from joints.sentences import joint_sentence
from joints.templatetags.joints import phase_words


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
    assert matrix([answered(1, Outcome.COVERED)]).sentence == "The only joint is covered."
    assert matrix([answered(1, Outcome.NOT_STATED)]).sentence == "The only joint is not stated."
    assert matrix([answered(n, Outcome.COVERED) for n in (1, 2)]).sentence == "All 2 joints are covered."


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


@dataclass
class Phase:
    outcome: Outcome
    reasons: tuple[str, ...]
    sentence: str = "Outside: so."
    labels: tuple[str, ...] = ("WPS 1 rev A",)
    person_ids: frozenset[int] = frozenset({1})


@pytest.mark.parametrize(
    ("tack", "final", "first"),
    [
        (Outcome.OUTSIDE, Outcome.OUTSIDE, "procedure:steels"),
        (Outcome.NOT_STATED, Outcome.OUTSIDE, "procedure:steels"),
        (Outcome.OUTSIDE, Outcome.NOT_STATED, "procedure:position"),
    ],
)
def test_the_leading_reason_is_of_the_phase_that_the_sentence_tells_of(
    tack: Outcome, final: Outcome, first: str
) -> None:
    tacks = Phase(tack, ("procedure:position",), "Outside: position PD.")
    weld = Phase(final, ("procedure:steels", "procedure:position"), "Outside: parent materials S460.")
    assert reasons_as_told(tacks, weld)[0] == first
    told = "parent materials" if first == "procedure:steels" else "for the tacks: position"
    assert told in joint_sentence(tacks, weld, date(2026, 11, 25))


def test_a_phase_that_the_workstation_refuses_says_so_though_a_procedure_covers_it() -> None:
    refused = Phase(Outcome.OUTSIDE, ("place:tack_length",), "Outside: a tack of 25 mm is too short.")
    assert phase_words(refused) == "Outside: a tack of 25 mm is too short."  # type: ignore[arg-type]
    assert phase_words(Phase(Outcome.COVERED, ())) == "WPS 1 rev A"  # type: ignore[arg-type]


def test_a_margin_with_one_end_reads_as_a_range() -> None:
    room = Room(
        share=Decimal(0), margin="at its limit", label="Impact test temperature", wanted="-20 °C",
        allowed="from -20 °C", clause="WPS 028 rev A, range stated", because="", giver="WPS 028 rev A", phase="tack",
    )  # fmt: skip
    said = "Impact test temperature -20 °C within the range from -20 °C, as WPS 028 rev A states"
    assert room.sentence == said
    assert replace(room, allowed="-30 to -20 °C").sentence == said.replace("the range from -20", "-30 to -20")
    at_the_end = replace(room, margin="misses at an end that is left out", allowed="above -20 °C")
    assert "-20 °C outside the range above -20 °C" in at_the_end.sentence
    over = replace(room, share=Decimal(-1), allowed="up to 6.25 mm", wanted="20 mm", clause="EN 1090-2:2018, 7.5.7")
    assert over.sentence.endswith("20 mm outside the range up to 6.25 mm by WPS 028 rev A (EN 1090-2:2018, 7.5.7)")


def test_what_a_least_margin_rests_on_stands_in_the_readers_units() -> None:
    room = Room(
        share=Decimal("-0.5"), margin="misses by 20 mm", label="Parent thickness", wanted="40 mm", allowed="3 to 20 mm",
        clause="ISO 15614-1:2017, Table 7", because="tested s = 5 mm: 3 mm to 2 s", giver="WPS 1", phase="final",
        in_us=("misses by 0.788 in", "1.575 in", "0.119 to 0.787 in"),
    )  # fmt: skip
    one = SimpleNamespace(pk=1, mark="B1", room=room, tight=(1, "1"), tally=Mock(total=1, covered=0, outside=1))
    shown = SimpleNamespace(assemblies=[one])
    for system, said in ((System.SI, "5 mm: 3 mm to 2 s"), (System.US, "0.197 in: 0.119 in to 2 s")):
        page = render_to_string("joints/_matrix.html", {"matrix": shown, "rooms": True, "system": system})
        assert said in page.replace("\N{NO-BREAK SPACE}", " "), system
        assert (" mm" in page) is (system is System.SI)
