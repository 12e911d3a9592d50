"""Steel grades of the firm: stated, stated anew, withdrawn; by the coordinator alone, signed, and on the trail."""

from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, connection, transaction
from django.urls import reverse

from codes.own_grades import own_grades
from codes.steels import UnknownGrade
from register.held.firm import firm_settings, set_reading
from register.held.grades import firm_grades, known_grade, known_steel, read_once, state_grade, withdraw_grade
from register.held.models import FirmGrade
from register.models import AuditEntry
from tests.conftest import SIGNED

pytestmark = pytest.mark.django_db
STATED = {"name": "Plate X700", "standard": "mill 7", "group": "3.1", "source": "data sheet 12, 2026", "note": ""}
LINES = "up to 50 mm: 700 MPa\nup to 100: 650"
WHY = "crane rails of the harbour job"


def stated(by: Any, **changes: str) -> FirmGrade:
    own = STATED | {"lines": LINES, "why": WHY} | changes
    return state_grade(by, **own)


def test_a_grade_counts_from_when_it_is_stated_until_it_is_withdrawn(coordinator: Any) -> None:
    with pytest.raises(UnknownGrade):
        known_steel("Plate X700")
    made = stated(coordinator)
    assert (known_steel("plate x-700+N").group, known_steel("Plate X700").yield_mpa) == ("3.1", 700)
    assert known_grade("PLATE X700").source == STATED["source"]
    assert [grade.name for grade in own_grades(firm_settings())] == ["Plate X700"]
    withdraw_grade(coordinator, "plate x700", "the mill closed")
    assert firm_grades() == () and firm_settings() == {}
    acts = AuditEntry.objects.order_by("number").values_list("act", "note", "subject_id")
    assert list(acts)[-2:] == [
        ("stated the steel grade", WHY, str(made.pk)),
        ("withdrew the steel grade", "the mill closed", str(made.pk + 1)),
    ]  # fmt: skip


def test_readings_and_grades_come_in_one_query(coordinator: Any, django_assert_num_queries: Any) -> None:
    stated(coordinator)
    set_reading(coordinator, "yield_by_band", "by band", "as the auditor reads it")
    stated(coordinator, lines="any: 690")
    with django_assert_num_queries(1):
        found = firm_settings()
    assert found["yield_by_band"] == "by band"
    assert [grade.yield_mpa for grade in own_grades(found)] == [690]


def test_within_a_request_they_are_read_once_and_known_at_once(
    coordinator: Any, django_assert_num_queries: Any
) -> None:
    stated(coordinator)
    with read_once():
        with django_assert_num_queries(1):
            assert firm_grades() == firm_grades() != ()
        withdraw_grade(coordinator, "Plate X700", "wrong sheet")
        assert firm_grades() == ()


@pytest.mark.parametrize("again", ["plate-x700", "PLATE X 700", "Plate X7 grade 00", "ASTM plate X700"])
def test_a_grade_stated_anew_in_another_spelling_replaces_the_first(coordinator: Any, again: str) -> None:
    """What the codes take for one name is one grade: of two in force the older would be found."""
    stated(coordinator, lines="any: 700")
    stated(coordinator, name=again, lines="any: 650")
    assert [grade.yield_mpa for grade in firm_grades()] == [650]
    assert known_steel("Plate X700").yield_mpa == 650


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"why": " "}, "Say why"),
        ({"source": ""}, "source"),
        ({"group": "99"}, "is not a group"),
        ({"lines": "up to 50 mm"}, "line 1"),
        ({"name": "a36"}, "holds A36 itself"),
        ({"name": "S355J2"}, "holds S355J2 itself"),
    ],
)
def test_what_is_refused(coordinator: Any, changes: dict[str, str], problem: str) -> None:
    with pytest.raises(ValueError, match=problem):
        stated(coordinator, **changes)
    assert not FirmGrade.objects.exists()


def test_what_is_not_in_force_cannot_be_withdrawn(coordinator: Any) -> None:
    stated(coordinator)
    with pytest.raises(ValueError, match="Say why"):
        withdraw_grade(coordinator, "Plate X700", " ")
    withdraw_grade(coordinator, "Plate X700", "wrong")
    with pytest.raises(ValueError, match="in force"):
        withdraw_grade(coordinator, "Plate X700", "wrong again")


def test_statements_stay(coordinator: Any) -> None:
    made = stated(coordinator)
    made.group = "1.1"
    for act in (made.save, made.delete):
        with pytest.raises(PermissionDenied):
            act()
    for sql in ("UPDATE register_firmgrade SET withdrawn = withdrawn", "DELETE FROM register_firmgrade"):
        with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(sql)


def test_the_pages(client: Any, coordinator: Any, people: dict[str, Any]) -> None:
    client.force_login(coordinator)
    own = STATED | {"lines": LINES, "why": WHY}
    answer = client.post(reverse("held:grade_new"), own)
    assert answer.status_code == 422 and not FirmGrade.objects.exists()
    assert client.post(reverse("held:grade_new"), own | SIGNED | {"lines": "x"}).status_code == 422
    assert client.post(reverse("held:grade_new"), own | SIGNED).status_code == 302
    page = client.get(reverse("held:grades")).content.decode()
    for said in ("Plate X700", "3.1", "up to 100 mm: 650 MPa", "data sheet 12, 2026", "own rule", "coordinator", WHY):
        assert said in page, said
    assert "Plate X700, group 3.1" in client.get(reverse("held:clauses")).content.decode()
    anew = client.get(reverse("held:grade_new"), {"grade": "plate x700"}).content.decode()
    assert "up to 50 mm: 700 MPa" in anew
    away = reverse("held:grade_withdraw", args=[FirmGrade.objects.get().pk])
    assert client.post(away, {"why": "the mill closed"}).status_code == 422
    assert client.post(away, {"why": "the mill closed"} | SIGNED).status_code == 302
    page = client.get(reverse("held:grades")).content.decode()
    assert "The firm has stated no grade" in page and "withdrew Plate X700" in page
    assert client.get(away).status_code == 404


@pytest.mark.parametrize("role", ["qa", "supervisor", "auditor"])
def test_only_a_coordinator_states_grades(client: Any, people: dict[str, Any], role: str) -> None:
    client.force_login(people[role])
    assert client.get(reverse("held:grade_new")).status_code == 403
    assert client.get(reverse("held:grades")).status_code == 200
