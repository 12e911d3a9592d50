"""Month ends and leap days, stated once."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from codes.dates import add_months, add_years


@pytest.mark.parametrize(
    ("start", "months", "end"),
    [
        (date(2024, 8, 31), 6, date(2025, 2, 28)),
        (date(2023, 8, 31), 6, date(2024, 2, 29)),
        (date(2025, 1, 31), 6, date(2025, 7, 31)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2024, 2, 29), 48, date(2028, 2, 29)),
        (date(2026, 3, 31), -1, date(2026, 2, 28)),
        (date(2025, 12, 31), 2, date(2026, 2, 28)),
    ],
)
def test_same_day_or_the_last_of_the_month(start, months, end):
    assert add_months(start, months) == end


@given(st.dates(date(2023, 1, 1), date(2026, 12, 31)), st.integers(0, 72))
def test_never_later_than_the_same_day_and_never_another_month(start, months):
    end = add_months(start, months)
    assert (end.year * 12 + end.month) - (start.year * 12 + start.month) == months
    assert end.day <= start.day


@given(st.dates(date(2023, 1, 1), date(2026, 12, 31)))
def test_a_later_start_never_ends_earlier(start):
    following = date.fromordinal(start.toordinal() + 1)
    assert add_months(start, 6) <= add_months(following, 6)
    assert add_years(start, 3) == add_months(start, 36)
