"""ISO 9606-1:2012: every row of the case table, and that the table reaches every table of the code."""

from datetime import date

import pytest

from codes.editions import edition
from codes.readings import DEFAULTS
from tests.codes.welder_cases import Case, demands, judge, life, pieces, plain, read_cases

CODE = edition("ISO 9606-1:2012")
CASES = read_cases("iso_9606_1_2012.csv")
RANGES = [case for case in CASES if "test=" not in case.certificate]
LIVES = [case for case in CASES if "test=" in case.certificate]


@pytest.mark.parametrize("case", RANGES, ids=lambda case: case.id)
def test_range(case: Case) -> None:
    sets = CODE.limit_sets(pieces(case.certificate), DEFAULTS)
    answers = [judge(demand, sets) for demand in demands(case.joint)]
    assert all(covered for covered, _, _ in answers) is (case.expect == "covered"), answers
    assert {reason for _, reasons, _ in answers for reason in reasons} == case.reasons


@pytest.mark.parametrize("case", LIVES, ids=lambda case: case.id)
def test_validity(case: Case) -> None:
    assert CODE.periods is not None
    state = CODE.periods(life(case.certificate), DEFAULTS).state(date.fromisoformat(plain(case.joint)["asof"]))
    assert state.valid is (case.expect == "covered"), state
    assert {state.reason} - {""} == case.reasons


def test_ids_are_unique() -> None:
    assert len({case.id for case in CASES}) == len(CASES)


@pytest.mark.parametrize(
    "clause",
    [
        "1",
        "5.2",
        "5.3",
        "5.4 a",
        "5.4 b",
        "5.4 c",
        "5.4 d",
        "5.4 e",
        "5.6",
        "5.8",
        "5.9",
        "9.2",
        "9.3",
        "9.4",
        "Annex C",
    ]
    + [f"Table {n}" for n in range(1, 13) if n != 2],
)
def test_every_clause_has_a_case(clause: str) -> None:
    """Table 2 names fillers and sets no range."""
    assert any(clause in case.clause for case in CASES)
