"""The date asked about: query, session, today; and what is refused."""

from datetime import date

import pytest
from django.test import RequestFactory
from django.utils import timezone

from register.base.asof import SESSION_KEY, BadAskedDate, asked, asked_date, read_date


def request(address: str, session: dict[str, str] | None = None):
    made = RequestFactory().get(address)
    made.session = {} if session is None else session
    return made


def test_without_a_word_today_is_asked_about() -> None:
    assert asked_date(request("/")) == timezone.localdate()


def test_the_query_wins_and_is_remembered() -> None:
    session = {SESSION_KEY: "2020-01-01"}
    assert asked_date(request("/?on=2024-02-29", session)) == date(2024, 2, 29)
    assert session == {SESSION_KEY: "2024-02-29"}
    assert asked_date(request("/", session)) == date(2024, 2, 29)


@pytest.mark.parametrize("text", ["today", ""])
def test_today_lets_the_remembered_date_go(text: str) -> None:
    session = {SESSION_KEY: "2020-01-01"}
    assert asked_date(request(f"/?on={text}", session)) == timezone.localdate()
    assert session == {}


@pytest.mark.parametrize("text", ["2025-02-29", "03/01/2026", "rubbish", "2026-13-01", "<script>"])
def test_what_is_no_date_is_refused_with_the_remedy(text: str) -> None:
    with pytest.raises(BadAskedDate, match="year-month-day"):
        read_date(text)


@pytest.mark.parametrize("text", ["1950-01-01", "2149-12-31"])
def test_the_first_and_last_day_that_can_be_asked_about(text: str) -> None:
    assert read_date(text).isoformat() == text


@pytest.mark.parametrize("text", ["1949-12-31", "2150-01-01"])
def test_one_day_outside_is_refused(text: str) -> None:
    with pytest.raises(BadAskedDate, match="1950 to 2149"):
        read_date(text)


def test_the_header_keeps_the_filter_but_not_the_page() -> None:
    shown = asked(request("/?q=a%26b&page=3&on=2024-02-29"))
    assert shown.keep == (("q", "a&b"),)
    assert shown.today_url == "?q=a%26b&on=today"
    assert not shown.is_today


def test_the_header_of_a_refusal_shows_today() -> None:
    assert asked(request("/?on=never")).is_today
