"""Who may weld a joint, and to which procedure: those of its plant, those lent or released to it, on the very days."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.exceptions import PermissionDenied
from django.test import Client
from django.urls import reverse

from codes.verdict import Outcome
from joints.day import Day
from joints.models import Joint
from qualifications.lending.where import end, lend
from qualifications.models import Certificate, Loan, Person, WeldLogEntry
from qualifications.offers import certificate_offers
from register.models import AuditEntry, Plant, PlantRole
from register.plants.reach import of_plant, within
from tests.conftest import SIGNED
from tests.joints import makers
from tests.qualifications.make import certificate, logged, person
from tests.wps.url_samples import SAMPLES as WPS
from wps.models import IssuedSheet, Procedure, ProcedureRelease, ProcedureRevision, TestRecord
from wps.releases.acts import release, take_back
from wps.releases.models import released_to

FROM, UNTIL = date(2026, 3, 10), date(2026, 3, 20)


@pytest.fixture
def plants(db: None) -> tuple[Plant, Plant]:
    return Plant.objects.get(), Plant.objects.create(name="North works")


@pytest.fixture
def ada(plants: tuple[Plant, Plant]) -> Person:
    """Of the first plant."""
    with within(of_plant(plants[0].pk)):
        return certificate(person("Ada Krol")).person


@pytest.fixture
def north_user(plants: tuple[Plant, Plant]) -> User:
    user = User.objects.create_user("ute", last_name="Nord")
    PlantRole.objects.create(user=user, plant=plants[1], role="coordinator")
    return user


def names(day: Day, plant: Plant) -> list[str]:
    return [one.person_name for one in day.at(plant.pk).certificates]


@pytest.mark.parametrize(
    ("on", "here", "there"),
    [
        (date(2026, 3, 9), ["Ada Krol"], ["Bo Lind"]),
        (FROM, [], ["Ada Krol", "Bo Lind"]),
        (UNTIL, [], ["Ada Krol", "Bo Lind"]),
        (date(2026, 3, 21), ["Ada Krol"], ["Bo Lind"]),
    ],
)
def test_a_loan_counts_on_its_days(
    plants: tuple[Plant, Plant], ada: Person, coordinator: User, on: date, here: list[str], there: list[str]
) -> None:
    first, north = plants
    with within(of_plant(north.pk)):
        certificate(person("Bo Lind"), number="W-2")
    lend(ada, north, FROM, UNTIL, "peak of work", coordinator)
    assert (names(Day(on), first), names(Day(on), north)) == (here, there)


def test_a_joint_is_welded_by_people_and_to_procedures_of_its_plant(plants: tuple[Plant, Plant]) -> None:
    """One of each at each plant; the group, who sees all, gets the same answers as the plant."""
    first, north = plants
    day = Day(makers.ON)
    day.certificates = (
        replace(makers.certificate("Ada Krol", pk=1), plant_id=first.pk),
        replace(makers.certificate("Bo Lind", pk=2), plant_id=north.pk),
    )
    day.procedures = (
        replace(makers.procedure("WPS 1 rev A", pk=1), plant_id=first.pk),
        replace(makers.procedure("WPS 2 rev A", pk=2), plant_id=north.pk),
    )
    with within(of_plant(first.pk)):
        mine = makers.make_joint()
    with within(of_plant(north.pk)):
        theirs = makers.make_joint(number="2")
    for joint, people, labels in ((mine, {1}, ("WPS 1 rev A",)), (theirs, {2}, ("WPS 2 rev A",))):
        explained = day.explain(joint, joint.assembly.job)
        assert (explained.final.person_ids, explained.final.labels) == (people, labels)
        assert explained.outcome is Outcome.COVERED
    found = {one.pk: one.result for one in day.answers(Joint.objects.order_by("pk"))}
    assert {pk: (one.final.person_ids, one.final.labels) for pk, one in found.items()} == {
        mine.pk: ({1}, ("WPS 1 rev A",)),
        theirs.pk: ({2}, ("WPS 2 rev A",)),
    }


def test_loans_do_not_overlap(plants: tuple[Plant, Plant], ada: Person, coordinator: User) -> None:
    first, north = plants
    loan = lend(ada, north, FROM, UNTIL, "", coordinator)
    assert AuditEntry.objects.get().after == {
        "to": "North works",
        "from": "2026-03-10",
        "until": "2026-03-20",
        "reason": "",
    }
    with pytest.raises(ValueError, match="end that first"):
        lend(ada, north, UNTIL, None, "", coordinator)
    with pytest.raises(ValueError, match="belongs to"):
        lend(ada, first, date(2027, 1, 1), None, "", coordinator)
    with pytest.raises(ValueError, match="before the first"):
        lend(ada, north, date(2027, 1, 2), date(2027, 1, 1), "", coordinator)
    end(loan, FROM, coordinator)
    with pytest.raises(ValueError, match="2026-03-10, the first day"):
        end(loan, date(2026, 3, 9), coordinator)
    lend(ada, north, date(2026, 3, 11), None, "", coordinator)
    with pytest.raises(ValueError, match="another loan"):
        end(loan, UNTIL, coordinator)


def test_whoever_borrows_reads_and_logs_but_changes_nothing(
    plants: tuple[Plant, Plant], ada: Person, coordinator: User, north_user: User
) -> None:
    first, north = plants
    with within(of_plant(first.pk)):
        here = logged(ada, FROM, joint="B1/1")
    with within(of_plant(north.pk)):
        assert not Person.objects.exists()
        assert certificate_offers() == ()
    lend(ada, north, FROM, UNTIL, "", coordinator)
    with within(of_plant(north.pk)):
        assert Person.objects.get() == ada
        assert [one.person_name for one in certificate_offers()] == ["Ada Krol"]
        there = logged(ada, FROM, joint="N9/9")
        assert list(WeldLogEntry.objects.all()) == [there]  # what she welds at home is not theirs to read
        with pytest.raises(PermissionDenied, match="another plant"):
            Person.objects.get().save()
        with pytest.raises(PermissionDenied, match="another plant"):
            Certificate.objects.get().save()
        with pytest.raises(PermissionDenied, match="another plant"):
            Certificate.objects.get().delete()
    with within(of_plant(first.pk)):
        assert set(WeldLogEntry.objects.all()) == {here, there}
    browser = Client()
    browser.force_login(north_user)
    assert "Ada Krol" in browser.get(reverse("qualifications:person", args=[ada.pk])).content.decode()
    for page in ("qualifications:lend", "qualifications:person_edit"):
        key = "person" if page.endswith("lend") else "pk"
        assert browser.post(reverse(page, kwargs={key: ada.pk}), {}).status_code in {403, 404, 422}
    assert browser.get(reverse("qualifications:loan_end", args=[Loan.objects.get().pk])).status_code == 404


def test_a_released_procedure_counts_there_and_is_read_there(
    plants: tuple[Plant, Plant], coordinator: User, north_user: User
) -> None:
    first, north = plants
    with within(of_plant(first.pk)):
        revision = ProcedureRevision.objects.get(pk=WPS["wps:revision_sheet"]()["pk"])
    procedure = revision.procedure
    with within(of_plant(north.pk)):
        assert not Procedure.objects.exists()
        assert not ProcedureRevision.objects.exists()
    one = release(procedure, north, FROM, "same manufacturer and technical control", coordinator)
    on = [date(2026, 3, 9), FROM]
    assert [procedure.pk in released_to(north.pk, day) for day in on] == [False, True]
    assert [len(Day(day).at(north.pk).procedures) for day in on] == [0, 1]
    assert [len(Day(day).at(first.pk).procedures) for day in on] == [1, 1]
    with pytest.raises(ValueError, match="has it already"):
        release(procedure, north, FROM, "twice", coordinator)
    with within(of_plant(north.pk)), pytest.raises(PermissionDenied, match="another plant"):
        Procedure.objects.get().save()
    take_back(one, UNTIL, coordinator)
    assert [procedure.pk in released_to(north.pk, day) for day in (UNTIL, date(2026, 3, 21))] == [True, False]
    browser = Client()
    browser.force_login(north_user)
    assert browser.get(procedure.get_absolute_url()).status_code == 200
    for act in ("check", "approve", "withdraw"):
        assert browser.post(reverse(f"wps:revision_{act}", args=[revision.pk]), SIGNED).status_code in {
            403,
            404,
            409,
            422,
        }
    assert browser.post(reverse("wps:revision_new", args=[procedure.pk]), SIGNED).status_code in {403, 404, 409}
    assert ProcedureRevision.objects.count() == 1


def test_the_sheet_of_a_released_procedure_is_issued_where_it_is_welded_to(
    plants: tuple[Plant, Plant], coordinator: User, north_user: User
) -> None:
    """The cell at the other plant needs the sheet; the act and the sheet stay with the procedure at its home."""
    first, north = plants
    with within(of_plant(first.pk)):
        revision = ProcedureRevision.objects.get(pk=WPS["wps:revision_sheet"]()["pk"])
    address = reverse("wps:revision_sheet", args=[revision.pk])
    browser = Client()
    browser.force_login(north_user)
    assert browser.get(address).status_code == 404
    release(revision.procedure, north, FROM, "same manufacturer and technical control", coordinator)
    answer = browser.get(f"{address}?paper=letter&units=us&kind=cell")
    assert (answer.status_code, answer.headers["Content-Type"]) == (200, "application/pdf")
    with within(of_plant(first.pk)):
        kept = IssuedSheet.objects.get(revision=revision, paper="letter", units="us", kind="cell")
    assert kept.home_plant == first.pk
    act = AuditEntry.everything.filter(act="issued a sheet").latest("number")
    assert (act.user_name, act.plant_id) == ("ute", first.pk)


def test_the_records_of_a_released_procedure_are_read_there(plants: tuple[Plant, Plant], coordinator: User) -> None:
    with within(of_plant(plants[0].pk)):
        record = TestRecord.objects.get(pk=WPS["wps:record"]()["pk"])
        draft = ProcedureRevision.objects.get(pk=WPS["wps:revision"]()["pk"])
    draft.records.add(record)
    with within(of_plant(plants[1].pk)):
        assert not TestRecord.objects.exists()
    release(draft.procedure, plants[1], FROM, "one technical control", coordinator)
    with within(of_plant(plants[1].pk)):
        assert TestRecord.objects.get() == record
        with pytest.raises(PermissionDenied, match="another plant"):
            TestRecord.objects.get().save()


def test_lending_and_releasing_in_the_browser(
    plants: tuple[Plant, Plant], ada: Person, client_of: Callable[[str], Client]
) -> None:
    first, north = plants
    browser = client_of("coordinator")
    page = browser.get(ada.get_absolute_url()).content.decode()
    assert "Lend to another plant" in page
    asked: dict[str, Any] = {"plant": north.pk, "from_on": "2026-03-10", "until": "2026-03-01", "reason": ""}
    url = reverse("qualifications:lend", args=[ada.pk])
    assert "before the first" in browser.post(url, asked).content.decode()
    assert browser.post(url, asked | {"until": ""}).status_code == 302
    page = browser.get(ada.get_absolute_url()).content.decode()
    assert "to North works from 2026-03-10 until further notice" in page
    ended = browser.post(reverse("qualifications:loan_end", args=[Loan.objects.get().pk]), {"until": "2026-03-12"})
    assert ended.status_code == 302
    assert Loan.objects.get().until == date(2026, 3, 12)
    with within(of_plant(first.pk)):
        procedure = Procedure.objects.get(pk=WPS["wps:procedure"]()["pk"])
    url = reverse("wps:release", args=[procedure.pk])
    signed = SIGNED | {"plant": north.pk, "from_on": "2026-03-10", "ground": "same control"}
    assert browser.post(url, signed | {"signing_password": "guess"}).status_code == 422
    assert browser.post(url, signed | {"ground": ""}).status_code == 422
    assert browser.post(url, signed).status_code == 302
    assert "Released to" in browser.get(procedure.get_absolute_url()).content.decode()
    back = reverse("wps:release_take_back", args=[ProcedureRelease.objects.get().pk])
    assert browser.post(back, SIGNED).status_code == 302
    assert ProcedureRelease.objects.get().until is not None


def test_one_plant_never_reads_the_word(people: dict[str, Any], client_of: Callable[[str], Client]) -> None:
    held, browser = certificate(person("Ada Krol")), client_of("coordinator")
    procedure = Procedure.objects.get(pk=WPS["wps:procedure"]()["pk"])
    urls = [held.person.get_absolute_url(), held.get_absolute_url(), procedure.get_absolute_url(), "/"]
    urls += [reverse(name) for name in ("qualifications:person_list", "wps:procedure_list", "users:list", "users:new")]
    for url in urls:
        assert "plant" not in browser.get(url).content.decode().lower(), url
