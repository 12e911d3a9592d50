"""Who works where: opening a second plant, choosing one, looking after accounts of one, tokens and work of one."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.exceptions import PermissionDenied
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from qualifications.calendar.models import CalendarFeed
from qualifications.models import Person
from register.background.models import Work
from register.background.run import reach_of
from register.held.models import FirmGrade, FirmReading
from register.models import AuditEntry, Plant, PlantRole, SystemToken
from register.plants.reach import NOTHING, PlantNotChosen, Reach, alone, current, of_plant, within
from register.plants.standing import standing
from register.roles import Capability, can, reach_with
from register.systems.acts import make
from register.trail.verify import verify
from tests.conftest import SIGNED
from tests.qualifications.make import certificate, person

As = Callable[[str], Client]


def fresh(name: str, chosen: int | None = None) -> User:
    user = User.objects.get(username=name)
    user.plant_chosen = chosen  # type: ignore[attr-defined]
    return user


@pytest.fixture
def north(people: dict[str, Any]) -> Plant:
    """Opened by the command: one coordinator of the group, everybody else at the first plant."""
    call_command("open_plant", "North works", "--first", "Main works", "--group", "coordinator", "--place", "Havn")
    return Plant.objects.get(name="North works")


@pytest.fixture
def ute(north: Plant) -> User:
    """Coordinator at North, auditor at the first."""
    user = User.objects.create_user("ute", password="a password for tests")
    PlantRole.objects.create(user=user, plant=north, role="coordinator")
    PlantRole.objects.create(user=user, plant=Plant.objects.get(name="Main works"), role="auditor")
    return user


def test_one_plant_costs_one_question(people: dict[str, Any], django_assert_num_queries: Any) -> None:
    with django_assert_num_queries(1):
        assert standing(fresh_user := people["qa"]).reach == alone() and can(fresh_user, Capability.VIEW)
        assert not standing(fresh_user).plants


def test_opening_the_second_plant_narrows_everybody_else(north: Plant) -> None:
    assert standing(fresh("coordinator")).reach == Reach(None)
    for name in ("second_coordinator", "qa", "supervisor", "auditor"):
        where = standing(fresh(name))
        assert where.reach == of_plant(Plant.objects.get(name="Main works").pk), name
        assert not fresh(name).groups.exists()
    assert standing(fresh("no_role")).reach == NOTHING
    assert AuditEntry.everything.get(act="opened the plant").subject == "North works"
    assert verify().whole


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["North works", "--group", "coordinator"], "--first"),
        (["North works", "--first", "Main works"], "at least one coordinator"),
        (["North works", "--first", "Main works", "--group", "qa"], "at least one coordinator"),
        (["North works", "--first", "Main works", "--group", "nobody"], "no account nobody"),
        (["North works", "--first", "north works", "--group", "coordinator"], "different names"),
        (["  ", "--first", "Main works", "--group", "coordinator"], "Name the new plant"),
    ],
)
def test_what_opening_refuses_leaves_all_as_it_was(people: dict[str, Any], arguments: list[str], said: str) -> None:
    with pytest.raises(CommandError, match=said):
        call_command("open_plant", *arguments)
    assert Plant.objects.count() == 1 and not PlantRole.objects.exists()
    assert fresh("qa").groups.count() == 1


def test_the_first_plant_keeps_its_trail(people: dict[str, Any]) -> None:
    from register.audit import record_act

    before = record_act(people["qa"], "signed", None)
    call_command("open_plant", "North works", "--first", "Main works", "--group", "coordinator")
    first, north = Plant.objects.order_by("pk")
    with within(of_plant(north.pk)):
        assert not AuditEntry.objects.exists()
        there = record_act(fresh("qa"), "signed", None, note="at the first plant")
    with within(of_plant(first.pk)):
        assert {before, there} <= set(AuditEntry.objects.all())
        after = record_act(None, "did something for the group", None)
        assert after not in AuditEntry.objects.all()
    assert verify().whole


def test_the_plant_of_an_entry_is_under_its_hash(north: Plant) -> None:
    from register.audit import record_act
    from register.trail.chain import entry_hash, fields_of

    entry = record_act(fresh("qa"), "signed", None)
    assert entry.plant_id is not None
    moved = fields_of(entry) | {"plant_id": north.pk}
    assert entry_hash(moved, entry.number, entry.previous_hash) != entry.hash
    old = fields_of(entry) | {"plant_id": None}
    assert "plant" not in str(old) or entry_hash(old, entry.number, entry.previous_hash) != entry.hash


def test_roles_count_where_they_are_held(ute: User, north: Plant) -> None:
    first = Plant.objects.get(name="Main works")
    assert can(fresh("ute", north.pk), Capability.EDIT_PEOPLE)
    assert not can(fresh("ute", first.pk), Capability.EDIT_PEOPLE)
    assert can(fresh("ute", first.pk), Capability.READ_TRAIL)
    assert standing(fresh("ute", 999)).at == first.pk  # what is not held is not taken; the first by name
    assert reach_with(ute, Capability.EDIT_PEOPLE) == of_plant(north.pk)
    assert reach_with(ute, Capability.VIEW) == Reach(frozenset({first.pk, north.pk}))


def test_choosing_in_the_browser(ute: User, north: Plant, client_of: As) -> None:
    first = Plant.objects.get(name="Main works")
    for plant, name in ((first, "Ada Krol"), (north, "Bo Lind")):
        with within(of_plant(plant.pk)):
            person(name)
    browser, choose = Client(), reverse("plants:choose")
    browser.force_login(ute)
    assert "Ada Krol" in browser.get("/people/").content.decode()
    answer = browser.post(choose, {"plant": north.pk, "next": "/people/"})
    assert (answer.status_code, answer.headers["Location"]) == (302, "/people/")
    page = browser.get("/people/").content.decode()
    assert "Bo Lind" in page and "Ada Krol" not in page and "North works" in page
    assert browser.post(choose, {"plant": 999}).status_code == 409
    assert browser.post(choose, {"plant": ""}).status_code == 409  # all plants are for the group
    assert browser.post(choose, {"plant": first.pk, "next": "https://elsewhere.example/"}).headers["Location"] == "/"
    qa = client_of("qa")
    assert qa.post(choose, {"plant": north.pk}).status_code == 409


def test_who_works_at_one_plant_has_none_to_choose(ute: User, north: Plant) -> None:
    browser, choose = Client(), reverse("plants:choose")
    browser.force_login(ute)
    assert f'href="{choose}">Main works</a>' in browser.get("/people/").content.decode()
    PlantRole.objects.filter(user=ute).exclude(plant=north).delete()
    page = browser.get("/people/").content.decode()
    assert "North works" in page and choose not in page
    page = browser.get(choose).content.decode()
    assert "There is nothing to choose" in page and "the plant chosen here" not in page


def test_the_group_chooses_before_something_new(north: Plant, client_of: As) -> None:
    browser = client_of("coordinator")
    for page in ("qualifications:person_new", "joints:job_list"):
        assert browser.get(reverse(page)).status_code in {200, 302}
    asked = browser.get(reverse("qualifications:person_new"))
    assert asked.headers["Location"] == "/plants/choose/?next=%2Fpeople%2Fnew%2F"
    entry = {"name": "Bo Lind", "identification": "7", "active": "on"}
    assert browser.post(reverse("qualifications:person_new"), entry).status_code == 302
    assert not Person.objects.exists()
    browser.post(reverse("plants:choose"), {"plant": north.pk})
    assert browser.post(reverse("qualifications:person_new"), entry).status_code == 302
    assert Person.objects.get().plant == north
    browser.post(reverse("plants:choose"), {"plant": ""})
    assert "North works" in browser.get("/people/").content.decode()  # the list says of which plant


def test_numbers_are_unique_within_a_plant_and_the_form_says_where(north: Plant, client_of: As) -> None:
    first = Plant.objects.get(name="Main works")
    with within(of_plant(first.pk)):
        certificate(person("Ada Krol", identification="7"))
    browser, entry = client_of("coordinator"), {"name": "Bo Lind", "identification": "7", "active": "on"}
    browser.post(reverse("plants:choose"), {"plant": first.pk})
    refused = browser.post(reverse("qualifications:person_new"), entry)
    assert refused.status_code == 422 and "has this already" in refused.content.decode()
    browser.post(reverse("plants:choose"), {"plant": north.pk})
    assert browser.post(reverse("qualifications:person_new"), entry).status_code == 302


def test_nothing_new_without_a_plant(north: Plant) -> None:
    with pytest.raises(PlantNotChosen):
        person("Bo Lind")
    with within(NOTHING), pytest.raises(PlantNotChosen):
        person("Bo Lind")
    with within(of_plant(north.pk)), pytest.raises(PermissionDenied):
        Person(name="Bo Lind", identification="7", plant=Plant.objects.order_by("pk")[0]).save()
    with within(of_plant(north.pk)), pytest.raises(PermissionDenied):
        Person.objects.bulk_create([Person(name="Bo", identification="7", plant=Plant.objects.order_by("pk")[0])])


def test_accounts_of_one_plant(ute: User, north: Plant) -> None:
    """Its coordinator sees accounts of this plant only, and gives roles there only."""
    made = {name: User.objects.create_user(name) for name in ("nora", "both", "boss")}
    PlantRole.objects.create(user=made["nora"], plant=north, role="qa")
    for plant in Plant.objects.all():
        PlantRole.objects.create(user=made["both"], plant=plant, role="qa")
    made["boss"].is_superuser = True
    made["boss"].save()
    PlantRole.objects.create(user=made["boss"], plant=north, role="auditor")
    browser = Client()
    browser.force_login(ute)
    browser.post(reverse("plants:choose"), {"plant": north.pk})
    listed = browser.get(reverse("users:list")).content.decode()
    assert "nora" in listed
    assert not [name for name in ("both", "boss", "coordinator") if f">{name}<" in listed]
    for name in ("both", "boss", "coordinator", "ute"):
        for page in ("users:change", "users:password", "users:factor"):
            url = reverse(page, args=[User.objects.get(username=name).pk])
            assert browser.get(url).status_code == 404, (page, name)
            assert browser.post(url, SIGNED | {"password": "Kehlnaht a5 PB"}).status_code == 404, (page, name)
    roles, elsewhere = f"roles_{north.pk}", f"roles_{Plant.objects.get(name='Main works').pk}"
    given = SIGNED | {"username": "nora", "is_active": "on", roles: ["supervisor"]}
    more = {"roles": ["coordinator"], elsewhere: ["coordinator"], "is_superuser": "on"}
    assert browser.post(reverse("users:change", args=[made["nora"].pk]), given | more).status_code == 302
    assert list(PlantRole.objects.filter(user=made["nora"]).values_list("plant", "role")) == [(north.pk, "supervisor")]
    nora = User.objects.get(username="nora")
    assert not nora.groups.exists() and not nora.is_superuser
    new = SIGNED | {"username": "anna", "is_active": "on", "password": "Kehlnaht a5 PB"}
    assert browser.post(reverse("users:new"), new).status_code == 422  # without a role it would be nobody's
    assert browser.post(reverse("users:new"), new | {roles: ["qa"]} | more).status_code == 302
    assert list(PlantRole.objects.filter(user__username="anna").values_list("plant", "role")) == [(north.pk, "qa")]


def test_the_group_gives_roles_at_each_plant(north: Plant, client_of: As) -> None:
    browser, qa = client_of("coordinator"), User.objects.get(username="qa")
    first = Plant.objects.get(name="Main works")
    url = reverse("users:change", args=[qa.pk])
    assert "Roles at North works" in browser.get(url).content.decode()
    given = {"username": "qa", "is_active": "on", f"roles_{north.pk}": ["qa"], f"roles_{first.pk}": ["qa", "auditor"]}
    assert browser.post(url, SIGNED | given).status_code == 302
    assert PlantRole.objects.filter(user=qa).count() == 3
    entry = AuditEntry.everything.get(act="changed the account")
    assert entry.after["roles_at"] == {"Main works": ["auditor", "qa"], "North works": ["qa"]}
    assert "quality assurance at North works" in browser.get(reverse("users:list")).content.decode()


def test_add_user_at_a_plant(north: Plant, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NEW_PASSWORD", "Kehlnaht a5 PB")
    call_command("add_user", "nora", "--role", "qa", "--plant", "north works")
    assert standing(fresh("nora")).reach == of_plant(north.pk)
    with pytest.raises(CommandError, match="Main works, North works"):
        call_command("add_user", "nora", "--role", "qa", "--plant", "South")


def test_a_token_reads_its_own_plant(ute: User, north: Plant) -> None:
    until = timezone.localdate() + timedelta(days=9)
    first = Plant.objects.get(name="Main works")
    for plant, name in ((first, "Ada Krol"), (north, "Bo Lind")):
        with within(of_plant(plant.pk)):
            person(name)
    with within(of_plant(north.pk)):
        _, secret = make(fresh("ute", north.pk), "Cell 3", ["read:people"], until)
        assert SystemToken.objects.count() == 1
    with within(of_plant(first.pk)):
        assert not SystemToken.objects.exists()
    _, whole = make(fresh("coordinator"), "Group", ["read:people"], until)
    read = {}
    for name, token in (("one", secret), ("all", whole), ("none", "wreg_wrong")):
        read[name] = Client().get("/api/v1/people", headers={"Authorization": f"Bearer {token}"}).content.decode()
    assert ("Ada Krol" in read["one"], "Bo Lind" in read["one"]) == (False, True)
    assert ("Ada Krol" in read["all"], "Bo Lind" in read["all"]) == (True, True)
    assert "Ada" not in read["none"] and "Bo" not in read["none"]


def test_work_sees_what_whoever_asked_sees_there_now(ute: User, north: Plant) -> None:
    work = Work(asked_by=fresh("ute"), plant_id=north.pk)
    assert reach_of(work) == of_plant(north.pk)
    PlantRole.objects.filter(user=ute, plant=north).delete()
    with pytest.raises(PermissionDenied):
        reach_of(Work(asked_by=fresh("ute"), plant_id=north.pk))
    first = Plant.objects.get(name="Main works")
    assert reach_of(Work(asked_by=fresh("ute"), plant_id=None)) == of_plant(first.pk)  # asked before there were two


def test_a_file_that_is_made_while_it_is_sent_stays_within(north: Plant, client_of: As) -> None:
    first = Plant.objects.get(name="Main works")
    for plant, name in ((first, "Ada Krol"), (north, "Bo Lind")):
        with within(of_plant(plant.pk)):
            person(name)
    answer = client_of("qa").get("/people/?export=csv")
    assert answer.streaming
    with within(NOTHING):
        body = b"".join(answer.streaming_content).decode()
    assert "Ada Krol" in body and "Bo Lind" not in body
    assert current() == Reach(None)


def test_take_second_factor(people: dict[str, Any]) -> None:
    from register.models import SecondFactor

    with pytest.raises(CommandError, match="no second factor"):
        call_command("take_second_factor", "coordinator")
    SecondFactor.objects.create(user=people["coordinator"], secret="GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ")
    call_command("take_second_factor", "coordinator")
    assert not SecondFactor.objects.exists()
    assert AuditEntry.objects.get().act == "took away the second factor of"
    with pytest.raises(CommandError, match="no account"):
        call_command("take_second_factor", "nobody")


def test_what_one_request_learned_of_the_plant_is_not_kept_for_the_next(people: dict[str, Any]) -> None:
    """A register that was emptied and filled again has its plant under another key."""
    first = standing(people["qa"]).reach
    assert first.home == Plant.objects.get().pk
    assert standing(User.objects.get(pk=people["qa"].pk)).reach is not first


def test_what_is_ones_own_belongs_to_no_plant(north: Plant, client_of: As) -> None:
    """A second factor and the address of a calendar are an account's, wherever it works."""
    browser, user = client_of("second_coordinator"), fresh("second_coordinator")
    assert standing(user).reach.plants is not None
    for name in ("second:new_codes", "second:take_away"):
        assert browser.get(reverse(name)).status_code == 200
    feed = CalendarFeed.objects.create(token_sha256="0" * 64, owner=user)
    assert browser.post(reverse("qualifications:calendar_revoke", args=[feed.pk])).status_code == 302
    feed.refresh_from_db()
    assert feed.revoked_at is not None


