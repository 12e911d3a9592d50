"""Dates in sentences."""

from datetime import date

import pytest

from register.base.days import days_in_words, in_words


def test_a_day_as_people_write_it() -> None:
    assert in_words(date(2026, 1, 5)) == "5 Jan 2026"


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("no confirmation between 2026-04-17 and 2026-10-17", "no confirmation between 17 Apr 2026 and 17 Oct 2026"),
        ("WPQR 2026-02-30", "WPQR 2026-02-30"),
        ("9606-0412 of job 26-104", "9606-0412 of job 26-104"),
        ("12026-04-17", "12026-04-17"),
    ],
)
def test_only_days_are_written_out(said: str, words: str) -> None:
    assert days_in_words(said) == words
