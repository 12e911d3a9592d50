"""Clocks set back or ahead, time zones that change, leap days: nothing locks up and no answer changes its day."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from register.audit import record_act
from register.background.sweep import sweep
from register.models import AuditEntry, PasswordAttempt
from register.throttle import TooManyAttempts, guarded
from register.trail.verify import verify
from tests.register.background import kinds

Set = Callable[[datetime], None]
PAGES = ("/", "/people/due/", "/people/calendar/", "/people/log/")


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Set:
    """Set Django's clock to an instant."""

    def to(instant: datetime) -> None:
        monkeypatch.setattr("django.utils.timezone.now", lambda: instant)

    return to


@pytest.mark.parametrize(
    ("zone", "instant", "day"),
    [
        ("Europe/Berlin", datetime(2026, 12, 31, 22, 59, tzinfo=UTC), date(2026, 12, 31)),
        ("Europe/Berlin", datetime(2026, 12, 31, 23, 0, tzinfo=UTC), date(2027, 1, 1)),
        ("America/Chicago", datetime(2027, 1, 1, 5, 59, tzinfo=UTC), date(2026, 12, 31)),
        ("Pacific/Kiritimati", datetime(2028, 2, 28, 10, 0, tzinfo=UTC), date(2028, 2, 29)),
        # The night in which the clocks are put forward, and the one in which an hour comes twice.
        ("Europe/Berlin", datetime(2027, 3, 27, 23, 30, tzinfo=UTC), date(2027, 3, 28)),
        ("Europe/Berlin", datetime(2027, 10, 31, 0, 30, tzinfo=UTC), date(2027, 10, 31)),
        ("Europe/Berlin", datetime(2027, 10, 31, 1, 30, tzinfo=UTC), date(2027, 10, 31)),
    ],
)
def test_today_is_the_day_of_the_shop(
    zone: str, instant: datetime, day: date, clock: Set, settings: Any, client_of: Callable[[str], Client]
) -> None:
    settings.TIME_ZONE = zone
    clock(instant)
    page = client_of("coordinator").get("/").content.decode()
    assert f'value="{day.isoformat()}"' in page


def test_the_trail_is_whole_whatever_the_clock_says(clock: Set, settings: Any, db: None) -> None:
    """Entries are chained in the order of writing; the zone of the shop is not in them."""
    for year in (2026, 2031, 2025):
        clock(datetime(year, 3, 1, tzinfo=UTC))
        record_act(None, f"in {year}")
    settings.TIME_ZONE = "America/Chicago"
    assert verify().whole
    assert list(AuditEntry.objects.order_by("number").values_list("act", flat=True)) == [
        "in 2026",
        "in 2031",
        "in 2025",
    ]


def test_failures_of_a_clock_that_was_ahead_lock_nobody_out(clock: Set, db: None) -> None:
    now = timezone.now()
    clock(now + timedelta(days=400))
    for _ in range(5):
        guarded("marta", "10.0.0.1", lambda: None)
    with pytest.raises(TooManyAttempts):
        guarded("marta", "10.0.0.1", lambda: True)
    clock(now)
    assert guarded("marta", "10.0.0.1", lambda: True)
    assert not PasswordAttempt.objects.exists()


def test_a_retry_planned_by_a_clock_that_was_ahead_is_not_waited_for(clock: Set, qa: User) -> None:
    now = timezone.now()
    work = kinds.count.start(qa, "sheep", to=1)
    DBTaskResult.objects.update(run_after=now + timedelta(days=400))
    assert not DBTaskResult.objects.ready().exists()
    sweep()
    assert DBTaskResult.objects.ready().exists()
    DBTaskResult.objects.update(run_after=now + timedelta(seconds=15))
    sweep()
    assert not DBTaskResult.objects.ready().exists(), "a wait of our own is kept"
    work.refresh_from_db()
    assert not work.finished


@pytest.mark.parametrize("page", [*PAGES, "/uncovered/", "/joints/"])
@pytest.mark.parametrize("day", ["2028-02-29", "2000-02-29"])
def test_pages_on_a_leap_day(page: str, day: str, client_of: Callable[[str], Client]) -> None:
    assert client_of("coordinator").get(page, {"on": day}).status_code == 200


def test_today_is_a_leap_day(clock: Set, client_of: Callable[[str], Client]) -> None:
    clock(datetime(2028, 2, 29, 8, tzinfo=UTC))
    for page in PAGES:
        assert client_of("qa").get(page).status_code == 200, page
