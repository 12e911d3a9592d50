"""The weeks ahead at one of two plants: whoever is lent to it welds there until the loan ends, on the very day."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.contrib.auth.models import User

from joints.ahead.forecast import forecast
from joints.ahead.holders import held_joints
from joints.ahead.one_person import hanging
from joints.day import Day
from qualifications.lending.where import lend
from qualifications.models import Person
from register.models import Plant
from register.plants.reach import of_plant, within
from tests.joints import makers
from tests.qualifications.make import certificate, person

DAY = timedelta(days=1)
BACK = makers.ON + 20 * DAY
"""The last day of the loan."""


@pytest.fixture
def plants(db: None) -> tuple[Plant, Plant]:
    return Plant.objects.get(), Plant.objects.create(name="North works")


@pytest.fixture
def lent(plants: tuple[Plant, Plant]) -> Person:
    """Of the north works, lent to the first."""
    with within(of_plant(plants[1].pk)):
        found = certificate(person("Ada Krol")).person
    lend(found, plants[0], makers.ON - DAY, BACK, "peak", User.objects.create_user("ute"))
    return found


def at_first(plants: tuple[Plant, Plant], lent: Person, ends: date) -> Day:
    first, north = plants
    day = Day(makers.ON)
    valid = makers.validity(end=ends)
    day.certificates = (replace(makers.certificate("Ada Krol", valid=valid), person_id=lent.pk, plant_id=north.pk),)
    day.procedures = (replace(makers.procedure(), plant_id=first.pk),)
    return day.at(first.pk)


@pytest.mark.parametrize(
    ("ends", "first_without"),
    [
        (BACK + 90 * DAY, BACK + DAY),  # goes back before the certificate ends
        (BACK, BACK + DAY),  # both on one day
        (BACK - DAY, BACK),  # the certificate ends first
    ],
)
def test_a_joint_has_nobody_from_the_day_after_the_loan(
    plants: tuple[Plant, Plant], lent: Person, ends: date, first_without: date
) -> None:
    with within(of_plant(plants[0].pk)):
        joint = makers.make_joint()
    job, today = joint.assembly.job, at_first(plants, lent, ends)
    (one,) = hanging(list(held_joints(job, today)), today)
    assert (one.name, one.ends) == ("Ada Krol", first_without)


def test_the_end_of_a_loan_is_named_as_the_reason(
    plants: tuple[Plant, Plant], lent: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    with within(of_plant(plants[0].pk)):
        job = makers.make_joint().assembly.job
    today = at_first(plants, lent, BACK + 900 * DAY)
    all_of_it = (replace(today.certificates[0]),), (*today.procedures,)

    def on_another(self: Day, on: date, *rest: object) -> None:
        made(self, on, *rest)
        self.certificates, self.procedures = all_of_it

    made = Day.__init__
    monkeypatch.setattr(Day, "__init__", on_another)
    changes = forecast(job, today).changes
    assert [(one.on, list(one.why)) for one in changes if one.lost] == [
        (BACK + DAY, ["Ada Krol no longer counts here"])
    ]
