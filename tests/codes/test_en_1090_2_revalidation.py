"""EN 1090-2:2018, 7.4.2 over ISO 9606-1, 9.3: case P83 of the welder cases, and the shops and classes around it.

Source: trade magazine's notes on the changes of 2018, as the gate itself names it.
"""

import pytest

from codes.check import finding
from codes.en_1090_2_2018 import revalidation_limits
from codes.verdict import Finding

EXC1 = {"application_standard": "EN 1090-2:2018", "execution_class": "EXC1"}


def asked(option: str, part: str, **other: str) -> tuple[Finding, ...]:
    demand = EXC1 | other
    return tuple(f for limit in revalidation_limits(option, part) if (f := finding(demand, limit)) is not None)


@pytest.mark.parametrize(("option", "part", "outcome"), [
    ("a", "4", "covered"), ("b", "4", "covered"), ("9.3 b)", "", "covered"),
    ("c", "4", "outside"), ("9.3 c", "ISO 3834-4", "outside"),
    ("c", "3", "covered"), ("c", "ISO 3834-2", "covered"), ("c", "", "not stated"),
])  # fmt: skip
def test_the_options_in_execution_class_1(option: str, part: str, outcome: str) -> None:
    (found,) = asked(option, part)
    assert (found.outcome.value, found.reason) == (outcome, "revalidation_option")
    assert found.clause.ref == "7.4.2" and found.because.startswith("revalidation: ")


@pytest.mark.parametrize("other", [
    {"execution_class": "EXC2"}, {"execution_class": "EXC4"},
    {"application_standard": "EN 1090-2:2008+A1"}, {"application_standard": "none named"},
])  # fmt: skip
def test_elsewhere_the_gate_does_not_stand(other: dict[str, str]) -> None:
    assert asked("c", "4", **other) == ()


def test_a_class_that_is_not_stated_leaves_it_open() -> None:
    (limit,) = revalidation_limits("c", "4")
    found = finding({"application_standard": "EN 1090-2:2018"}, limit)
    assert found is not None and found.outcome.value == "not stated"


def test_a_certificate_without_an_option_is_left_to_its_own_clock() -> None:
    assert revalidation_limits("", "4") == ()
