"""The case table of ASME IX procedures: every row's answer and its reasons, and that every clause cited has a row."""

import re
from pathlib import Path

import pytest

from codes.asme_ix_2021 import sources as package
from tests.codes.asme_ix_cases import outcome_of, rows, sets_of, verdicts_of

ROWS = rows()


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_row(row: dict[str, str]) -> None:
    found = outcome_of(row)
    assert found == (row["expect"], row["reasons"]), [verdict.sentence for verdict in verdicts_of(row)]


def test_ids_are_unique() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)


def test_every_clause_of_the_package_has_a_row() -> None:
    folder = Path(package.__file__).parent
    text = "".join(path.read_text(encoding="utf-8") for path in folder.glob("*.py"))
    cited = set(re.findall(r'Rule\(\s*"([^"]+)"', text))
    assert cited - {row["clause"] for row in ROWS} == set()


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_the_row_names_a_clause_that_its_record_is_limited_by(row: dict[str, str]) -> None:
    assert row["clause"] in {limit.clause.ref for limits in sets_of(row) for limit in limits.limits}
