"""Whole answers kept between questions: joints that ask the same share one, and nothing that changed is missed."""

from datetime import date
from typing import Any

import pytest
from django.utils.translation import override

from joints import ready_answers
from joints.models import Joint
from joints.ready import day_of
from joints.ready_answers import DEMANDS, explained
from tests.joints import makers
from tests.qualifications.make import certificate, person

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def nothing_kept() -> None:
    ready_answers._kept.clear()


def ask(joint: Joint, on: date = makers.ON) -> Any:
    return explained(day_of(on), joint, joint.assembly.job)


def test_joints_that_ask_the_same_share_an_answer() -> None:
    first = makers.make_joint()
    twin = makers.make_joint(number="2")
    twin.assembly.job = first.assembly.job
    found, ranked = ask(first)
    assert ask(twin)[0] is found and ask(twin)[1] is ranked
    twin.throat_mm = (twin.throat_mm or 0) + 1
    assert ask(twin)[0] is not found
    assert ask(first, date(2026, 3, 3))[0] is not found
    with override("de"):
        assert ask(first)[0] is not found
    assert ask(first)[0] is found


def test_the_kept_answer_is_that_of_the_day() -> None:
    joint = makers.make_joint()
    day, job = day_of(makers.ON), joint.assembly.job
    for _ in range(2):
        found, ranked = ask(joint)
        anew = day.explain(joint, job)
        assert (found.outcome, found.sentence) == (anew.outcome, anew.sentence)
        for phase, others in day.ranked(joint, job).items():
            assert [(one.revision_id, one.verdict) for one in ranked[phase]] == [
                (one.revision_id, one.verdict) for one in others
            ]


def test_a_new_certificate_is_seen_at_once() -> None:
    joint = makers.make_joint()
    before = ask(joint)[0]
    held = certificate(person("Ada Krol"))
    after = ask(joint)[0]
    assert after is not before
    held.delete()
    assert ask(joint)[0] is not after


def test_so_many_are_kept_and_no_more() -> None:
    joint = makers.make_joint()
    for size in range(DEMANDS + 5):
        joint.t1_mm = 10 + size
        ask(joint)
    (kept,) = ready_answers._kept.values()
    assert len(kept.answers) == DEMANDS
