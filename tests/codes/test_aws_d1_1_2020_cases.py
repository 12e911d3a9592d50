"""AWS D1.1:2020, qualification by test: the case table, and the same table under the numbers of 2015."""

from collections.abc import Mapping

import pytest

from codes.check import best
from codes.editions import edition
from codes.verdict import Verdict
from tests.codes import cases_of
from tests.codes.aws_cases import changes, demand_of, record_of

ROWS = cases_of.rows("aws_d1_1_2020")


def verdict_of(row: Mapping[str, str], code: str = "AWS D1.1:2020") -> Verdict:
    settings = {f"aws_d1_1_{key}": option for key, option in changes(row["settings"]).items()}
    sets = edition(code).limit_sets(record_of(row["base"], row["record"]), settings)
    return best(demand_of(row["base"], row["record"], row["demand"]), sets)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
@pytest.mark.parametrize("code", ["AWS D1.1:2020", "AWS D1.1:2015"])
def test_the_answer_and_its_reason(code: str, row: dict[str, str]) -> None:
    verdict = verdict_of(row, code)
    assert verdict.outcome.value == row["expect"], verdict.sentence
    if row["reason"]:
        assert row["reason"] in verdict.reasons, verdict.sentence


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_every_finding_names_clause_and_source(row: dict[str, str]) -> None:
    for finding in verdict_of(row).findings:
        assert finding.clause.standard == "AWS D1.1:2020"
        assert finding.clause.ref
        assert finding.clause.source
