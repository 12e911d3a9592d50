"""Numbers of the trail that are not in sight are named, and never told to be there where they are gone."""

import pytest
from django.contrib.auth.models import User
from django.test import Client

from register.audit import record_act
from register.models import AuditEntry, Plant, PlantRole
from register.plants.reach import of_plant, within
from register.roles import Role
from register.trail.elsewhere import MOST, in_words, not_in_sight, stretches
from tests.register.test_trail import without_refusal

HERE, THERE = "here", "there"


@pytest.mark.parametrize(
    ("numbers", "found"),
    [
        ([0, 1, 2, 3], []),
        ([0, 2, 3], [(1, 1)]),
        ([11, 16, 17, 19], [(12, 15), (18, 18)]),
        ([5], []),
    ],
)
def test_stretches(numbers: list[int], found: list[tuple[int, int]]) -> None:
    assert list(stretches(numbers)) == found


def test_many_stretches_are_summed_up() -> None:
    assert in_words([(12, 15), (20, 20)]) == "12 to 15 and 20"
    assert in_words([(12, 13)]) == "12 to 13"
    many = [(n, n) for n in range(1, 2 * (MOST + 2), 2)]
    assert in_words(many) == "5, 7, 9, 11, 13, 15, 17, 19 and 2 lower ones"


@pytest.fixture
def reader(db: None) -> Client:
    """A coordinator of the first works; acts 1, 4 and 5 are of it, 2, 3 and 6 of the other."""
    first, north = Plant.objects.get(), Plant.objects.create(name="North works")
    who = {HERE: first, THERE: north}
    users = {where: User.objects.create_user(f"coordinator {where}") for where in who}
    for where, plant in who.items():
        PlantRole.objects.create(user=users[where], plant=plant, role=Role.COORDINATOR.value)
    assert not AuditEntry.everything.exists()
    for where in (HERE, THERE, THERE, HERE, HERE, THERE):
        record_act(users[where], f"act {where}")
    client = Client()
    client.force_login(users[HERE])
    return client


def said(client: Client, query: str = "") -> str:
    return " ".join(client.get(f"/trail/{query}").content.decode().split())


def test_a_page_names_what_is_left_out(reader: Client) -> None:
    page = said(reader)
    assert "act there" not in page
    assert "Numbers 2 to 3 and 6 are not shown: acts at works that you do not see, or of the firm." in page
    assert "Numbers 2 to 3 and 6 are not shown" in said(reader, "?sort=number")


@pytest.mark.parametrize("query", ["?q=act", "?act=act", "?sort=-at"])
def test_a_filtered_or_otherwise_sorted_list_leaves_out_by_itself(reader: Client, query: str) -> None:
    assert "not shown" not in said(reader, query)


def test_whoever_sees_all_works_reads_no_such_line(reader: Client, coordinator: User) -> None:
    reader.force_login(coordinator)
    page = said(reader)
    assert "act there" in page and "not shown" not in page


def test_what_is_gone_is_not_said_to_be_elsewhere(reader: Client) -> None:
    without_refusal("DELETE FROM register_auditentry WHERE number = 3")
    assert "Not shown: 2 to 3 and 6. Not all of these are on file; see whether the trail is whole." in said(reader)


def test_each_page_names_those_below_it(reader: Client) -> None:
    with within(of_plant(Plant.objects.order_by("pk").first().pk)):  # type: ignore[union-attr]
        assert not_in_sight([5, 4]).startswith("Numbers 2 to 3 and 6 are")
        assert not_in_sight([4]).startswith("Numbers 2 to 3 are")
        assert not_in_sight([1]) == ""
        assert not_in_sight([]) == ""
