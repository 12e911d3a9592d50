"""A release that is over: its plant may no longer weld to the sheets that were printed there."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.utils import timezone

from register.models import Plant
from tests.conftest import SIGNED
from wps import issued
from wps.models import ProcedureRelease, ProcedureRevision
from wps.releases.acts import release, take_back
from wps.sheet_content import code_as_shown
from wps.sheets import Choice

Clients = Callable[[str], Client]
pytestmark = pytest.mark.django_db
HOME_ONLY = "In force at North works only"


@pytest.fixture
def north(in_force: ProcedureRevision) -> Plant:
    """The second plant."""
    home = in_force.procedure.plant
    home.name = "North works"
    home.save()
    return Plant.objects.create(name="Havn works")


@pytest.fixture
def sheet(north: Plant, in_force: ProcedureRevision, coordinator: User) -> Any:
    """A sheet printed while the procedure was released to the second plant; the release is over since yesterday."""
    today = timezone.localdate()
    made = release(in_force.procedure, north, today - timedelta(days=60), "one control", coordinator)
    kept = issued.issue(in_force, Choice(), coordinator, "")
    take_back(made, today, coordinator)
    return kept


def told(code: str, on: date) -> issued.Standing:
    found = issued.standing(code, on)
    assert found is not None
    return found


@pytest.mark.parametrize(("days", "over"), [(-1, False), (0, False), (1, True), (400, True)])
def test_the_last_day_of_the_release_counts(sheet: Any, days: int, over: bool) -> None:
    today = timezone.localdate()
    found = told(sheet.check_code, today + timedelta(days=days))
    assert found.warns is over
    assert found.word == (HOME_ONLY if over else issued.IN_FORCE)
    assert (f"At Havn works it is withdrawn since {today}, the last day of its release" in found.sentence) is over
    assert ("It may be used at North works." in found.sentence) is over


def test_a_release_anew_puts_it_in_force_there_again(sheet: Any, north: Plant, coordinator: User) -> None:
    day = timezone.localdate() + timedelta(days=1)
    assert told(sheet.check_code, day).warns
    release(sheet.revision.procedure, north, day, "one control", coordinator)
    assert not told(sheet.check_code, day).warns


def test_a_sheet_issued_after_it_is_not_meant(north: Plant, in_force: ProcedureRevision, coordinator: User) -> None:
    today = timezone.localdate()
    made = release(in_force.procedure, north, today - timedelta(days=60), "one control", coordinator)
    take_back(made, today, coordinator)
    ProcedureRelease.objects.filter(pk=made.pk).update(until=today - timedelta(days=1))
    kept = issued.issue(in_force, Choice(), coordinator, "")
    assert not told(kept.check_code, today + timedelta(days=9)).warns


def test_a_procedure_that_was_never_released_says_nothing_of_it(in_force: ProcedureRevision, coordinator: User) -> None:
    kept = issued.issue(in_force, Choice(), coordinator, "")
    assert told(kept.check_code, timezone.localdate()).word == issued.IN_FORCE


def test_whoever_takes_it_back_is_told_which_sheets_to_collect(
    north: Plant, in_force: ProcedureRevision, coordinator: User, client_of: Clients
) -> None:
    made = release(in_force.procedure, north, timezone.localdate(), "one control", coordinator)
    kept = issued.issue(in_force, Choice(), coordinator, "")
    coordinator.groups.all()
    address = f"/procedures/releases/{made.pk}/take-back/"
    page = " ".join(client_of("coordinator").get(address).content.decode().split())
    assert f"the sheet of {in_force} with the check code {code_as_shown(kept.check_code)}" in page
    assert "collect what was printed at Havn works" in page
    assert client_of("coordinator").post(address, SIGNED).status_code == 302
