"""Two plants of one firm: whoever works at one reads nothing of the other, by whichever address."""

from collections.abc import Iterator
from datetime import date
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from django.apps import apps
from django.contrib.auth.models import User
from django.db import IntegrityError, models, transaction
from django.test import Client
from django.urls import reverse

from qualifications.lending.models import Loan
from qualifications.models import Person
from register.audit import record_act
from register.base.lists import _of_several_plants
from register.models import Plant, PlantRole
from register.plants.reach import Reach, of_plant, within
from register.plants.rows import plant_rows
from register.plants.standing import KNOWN
from register.roles import Role
from tests.register.test_access import ALL, PUBLIC
from tests.url_samples import samples

CANARY = "Qanary77"
OF_NO_PLANT = {
    # Tables of the codes: the same for every plant.
    name
    for name in (address.name for address in ALL if address.arguments)
    if name.startswith(("held:", "calc:"))
}
OF_THE_FIRM = {"evidence:file", "users:change", "users:password", "users:factor", "qualifications:calendar_revoke"}
"""Their samples are accounts with roles for the whole firm, and a scan of a thing of no plant."""
FIRM_WIDE = {
    "register.AccountState",
    "register.AuditHead", "register.VersionSeal", "register.ClauseCheck", "register.FirmGrade", "register.FirmReading",
    "register.PasswordAttempt", "register.Plant", "register.PlantRole", "qualifications.CalendarFeed",
    "register.OwnLanguage", "register.OwnUnits", "register.SecondFactor", "register.RecoveryCode",
}  # fmt: skip
SCOPED_BY_HAND = {
    "register.AuditEntry",
    "register.EvidenceFile",
    "register.PrintedPaper",
    "register.SystemToken",
    "register.Work",
}
"""Models with a rule of their own (in_reach)."""


@pytest.fixture
def north(people: dict[str, Any]) -> Plant:
    """A second plant; each role has somebody there, and somebody at the first."""
    first = Plant.objects.get()
    made = Plant.objects.create(name="North works")
    for plant, prefix in ((first, "south"), (made, "north")):
        for role in Role:
            user = User.objects.create_user(
                f"{prefix}_{role.value}", last_name=f"{CANARY if plant == made else 'S'} {role}"
            )
            PlantRole.objects.create(user=user, plant=plant, role=role.value)
    return made


def signed_in(name: str) -> Client:
    client = Client()
    client.force_login(User.objects.get(username=name))
    return client


def test_every_model_belongs_to_a_plant_or_to_the_firm() -> None:
    """A new model is InPlant or PartOf (register.plants.rows), or stands in FIRM_WIDE with a reason."""
    own = {"register", "wps", "qualifications", "joints"}
    bound = {model._meta.label for model in plant_rows()} | SCOPED_BY_HAND
    every = {
        model._meta.label
        for model in apps.get_models()
        if model._meta.app_label in own and not model.__name__.startswith("Historical")
    }
    assert every - bound == FIRM_WIDE


def test_the_known_roles_are_those_of_the_shop() -> None:
    assert set(KNOWN) == {role.value for role in Role}


def _made_at(plant: Plant) -> dict[str, str]:
    """An address for each name with arguments, of things made at a plant; one where a thing of that name is there."""
    found = {}
    with within(of_plant(plant.pk)):
        for name, make in samples().items():
            try:
                with transaction.atomic():
                    found[name] = reverse(name, kwargs=make())
            except IntegrityError:
                continue
    return found


def _one_by_one(plant: Plant) -> Iterator[tuple[str, str]]:
    """Every name with arguments and its address, each thing made at the plant and taken away again."""
    for name, make in samples().items():
        if name in OF_NO_PLANT | PUBLIC:
            continue
        with transaction.atomic():
            with within(of_plant(plant.pk)):
                url = reverse(name, kwargs=make())
            yield name, url
            transaction.set_rollback(True)


@pytest.mark.parametrize("role", [Role.COORDINATOR, Role.SUPERVISOR])
def test_no_address_of_the_other_plant_opens(north: Plant, role: Role) -> None:
    """404 for whatever lies at the other plant, asked or acted on; the people there open it."""
    client, here, wrong, closed = signed_in(f"south_{role}"), signed_in("north_coordinator"), [], []
    for name, url in _one_by_one(north):
        for method in ("get", "post"):
            status = getattr(client, method)(url).status_code
            # 405: an address that takes no such request, whatever it names; 403: whoever may do it nowhere.
            if status not in {404, 405, 403} or (status == 403 and role is Role.COORDINATOR):
                wrong.append((name, method, status))
        if role is Role.COORDINATOR and (status := here.get(url).status_code) not in {200, 302, 405}:
            closed.append((name, status))
    assert not wrong
    assert {name for name, status in closed} <= OF_THE_FIRM, closed


