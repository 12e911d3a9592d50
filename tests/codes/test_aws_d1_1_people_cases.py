"""AWS D1.1 people: every row of the case table, under both editions."""

import pytest

from codes.editions import edition
from tests.codes.cases_of import rows
from tests.codes.us_people_cases import outcome_of

ROWS = rows("aws_d1_1_people")
WELDER = {
    "unit_system": "us",
    "process": "111",
    "f_number": "F4",
    "weld_type": "butt_cjp",
    "product": "plate",
    "parent_t": "25.4",
    "aws_position": "3G",
    "progression": "uphill",
    "weld_detail": "ss_mb",
    "contractor": "North",
    "mechanisation": "manual",
}
OPERATOR = {name: value for name, value in WELDER.items() if name != "f_number"} | {
    "process": "135",
    "transfer_mode": "spray",
    "mechanisation": "automatic",
    "wire_system": "single",
}
SIZES = ("weld_type", "product", "parent_t", "weld_detail")
TACK = {name: value for name, value in WELDER.items() if name not in SIZES}
JOINT = {"joint_type": "butt", "box_section": "no", "engineer_acceptance": "no", "parent_t": "12.7"}
BASES = {
    "welder": (WELDER, {k: v for k, v in WELDER.items() if k != "unit_system"} | JOINT),
    "operator": (OPERATOR, {k: v for k, v in OPERATOR.items() if k != "unit_system"} | JOINT),
    "tack welder": (TACK, {k: v for k, v in WELDER.items() if k != "unit_system"} | JOINT | {"phase": "tack"}),
}


@pytest.mark.parametrize("year", ["2020", "2015"])
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_case(row: dict[str, str], year: str) -> None:
    code = edition(f"AWS D1.1:{year} {row['kind']}")
    assert outcome_of(row, code, BASES[row["kind"]]) == (row["expect"], row["reasons"])


def test_every_row_states_clause_mark_and_source() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["clause"] and row["mark"] and row["source"] for row in ROWS)


def test_all_of_the_reference_cases_are_here() -> None:
    held = {row["id"].split(" ")[0] for row in ROWS}
    assert {f"D11-{n:03d}" for n in range(84, 128)} <= held
