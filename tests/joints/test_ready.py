"""The engine that is kept between questions holds only as long as nothing it rests on has changed."""

import pytest

from codes.verdict import Outcome
from joints import ready
from joints.ready import Engines, day_of
from register.held.models import FirmReading
from tests.joints.makers import ON, certificate, make_joint, procedure

pytestmark = pytest.mark.django_db


def test_the_same_offers_meet_the_same_engine() -> None:
    assert day_of(ON).engine is day_of(ON).engine


def test_other_offers_meet_another() -> None:
    joint = make_joint()
    joints = type(joint).objects.all()
    before = day_of(ON)
    assert before.answers(joints)[0].result.outcome is Outcome.OUTSIDE
    after = day_of(ON)
    after.procedures, after.certificates = (procedure(),), (certificate(),)
    assert after.engine is not before.engine
    assert after.answers(joints)[0].result.outcome is Outcome.COVERED


def test_the_firms_readings_are_taken_and_part_of_the_key(people) -> None:
    before = day_of(ON)
    assert before.settings == {}
    FirmReading.objects.create(by_name="vera", switch="yield_by_band", option="by band", why="as the auditor reads it")
    after = day_of(ON)
    assert after.settings == {"yield_by_band": "by band"}
    assert after.engine is not before.engine


def test_only_the_engines_used_last_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ready, "KEPT", 1)
    engines = Engines()
    day, other = day_of(ON), day_of(ON, {"some": "reading"})
    first = engines.of(day)
    assert engines.of(day) is first
    engines.of(other)
    assert engines.of(day) is not first


def test_an_engine_that_knows_too_much_is_left_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    engines = Engines()
    day = day_of(ON)
    first = engines.of(day)
    monkeypatch.setattr(ready, "FULL", 0)
    assert engines.of(day) is not first
