"""Which weld log entries speak for a confirmation."""

from datetime import date

import pytest

from qualifications.evidence import proposed, window
from qualifications.models import WeldLogEntry
from qualifications.offers import limits
from tests.qualifications.make import certificate, logged, person

pytestmark = pytest.mark.django_db
ON = date(2025, 8, 31)


def test_the_window_is_six_months_with_both_days() -> None:
    assert window(ON) == (date(2025, 2, 28), ON)


@pytest.mark.parametrize(
    ("day", "counts"),
    [(date(2025, 2, 27), False), (date(2025, 2, 28), True), (ON, True), (date(2025, 9, 1), False)],
)
def test_days(day: date, counts: bool) -> None:
    held = certificate()
    entry = logged(held.person, day)
    assert bool(proposed([entry], limits(held)[0], held.person_id, ON)) is counts


@pytest.mark.parametrize(
    ("facts", "counts"),
    [
        ({}, True),
        ({"process": "138"}, True),  # 135 covers 138
        ({"process": "136"}, False),
        ({"process": "135", "mechanisation": "automatic"}, False),
        ({"position": "PA"}, True),
        ({"position": "PF"}, False),
        ({"position": ""}, True),
        ({"weld_type": "butt_cjp"}, False),
        ({"struck_out": "wrong welder"}, False),
    ],
)
def test_only_welds_inside_the_range(facts: dict[str, str], counts: bool) -> None:
    held = certificate()
    entry = logged(held.person, ON, **facts)
    assert bool(proposed([entry], limits(held)[0], held.person_id, ON)) is counts


def test_somebody_elses_weld_speaks_for_nobody() -> None:
    held = certificate()
    entry = logged(person("Bo Lang"), ON)
    assert proposed([entry], limits(held)[0], held.person_id, ON) == ()


def test_newest_first_and_without_limits_nothing() -> None:
    held = certificate()
    for day in (date(2025, 5, 1), date(2025, 8, 1), date(2025, 6, 1)):
        logged(held.person, day)
    entries = list(WeldLogEntry.objects.all())
    days = [e.on for e in proposed(entries, limits(held)[0], held.person_id, ON)]
    assert days == sorted(days, reverse=True)
    assert proposed(entries, (), held.person_id, ON) == ()
