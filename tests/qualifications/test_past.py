"""The record as it stood on an earlier day."""

from collections.abc import Callable
from datetime import date, datetime, time, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from qualifications.models import Certificate
from qualifications.past import past_of
from tests.qualifications.make import certificate

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 10)


def at(day: date, hour: int = 12) -> datetime:
    return timezone.make_aware(datetime.combine(day, time(hour)))


@pytest.fixture
def changed() -> Certificate:
    """Entered on 1 March, changed from option a to b on 5 March at 23 h local time."""
    held = certificate()
    held.history.update(history_date=at(date(2026, 3, 1)))
    held.option = "b"
    held.save()
    newest = held.history.first()
    newest.history_date = at(date(2026, 3, 5), 23)
    newest.save()
    return held


@pytest.mark.parametrize(
    ("day", "then"),
    [(date(2026, 3, 1), "“a”"), (date(2026, 3, 4), "“a”"), (date(2026, 3, 5), None), (date(2026, 3, 9), None)],
)
def test_the_end_of_the_day_counts(changed: Certificate, day: date, then: str | None) -> None:
    found = past_of(changed, day, TODAY)
    assert found.differences == ((("revalidation option", then, "“b”"),) if then else ())
    assert found.entered is None


def test_before_it_was_entered_the_register_did_not_hold_it(changed: Certificate) -> None:
    assert past_of(changed, date(2026, 2, 28), TODAY).entered == date(2026, 3, 1)


@pytest.mark.parametrize("day", [TODAY, TODAY + timedelta(days=1)])
def test_today_and_the_future_have_no_past(changed: Certificate, day: date) -> None:
    assert not past_of(changed, day, TODAY)


def test_the_page_says_how_it_read(changed: Certificate, client_of: Callable[[str], Client]) -> None:
    auditor = client_of("auditor")
    page = " ".join(auditor.get(changed.get_absolute_url(), {"on": "2026-03-03"}).content.decode().split())
    assert "On 2026-03-03 the record read differently (1)" in page
    page = " ".join(auditor.get(changed.get_absolute_url(), {"on": "2026-02-03"}).content.decode().split())
    assert "came on file on 2026-03-01" in page
