"""The list of joints: what it finds, how it is sorted, what it states, and its file."""

import csv
import io
from datetime import date
from decimal import Decimal as D

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.joints.makers import make_joint

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client_of):
    """The coordinator's browser."""
    return client_of("coordinator")


def text(response) -> str:
    return " ".join(response.content.decode().split())


def test_the_list_of_joints_as_a_file(page) -> None:
    make_joint(remarks="x")
    rows = list(csv.reader(io.StringIO(b"".join(page.get("/joints/", {"export": "csv"})).decode("utf-8-sig"))))
    assert rows[1][0] == "1"


@pytest.mark.parametrize(
    ("query", "numbers"),
    [
        ({"q": "2"}, {"2"}),
        ({"q": "B1 1"}, {"1"}),
        ({"weld_type": "butt_cjp"}, {"2"}),
        ({"thinnest": "15"}, {"2"}),
        ({"thickest": "12"}, {"1"}),
        ({"thinnest": "14,5"}, {"2"}),
        ({"thinnest": "9/16 in"}, {"2"}),  # 14.288 mm
        ({"thickest": "1/2 in"}, {"1"}),
        ({"thinnest": "0.591 in"}, set()),  # 15.011 mm
        ({"position": "PF"}, {"2"}),
        ({"first": "2026-12-01"}, {"2"}),
        ({"q": "nothing"}, set()),
    ],
)
def test_joints_are_found(page, query: dict[str, str], numbers: set[str]) -> None:
    make_joint()
    make_joint(
        mark="C7",
        number="2",
        weld_type="butt_cjp",
        t1_mm=15,
        position="PF",
        weld_date=date(2026, 12, 1),
        throat_mm=None,
    )
    response = page.get("/joints/", query)
    assert {row.record.number for row in response.context["table"].page.object_list} == numbers
    assert ("Nothing on file matches" in text(response)) is not bool(numbers)


@pytest.mark.parametrize(("units", "is_said"), [("si", False), ("us", True)])
def test_how_a_size_is_sought_in_inches_is_said_to_whoever_reads_them(page, units: str, is_said: bool) -> None:
    make_joint()
    page.post(reverse("own_units"), {"units": units})
    assert ("takes it along: 3/8 in." in text(page.get("/joints/"))) is is_said
    assert "takes it along" not in text(page.get("/jobs/"))


@pytest.mark.parametrize(
    ("sizes", "shown", "filed"),
    [
        ({"throat_mm": D(5)}, "a 5", ["5.000", "", ""]),
        ({"throat_mm": None, "leg_mm": D("6.35")}, "z 6.35", ["", "6.350", ""]),
        ({"throat_mm": D(5), "leg_mm": D(7)}, "a 5", ["5.000", "7.000", ""]),
        ({"throat_mm": None, "penetration_mm": D(8), "weld_type": "butt_pjp"}, "s 8", ["", "", "8.000"]),
        ({"throat_mm": None, "weld_type": "butt_cjp"}, "–", ["", "", ""]),
    ],
)
def test_the_list_names_the_size_that_a_joint_states(page, sizes: dict, shown: str, filed: list[str]) -> None:
    make_joint(**sizes)
    (row,) = page.get("/joints/").context["table"].rows
    assert row.get_cell("throat") == shown
    sent = b"".join(page.get("/joints/", {"export": "csv"}).streaming_content).decode("utf-8-sig")
    (row,) = csv.DictReader(io.StringIO(sent))
    assert [row["a [mm]"], row["z [mm]"], row["s [mm]"]] == filed


@pytest.mark.parametrize("sort", ["number", "-number", "parts", "throat", "steel", "position", "process", "weld_date"])
def test_every_sort_of_the_list_uses_an_index(sort: str, page) -> None:
    """On SQLite, whose plan says in words where it would sort by hand."""
    make_joint()
    with CaptureQueriesContext(connection) as queries:
        assert page.get("/joints/", {"sort": sort}).status_code == 200
    (listed,) = [q["sql"] for q in queries if "LIMIT 26" in q["sql"] or "LIMIT 25" in q["sql"]]
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute(f"EXPLAIN QUERY PLAN {listed}")
            plan = " ".join(str(line) for line in cursor.fetchall())
        assert "USE TEMP B-TREE FOR ORDER BY" not in plan, plan
