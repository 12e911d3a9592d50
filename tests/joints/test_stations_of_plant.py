"""A weld is made at a workstation of its job's own works, whoever states it and however many works are in his sight."""

from datetime import date
from io import BytesIO
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from codes.units import System
from joints.api.jobs import plain
from joints.day import Day
from joints.models import ImportBatch, Job, Joint, Workstation
from joints.papers.stated import joint_words
from joints.stations import at_its_works, station_of
from register.models import Plant
from register.plants.reach import of_plant, whole, within
from tests.joints.makers import make_joint, make_station

pytestmark = pytest.mark.django_db
NAMES = ("final_workstation", "tack_workstation")


@pytest.fixture
def joint(people: dict[str, Any]) -> Joint:
    """A joint of the first works, whose only bay has the name of the bay of the second."""
    first, second = Plant.objects.get(), Plant.objects.create(name="North works")
    with within(of_plant(second.pk)):
        make_station(unit="of the north")
    with within(of_plant(first.pk)):
        return make_joint()


@pytest.fixture
def both(joint: Joint) -> Client:
    """Somebody who sees both works."""
    client = Client()
    client.force_login(User.objects.get(username="coordinator"))
    return client


def bays(where: str) -> Workstation:
    with whole():
        return Workstation.objects.get(unit=where)


def offered(client: Client, url: str, name: str) -> list[str]:
    field = client.get(url).context["form"].fields[name]
    return [str(said) for value, said in field.choices if str(value)]


@pytest.mark.parametrize("name", NAMES)
def test_a_form_of_a_joint_offers_those_of_its_works(both: Client, joint: Joint, name: str) -> None:
    for url in (
        reverse("joints:joint_edit", args=[joint.pk]),
        reverse("joints:joint_new", args=[joint.assembly_id]),
        reverse("joints:import_upload", args=[joint.assembly.job_id]),
    ):
        assert len(offered(both, url, name)) == 1, url


@pytest.mark.parametrize("name", NAMES)
def test_where_no_job_is_named_each_says_its_works(both: Client, joint: Joint, name: str) -> None:
    for url in (reverse("joints:ask"), reverse("joints:joint_list")):
        answer = both.get(url).content.decode()
        assert "Bay 1, North works" in answer, url
        assert answer.count("Bay 1, ") >= 4, url


def test_a_question_for_a_job_refuses_another_works_station(both: Client, joint: Joint) -> None:
    north = bays("of the north")
    asked = {"job": joint.assembly.job_id, "weld_type": "fillet", "final_workstation": north.pk}
    answer = both.get(reverse("joints:ask"), asked).content.decode()
    assert "Bay 1 belongs to North works" in answer
    own = asked | {"final_workstation": bays("").pk}
    assert "belongs to North works" not in both.get(reverse("joints:ask"), own).content.decode()


def test_a_list_takes_the_bay_of_its_own_works(both: Client, joint: Joint) -> None:
    file = BytesIO(b"Assembly;Joint number;Weld type;Thickness 1 [mm];Workstation\nB1;2;fillet;12;Bay 1\n")
    file.name = "welds.csv"
    url = reverse("joints:import_upload", args=[joint.assembly.job_id])
    answer = both.post(url, {"file": file, "final_workstation": "", "tack_workstation": ""})
    assert answer.status_code == 302, answer.context["form"].errors
    both.post(reverse("joints:import_confirm", args=[ImportBatch.objects.get().pk]))
    taken = Joint.objects.get(number="2")
    with whole():
        assert taken.final_workstation_id == bays("").pk


def test_one_stated_past_the_forms_counts_as_not_stated(both: Client, joint: Joint) -> None:
    """As a row put in by hand: everybody gets an answer, and the same one."""
    Joint.objects.filter(pk=joint.pk).update(final_workstation=bays("of the north"))
    first = joint.assembly.job.plant_id
    for reach in (of_plant(first), None):
        with within(reach) if reach else whole():
            (found,) = Day(date(2026, 12, 1)).answers(Joint.objects.filter(pk=joint.pk))
            assert found.pk == joint.pk
    assert both.get(reverse("joints:assembly", args=[joint.assembly_id])).status_code == 200


@pytest.mark.parametrize("name", NAMES)
def test_its_own_page_and_paper_read_it_as_the_lists_do(both: Client, joint: Joint, name: str) -> None:
    """A bay of another works that runs another process would refuse the weld; it is not stated, whoever asks."""
    north = bays("of the north")
    with whole():
        Workstation.objects.filter(pk=north.pk).update(processes=["111"], name="North bay")
    day = Day(date(2026, 12, 1))
    Joint.objects.filter(pk=joint.pk).update(**{name: None})
    unstated = day.explain(Joint.objects.get(pk=joint.pk), joint.assembly.job)
    Joint.objects.filter(pk=joint.pk).update(**{name: north})
    with whole():
        found = Joint.objects.get(pk=joint.pk)
        (listed,) = day.answers(Joint.objects.filter(pk=joint.pk))
        explained = day.explain(found, found.assembly.job)
    assert (explained.outcome, explained.sentence) == (unstated.outcome, unstated.sentence)
    assert explained.reasons == listed.result.reasons
    assert station_of(found, name.partition("_")[0]) is None
    assert "North bay" not in both.get(joint.get_absolute_url()).content.decode()
    assert "North bay" not in joint_words(found, System.SI)
    assert plain(found)[name] == ""


def test_a_station_of_its_own_works_counts(joint: Joint) -> None:
    assert station_of(joint, "final") == bays("")
    assert at_its_works(bays("of the north"), Job()) == bays("of the north"), "a question without a job asks any bay"
    assert at_its_works(None, joint.assembly.job) is None
