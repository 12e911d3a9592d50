"""A token for one plant reads nothing of the other, by whichever call, and one made before the second plant neither."""

from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command
from django.db import IntegrityError, models, transaction
from django.test import Client

from register.models import Plant, PlantRole, SystemToken
from register.plants.reach import of_plant, within
from register.plants.rows import plant_rows
from register.systems.scopes import Scope
from tests.joints.api.conftest import sending, token_of
from tests.joints.api.test_access import CALLS, KEYS
from tests.qualifications.make import certificate, person
from tests.register.test_plants import CANARY, FROZEN
from tests.url_samples import samples
from wps.models import IssuedSheet

GETS = [path for path, method, _ in CALLS if method == "get"]


@pytest.fixture
def north(people: dict[str, Any]) -> Plant:
    return Plant.objects.create(name="North works")


def fill(plant: Plant, *names: str) -> dict[str, int]:
    """The keys of what these samples make at a plant; every text there has the canary in it afterwards.

    A sample that an earlier one has made already is left out.
    """
    texts, keys = (models.CharField, models.TextField), {}
    with within(of_plant(plant.pk)):
        for name in names:
            with suppress(IntegrityError), transaction.atomic():
                keys[name] = samples()[name]()["pk"]
        for model in plant_rows():
            for row in model._default_manager.all() if model._meta.label not in FROZEN else ():
                marked = {
                    f.name: f"{CANARY}{row.pk}"
                    for f in model._meta.concrete_fields
                    if isinstance(f, texts) and not f.choices and f.max_length != 64 and (f.max_length or 99) >= 40
                    and f.name not in {"code", "order_key"}
                }  # fmt: skip
                if marked:
                    model._default_manager.filter(pk=row.pk).update(**marked)
    return keys


def addresses(plant: Plant) -> Iterator[tuple[str, str]]:
    """Every call that reads, and its address; what it names made at the plant for as long as it is asked."""
    for path in GETS:
        name = KEYS.get(path.split("/")[3]) if "{key}" in path else None
        with transaction.atomic():
            keys = fill(plant, *([name] if name else KEYS.values()))
            sheet = IssuedSheet.everything.first()
            url = path.replace("{key}", str(keys.get(name, 0))).replace("{check_code}", "ABCDE-FGHIJ")
            yield path, url.replace("{sha256}", sheet.sha256 if sheet else "0" * 64)
            transaction.set_rollback(True)


def token_at(plant: Plant) -> Client:
    by = User.objects.create_user(f"keeper_{plant.pk}")
    PlantRole.objects.create(user=by, plant=plant, role="coordinator")
    with within(of_plant(plant.pk)):
        return sending(token_of(by, f"Cell of {plant.pk}", list(Scope)))


def test_no_call_gives_anything_of_the_other_plant(north: Plant) -> None:
    """By key 404, in lists not there; the same calls with a token of that plant hold it, so that this can fail."""
    south, there, found = token_at(Plant.objects.order_by("pk")[0]), token_at(north), set()
    for path, url in addresses(north):
        for more in ("", "?day=2030-01-01&limit=200"):
            answer = south.get(url + more)
            assert CANARY not in answer.content.decode(), path
            assert answer.status_code == (404 if "{" in path else 200), (path, answer.content)
        found |= {path} if CANARY in there.get(url).content.decode() else set()
    assert len(found) >= 10, sorted(set(GETS) - found)
    assert "/api/v1/people" in found and "/api/v1/joints/{key}/coverage" in found


def test_what_is_sent_names_nothing_of_the_other_plant(north: Plant) -> None:
    """A job, a workstation and a person of the other plant are as unknown as ones that were never on file."""
    with within(of_plant(north.pk)):
        samples()["joints:job"]()
        samples()["joints:workstation"]()
        ada = certificate(person(f"Ada {CANARY}")).person
        job, station = (samples_of(name) for name in ("Job", "Workstation"))
    south = token_at(Plant.objects.order_by("pk")[0])

    def sent(url: str, body: dict[str, Any]) -> Any:
        return south.post(url, body, content_type="application/json")

    for body in ({"job": job.number, "joint": {}}, {"joint": {"final_workstation": station.name}}):
        assert sent("/api/v1/coverage", body).status_code == 422, body
    weld = {"moment": date(2026, 3, 1).isoformat(), "person": ada.name, "process": "135", "mechanisation": "manual"}
    assert sent("/api/v1/weld-log", {"entries": [weld]}).status_code == 422


def samples_of(name: str) -> Any:
    model = next(model for model in plant_rows() if model.__name__ == name)
    return model._default_manager.first()


def test_a_token_from_before_the_second_plant_stays_with_the_first(people: dict[str, Any]) -> None:
    """With the second plant what everybody could do becomes what they can do at the first; tokens are no exception."""
    client = sending(token_of(people["coordinator"], "ERP", list(Scope)))
    call_command("open_plant", "North works", "--first", "Main works", "--group", "coordinator")
    first, north = Plant.objects.order_by("pk")
    assert SystemToken.everything.get().plant_id == first.pk
    for path, url in addresses(north):
        assert CANARY not in client.get(url).content.decode(), path
