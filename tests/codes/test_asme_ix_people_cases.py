"""ASME IX people: every row of the case table, under both editions."""

import pytest

from codes.editions import edition
from tests.codes.cases_of import rows
from tests.codes.us_people_cases import outcome_of

ROWS = rows("asme_ix_people")
WELDER = {
    "unit_system": "si",
    "process": "111",
    "f_number": "F4",
    "p_number": "P1",
    "weld_type": "butt_cjp",
    "product": "plate",
    "deposit_t": "12",
    "layers": "3",
    "aws_position": "1G",
    "progression": "uphill",
    "weld_detail": "ss_mb",
    "current_type": "DC-",
    "mechanisation": "manual",
}
OPERATOR = {
    "unit_system": "si",
    "process": "135",
    "weld_type": "butt_cjp",
    "product": "plate",
    "aws_position": "1G",
    "weld_detail": "ss_mb",
    "mechanisation": "fully_mechanised",
    "visual_control": "direct",
    "joint_tracking": "no",
    "run_type": "multi_run",
}
# Fillet sizes that no test but a thin fillet plate asks for.
FILLET = {"parent_t": "10", "leg_z": "4"}
BASES = {
    "welder": (WELDER, {k: v for k, v in WELDER.items() if k not in ("unit_system", "layers")} | FILLET),
    "operator": (OPERATOR, {k: v for k, v in OPERATOR.items() if k != "unit_system"}),
}


@pytest.mark.parametrize("year", ["2021", "2023"])
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_case(row: dict[str, str], year: str) -> None:
    code = edition(f"ASME IX:{year} {row['kind']}")
    assert outcome_of(row, code, BASES[row["kind"]]) == (row["expect"], row["reasons"])


def test_every_row_states_clause_mark_and_source() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["clause"] and row["mark"] and row["source"] for row in ROWS)


def test_all_of_the_reference_cases_are_here() -> None:
    assert {f"IX-{n:03d}" for n in range(71, 125)} <= {row["id"] for row in ROWS}