def _mark_all(plant: Plant) -> None:
    """Write the canary wherever a row of the plant may still be written, and an act about each."""
    texts = (models.CharField, models.TextField)
    user = User.objects.get(username="north_coordinator")
    with within(of_plant(plant.pk)):
        for model in plant_rows():
            fields = [
                f.name
                for f in model._meta.concrete_fields
                if isinstance(f, texts) and not f.choices and f.max_length != 64 and (f.max_length or 99) >= 40
            ]
            for row in model._default_manager.all():
                marked = {name: f"{CANARY}{row.pk}" for name in fields if name not in {"code", "order_key"}}
                if marked and model._meta.label not in FROZEN:
                    model._default_manager.filter(pk=row.pk).update(**marked)
                record_act(user, "touched", model._default_manager.get(pk=row.pk), note=CANARY)


FROZEN = {
    "qualifications.CertificateEvent", "wps.IssuedSheet", "wps.ProcedureRevision", "wps.ProcedureRun",
    "joints.WeldDataChange",
}  # fmt: skip
"""Rows that the database refuses to change."""


@pytest.fixture
def two_plants(north: Plant) -> Iterator[dict[str, str]]:
    _made_at(north)
    _mark_all(north)
    first = Plant.objects.order_by("pk")[0]
    yield {n: u for n, u in _made_at(first).items() if n not in PUBLIC}


def test_no_page_list_or_file_holds_anything_of_the_other_plant(two_plants: dict[str, str]) -> None:
    """Asked by the coordinator, who may open everything of the own plant."""
    client, leaks, read = signed_in("south_coordinator"), [], 0
    plain = [reverse(a.name) for a in ALL if not a.arguments and a.name not in PUBLIC | {"logout"}]
    asked = [*plain, *(f"{url}?export={kind}" for url in plain for kind in ("csv", "xlsx")), *two_plants.values()]
    for url in asked:
        response = client.get(url)
        body = b"".join(response.streaming_content) if response.streaming else response.content
        read += response.status_code == 200
        for part in _unpacked(body):
            if (at := part.find(CANARY.encode())) >= 0:
                leaks.append((url, part[max(0, at - 80) : at + 80]))
    assert not leaks
    assert read > 60


def _unpacked(body: bytes) -> list[bytes]:
    """The bytes of an answer, and those of the parts of a workbook."""
    if not body.startswith(b"PK"):
        return [body]
    with ZipFile(BytesIO(body)) as parts:
        return [parts.read(name) for name in parts.namelist()]


def test_the_canary_is_there_to_be_found(two_plants: dict[str, str]) -> None:
    """The same pages, asked at the other plant and by the group, hold it: the test above can fail."""
    for name in ("north_coordinator", "coordinator"):
        client = signed_in(name)
        for place in ("qualifications:person_list", "joints:job_list", "wps:procedure_list", "trail:list"):
            assert CANARY in client.get(reverse(place)).content.decode(), (name, place)


def test_a_list_names_the_plant_where_rows_of_another_are_in_sight(north: Plant) -> None:
    """A column that says the same in every row takes room from the others; a file keeps its columns."""
    with within(of_plant(north.pk)):
        here = Person.objects.create(name="Edda Borg", identification="N1")
        assert not _of_several_plants(Person.objects.all()) and _of_several_plants(Person.objects.all(), always=True)
    with within(Reach(None)):
        assert _of_several_plants(Person.objects.all()) and not _of_several_plants(User.objects.all(), always=True)
    south = Plant.objects.exclude(pk=north.pk).get()
    with within(of_plant(south.pk)):
        assert not _of_several_plants(Person.objects.all())
    with within(Reach(None)):
        Loan.objects.create(person=here, plant=south, from_on=date(2026, 1, 5), by_name="x")
    with within(of_plant(south.pk)):
        assert [one.name for one in Person.objects.all()] == ["Edda Borg"] and _of_several_plants(Person.objects.all())