GRADE = {"name": "Plate X700", "group": "3.1", "lines": "any: 700", "source": "data sheet 12", "why": "crane rails"}


@pytest.mark.parametrize("chosen", ["", "North works"])
def test_whoever_coordinates_the_whole_firm_states_and_withdraws_its_grades(
    north: Plant, client_of: As, chosen: str
) -> None:
    """Whichever plant is looked at: the grade belongs to none."""
    browser = client_of("coordinator")
    session = browser.session
    session["plant"] = north.pk if chosen else None
    session.save()
    assert browser.post(reverse("held:grade_new"), GRADE | SIGNED).status_code == 302
    page = reverse("held:grade_withdraw", args=[FirmGrade.objects.get().pk])
    assert browser.post(page, {"why": "the mill closed"} | SIGNED).status_code == 302
    assert FirmGrade.objects.filter(withdrawn=True).exists()
    assert "whoever coordinates all of it" not in browser.get(reverse("held:grades")).content.decode()


@pytest.mark.parametrize("name", ["second_coordinator", "ute"])
def test_a_coordinator_of_one_plant_changes_nothing_that_holds_at_the_others(
    north: Plant, ute: User, name: str
) -> None:
    """Readings, grades and ticks count for the whole firm: who sees one plant sees not what others lose by it."""
    browser, firm = Client(), Client()
    browser.force_login(User.objects.get(username=name))
    firm.force_login(User.objects.get(username="coordinator"))
    assert firm.post(reverse("held:grade_new"), GRADE | SIGNED).status_code == 302
    withdraw = reverse("held:grade_withdraw", args=[FirmGrade.objects.get().pk])
    reading = reverse("held:reading", args=["iso_9606_1_plate_branch"])
    for address, data in (
        (reading, {"option": "wide", "why": "as it is commonly read"}),
        (reverse("held:grade_new"), GRADE | SIGNED),
        (withdraw, {"why": "the mill closed"} | SIGNED),
        (reverse("held:check"), {"clause": "x", "agrees": "yes"}),
    ):
        assert browser.post(address, data).status_code == 403, address
    assert browser.get(reading).status_code == 403
    assert FirmGrade.objects.count() == 1
    assert not FirmReading.objects.exists()
    assert reach_with(fresh(name), Capability.SET_READINGS) == NOTHING
    for page in ("held:readings", "held:grades", "held:clauses"):
        shown = " ".join(browser.get(reverse(page)).content.decode().split())
        assert "This counts for the whole firm; whoever coordinates all of it sets it: Coordinator." in shown, page
        assert "Set the reading<" not in shown
        assert withdraw not in shown
    assert reading in firm.get(reverse("held:readings")).content.decode()


def test_in_a_register_of_one_plant_its_coordinator_sets_readings(people: dict[str, Any]) -> None:
    PlantRole.objects.create(user=people["no_role"], plant=Plant.objects.get(), role="coordinator")
    assert can(fresh("no_role"), Capability.SET_READINGS)
    assert can(fresh("coordinator"), Capability.SET_READINGS)
    assert not can(fresh("qa"), Capability.SET_READINGS)
