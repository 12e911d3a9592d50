"""The case table of ISO 15614-1:2017: every row's answer and its reasons, and that every clause cited has a row."""

import re
from pathlib import Path

import pytest

from codes.iso_15614_1_2017 import limit_sets
from codes.iso_15614_1_2017 import sources as package
from tests.codes.procedure_cases import record_of, rows, settings_of, verdict_of

ROWS = rows()


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_row(row: dict[str, str]) -> None:
    verdict = verdict_of(row)
    found = (verdict.outcome.value, "+".join(verdict.reasons))
    assert found == (row["expect"], row["reasons"]), verdict.sentence


def test_ids_are_unique() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)


def test_every_clause_of_the_package_has_a_row() -> None:
    folder = Path(package.__file__).parent
    text = "".join(path.read_text(encoding="utf-8") for path in folder.glob("*.py"))
    cited = set(re.findall(r'clause\(\s*"([^"]+)"', text))
    assert cited - {row["clause"] for row in ROWS} == set()


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_the_row_names_a_clause_that_its_record_is_limited_by(row: dict[str, str]) -> None:
    sets = limit_sets(record_of(row), settings_of(row))
    assert row["clause"] in {limit.clause.ref for limits in sets for limit in limits.limits}
