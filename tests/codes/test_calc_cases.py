"""The case table of calculations, answered through the same door as the command line."""

import pytest

from codes.calc.registry import calculations
from tests.codes.calc_cases import answer_of, misses, rows

ROWS = rows()


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_row(row: dict[str, str]) -> None:
    assert misses(answer_of(row), row["expect"]) == []


def test_ids_are_unique_and_sources_named() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["source"] for row in ROWS)


def test_a_wrong_figure_would_fail() -> None:
    answer = answer_of(ROWS[0])
    assert misses(answer, "value=45.26 kJ/in ±0.01")
    assert misses(answer, "value=PB")
    assert misses(answer, "refused=current")
    assert misses(answer, "flag=no such thing")


def test_every_calculation_has_a_row_that_is_answered() -> None:
    answered = {row["calculation"] for row in ROWS if not row["expect"].startswith("refused")}
    assert set(calculations()) == answered
