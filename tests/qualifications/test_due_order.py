"""What falls due, by week, person and workstation, page by page, and the addresses in its rows."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from codes.clauses import Clause
from qualifications.due import DueItem, Group
from qualifications.due_order import NOWHERE, by_person, by_week, by_workstation, page_of, stations_of
from qualifications.templatetags.people import due_rows
from tests.qualifications.make import certificate, logged, person

SignIn = Callable[[str], Client]
C = Clause("Test standard", "9")


def item(by: date = date(2026, 11, 25), name: str = "Ada Krol", pk: int = 1, **facts: Any) -> DueItem:
    values = {"certificate_id": pk, "person_id": pk, "label": f"{name}, W-{pk}", "kind": "welder", "number": f"W-{pk}"}
    more = {"act": "confirmation", "by": by, "days": 1, "within": 30, "because": "because", "clause": C}
    return DueItem(person_name=name, **(values | more | facts))


def groups(*sizes: int) -> list[Group]:
    return [Group(f"G{n}", tuple(item(pk=m) for m in range(size))) for n, size in enumerate(sizes)]


@pytest.mark.parametrize(
    ("day", "title"),
    [
        (date(2026, 11, 23), "Week 48 of 2026, from Monday 2026-11-23"),
        (date(2026, 11, 29), "Week 48 of 2026, from Monday 2026-11-23"),
        (date(2026, 11, 30), "Week 49 of 2026, from Monday 2026-11-30"),
        (date(2027, 1, 3), "Week 53 of 2026, from Monday 2026-12-28"),
        (date(2027, 1, 4), "Week 1 of 2027, from Monday 2027-01-04"),
    ],
)
def test_weeks_run_from_monday_to_sunday(day: date, title: str) -> None:
    (week,) = by_week([item(day)])
    assert week.title == title


def test_two_people_of_one_name_stay_apart() -> None:
    found = by_person([item(pk=1), item(pk=2), item(pk=1, act="new test"), item(pk=3, name="Abe Orr")])
    assert [(g.title, len(g.items)) for g in found] == [("Abe Orr", 1), ("Ada Krol", 2), ("Ada Krol", 1)]


def test_somebody_at_two_workstations_stands_under_both_and_whoever_is_at_none_comes_last() -> None:
    found = by_workstation([item(pk=1), item(pk=2)], {1: ["Cell R1", "Bay 2"]})
    assert [(g.title, [i.person_id for i in g.items]) for g in found] == [
        ("Bay 2", [1]),
        ("Cell R1", [1]),
        (NOWHERE, [2]),
    ]


@pytest.mark.parametrize(
    ("sizes", "number", "shown", "pages"),
    [
        ((2, 2), 1, [("G0", 2), ("G1", 1)], 2),
        ((2, 2), 2, [("G1", 1)], 2),
        ((3,), 1, [("G0", 3)], 1),
        ((3, 1), 2, [("G1", 1)], 2),
        ((0, 3), 1, [("G0", 0), ("G1", 3)], 1),
        ((0, 0), 1, [("G0", 0), ("G1", 0)], 1),
        ((3, 0), 1, [("G0", 3), ("G1", 0)], 1),
        ((4,), 9, [("G0", 1)], 2),
        ((4,), 0, [("G0", 3)], 2),
        ((), 1, [], 1),
    ],
)
def test_pages(sizes: tuple[int, ...], number: int, shown: list[tuple[str, int]], pages: int) -> None:
    found, count = page_of(groups(*sizes), number, size=3)
    assert [(g.title, len(g.items)) for g in found] == shown
    assert count == pages
    assert all(
        group.count == len(whole.items) for group in found for whole in groups(*sizes) if whole.title == group.title
    )


def test_every_item_stands_on_one_page() -> None:
    whole = groups(5, 0, 7, 1)
    seen = [len(g.items) for number in range(1, 6) for g in page_of(whole, number, size=3)[0]]
    assert sum(seen) == 13


def test_the_addresses_in_the_rows_are_those_of_the_pages() -> None:
    row = due_rows([item(pk=7, person_id=8, site="<Hall>")])
    assert f'href="{reverse("qualifications:certificate", args=[7])}"' in row
    assert f'href="{reverse("qualifications:person", args=[8])}"' in row
    assert "&lt;Hall&gt;" in row


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("day", "facts", "there"),
    [
        (date(2026, 5, 25), {}, True),
        (date(2026, 5, 24), {}, False),
        (date(2026, 11, 25), {}, True),
        (date(2026, 11, 26), {}, False),
        (date(2026, 11, 1), {"struck_out": "wrong"}, False),
        (date(2026, 11, 1), {"workstation": ""}, False),
    ],
)
def test_where_somebody_welded_lately(day: date, facts: dict[str, str], there: bool) -> None:
    holder = person()
    logged(holder, day, **({"workstation": "Cell R1"} | facts))
    assert stations_of(date(2026, 11, 25)) == ({holder.pk: ["Cell R1"]} if there else {})


@pytest.mark.django_db
def test_the_page_in_every_order_and_narrowed_down(client_of: SignIn) -> None:
    ada, bo = person(), person("Bo Lang")
    certificate(ada), certificate(bo, number="W-2")
    logged(ada, date(2025, 7, 1), workstation="Cell R1")
    browser = client_of("auditor")
    on = {"on": "2025-07-30"}

    def page(**query: str) -> str:
        return " ".join(browser.get(reverse("qualifications:due"), on | query).content.decode().split())

    assert "Week 31 of 2025, from Monday 2025-07-28 (2)" in page(by="week")
    assert "<h2>Bo Lang (1)</h2>" in page(by="person")
    assert "<h2>Cell R1 (1)</h2>" in page(by="workstation")
    assert f"{NOWHERE} (1)" in page(by="workstation")
    assert "Bo Lang" not in page(workstation="cell")
    assert "Bo Lang" not in page(person="krol")
    assert "Ada Krol" not in page(person="w-2")
    assert browser.get(reverse("qualifications:due"), on | {"by": "mood"}).status_code == 400


@pytest.mark.django_db
def test_a_long_list_is_paged(client_of: SignIn) -> None:
    holder = person()
    for number in range(101):
        certificate(holder, number=f"W-{number:03}")
    browser = client_of("auditor")
    first = browser.get(reverse("qualifications:due"), {"on": "2025-07-30"}).content.decode()
    assert first.count('<th scope="row" class="day">') == 100
    assert "Within 30 days (101)" in first
    second = browser.get(reverse("qualifications:due"), {"on": "2025-07-30", "page": "2"}).content.decode()
    assert "W-100" in second
    assert "(101), continued" in second


def test_the_index_gives_what_the_periods_say_on_every_day() -> None:
    """Each day of two years, worked out from the states themselves."""
    from codes.confirmations import Scheme, confirmed_periods
    from codes.continuity import HAND, Rules, continuity_periods
    from codes.validity import Event, ValidityInput
    from qualifications.due import END, LAPSED, falls_due
    from qualifications.offers import CertificateOffer

    scheme = Scheme("Test standard", C, C, C, C, new_test_years=3, term_years=2)
    tested = date(2025, 1, 31)
    signed = (Event("confirmation", date(2025, 7, 1)), Event("revocation", date(2025, 12, 10), details={"why": "x"}))
    rules = Rules(C, C, C, C, HAND, False, False, False, ("full_test", "full"))
    renewed = (Event("renewal", date(2026, 1, 1)),)
    lives = [
        confirmed_periods(ValidityInput(tested, "b", events=signed), scheme),
        continuity_periods(ValidityInput(tested, events=renewed), rules),
    ]
    for validity in lives:
        one = CertificateOffer(1, 1, "Ada", "Ada, W-1", "welder", (), validity)
        for offset in range(-10, 720):
            on = tested + timedelta(days=offset)
            state = validity.state(on)
            wanted = {(due.act, due.by) for due in state.dues if (due.by - on).days <= 180}
            if state.valid and state.until and state.until not in {due.by for due in state.dues}:
                wanted |= {(END, state.until)} if (state.until - on).days <= 180 else set()
            past = [p.end for p in validity.periods if p.end and p.end < on]
            if not state.valid and past and (on - max(past)).days <= 90:
                wanted |= {(LAPSED, max(past))}
            assert {(i.act, i.by) for i in falls_due([one], on)} == wanted, on
