"""What falls due, put in order for a reader: by how soon, by week, by person, or by workstation; page by page."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext_lazy as _

from codes.dates import add_months
from qualifications.due import DueItem, Group, grouped
from qualifications.models import WeldLogEntry

ORDERS = {"horizon": _("how soon"), "week": _("week"), "person": _("person"), "workstation": _("workstation")}
NOWHERE = _("Not at a workstation in the last six months, as far as the weld log says")
PAGE_ITEMS = 100

Stations = Mapping[int, Sequence[str]]


def ordered(items: Sequence[DueItem], order: str, horizons: Sequence[int], stations: Stations) -> tuple[Group, ...]:
    """The items under the headings of an order."""
    if order == "week":
        return by_week(items)
    if order == "person":
        return by_person(items)
    if order == "workstation":
        return by_workstation(items, stations)
    return grouped(items, horizons)


def by_week(items: Iterable[DueItem]) -> tuple[Group, ...]:
    """Under the weeks of ISO 8601, the earliest first. Example: "Week 48 of 2026, from Monday 2026-11-23"."""
    weeks: dict[date, list[DueItem]] = defaultdict(list)
    for item in items:
        weeks[item.by - timedelta(days=item.by.weekday())].append(item)
    return tuple(Group(_week(monday), tuple(weeks[monday])) for monday in sorted(weeks))


def _week(monday: date) -> str:
    year, week, _ = monday.isocalendar()
    return f"Week {week} of {year}, from Monday {monday.isoformat()}"


def by_person(items: Iterable[DueItem]) -> tuple[Group, ...]:
    """Under the people, by name; two of one name stay apart."""
    people: dict[tuple[str, int], list[DueItem]] = defaultdict(list)
    for item in items:
        people[item.person_name, item.person_id].append(item)
    return tuple(Group(name, tuple(people[name, pk])) for name, pk in sorted(people))


def by_workstation(items: Iterable[DueItem], stations: Stations) -> tuple[Group, ...]:
    """Under every workstation at which the person welded lately; those who welded at none come last."""
    places: dict[str, list[DueItem]] = defaultdict(list)
    nowhere: list[DueItem] = []
    for item in items:
        for name in stations.get(item.person_id, ()):
            places[name].append(item)
        if not stations.get(item.person_id):
            nowhere.append(item)
    groups = [Group(name, tuple(places[name])) for name in sorted(places)]
    return tuple(groups + ([Group(NOWHERE, tuple(nowhere))] if nowhere else []))


def stations_of(on: date) -> dict[int, list[str]]:
    """Person -> the workstations of the weld log in the six months up to a day. One query."""
    rows = WeldLogEntry.objects.filter(struck_out="", on__range=(add_months(on, -6), on)).exclude(workstation="")
    found: dict[int, list[str]] = defaultdict(list)
    for person, name in rows.order_by("workstation").values_list("person_id", "workstation").distinct():
        found[person].append(name)
    return dict(found)


@dataclass(frozen=True, slots=True)
class Shown:
    """A group as far as it stands on one page, with the number of all that belong to it."""

    title: str
    items: tuple[DueItem, ...]
    count: int
    goes_on: bool = False


def page_of(groups: Sequence[Group], number: int, size: int = PAGE_ITEMS) -> tuple[list[Shown], int]:
    """The groups of one page and the number of pages; an empty group stands where it would begin.

    Example: with 100 on a page, 101 items make two pages, and the second holds one.
    """
    pages = max(1, -(-sum(len(group.items) for group in groups) // size))
    number = min(max(number, 1), pages)
    first, last = (number - 1) * size, number * size
    shown: list[Shown] = []
    at = 0
    for group in groups:
        end = at + len(group.items)
        part = group.items[max(first - at, 0) : max(last - at, 0)]
        empty_here = not group.items and (first <= at < last or (at == last and number == pages))
        if part or empty_here:
            shown.append(Shown(group.title, part, len(group.items), goes_on=at < first))
        at = end
    return shown, pages
