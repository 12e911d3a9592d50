"""A job of execution class 1 asks by which option a welder's certificate runs on, and its verdict names the gate."""

from datetime import date
from typing import Any

import pytest

from codes.verdict import Finding, Outcome
from joints.day import Day
from tests.joints.makers import make_job, make_joint
from tests.qualifications.make import certificate

pytestmark = pytest.mark.django_db
ON = date(2025, 3, 1)
OPTION_C = {"same_manufacturer": "yes", "quality_documented": "yes"}


def held(part: str, **job: Any) -> list[Finding]:
    """What the nearest certificate's verdict says of the option; the bulk answer gives the same reasons."""
    certificate(option="c", facts=OPTION_C | {"iso_3834": part})
    joint = make_joint(make_job(**({"application_standard": "EN 1090-2:2018", "execution_class": "EXC1"} | job)))
    on = Day(ON)
    final = on.explain(joint, joint.assembly.job).final
    (bulk,) = on.answers(type(joint).objects.all())
    assert bulk.result.final.reasons == final.reasons
    shown = final.people[0] if final.people else final.nearest_certificate
    assert shown is not None
    return [f for f in shown.verdict.findings if f.clause.ref == "7.4.2"]


def test_option_c_in_a_shop_to_part_4_is_refused_by_name() -> None:
    (said,) = held("4")
    assert (said.outcome, said.reason) == (Outcome.OUTSIDE, "revalidation_option")
    assert said.because.startswith("revalidation: in a shop to ISO 3834-4") and "a and b" in said.because


def test_option_c_in_a_shop_to_part_3_is_let_through_by_name() -> None:
    (said,) = held("3")
    assert said.outcome is Outcome.COVERED and "ISO 3834-3" in said.because


@pytest.mark.parametrize("job", [
    {"execution_class": "EXC2"}, {"application_standard": "EN 1090-2:2008+A1"},
    {"application_standard": "", "execution_class": ""},
])  # fmt: skip
def test_other_classes_and_standards_do_not_ask(job: dict[str, str]) -> None:
    assert held("4", **job) == []
