"""Pages of jobs, assemblies, joints, workstations, the question page and the first page."""

import csv
import io
from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from joints import home
from joints.choices import choices
from joints.home import first_steps
from joints.models import Assembly, Job, Joint, Workstation
from joints.views.joints import _size
from qualifications.models import Person
from tests.joints.makers import ON, make_job, make_joint, make_station
from tests.wps.iso import iso_draft, iso_record
from wps.models import Procedure, ProcedureRevision, Status

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client_of):
    """The coordinator's browser."""
    return client_of("coordinator")


def text(response) -> str:
    return " ".join(response.content.decode().split())


def test_an_empty_register_shows_the_way(page) -> None:
    found = text(page.get("/"))
    assert "The way to the first answer" in found
    assert "Enter a test record of a procedure" in found


def test_a_step_is_done_when_it_is_done_whole(people) -> None:
    """A draft is no approved procedure, a name no certificate."""
    draft = iso_draft(people["coordinator"], [iso_record()])
    Person.objects.create(name="Anna Brandt", identification="AB")
    done = {step.words: step.done for step in first_steps(people["coordinator"])}
    assert [words.split()[0] for words, is_done in done.items() if is_done] == ["Enter", "Make"]
    ProcedureRevision.objects.filter(pk=draft.pk).update(status=Status.CHECKED)
    assert not first_steps(people["coordinator"])[2].done


@pytest.mark.parametrize("name", ["job_list", "joint_list", "workstation_list"])
def test_empty_lists_teach(page, name: str) -> None:
    assert "on file yet." in text(page.get(reverse(f"joints:{name}")))


def test_the_first_page_names_running_jobs_only(page) -> None:
    make_joint(make_job())
    make_joint(make_job(number="over", ends_on=date(2026, 11, 24), starts_on=date(2026, 1, 1)), mark="X")
    found = text(page.get("/", {"on": "2026-11-25"}))
    assert "Job 24-031" in found
    assert "Job over" not in found
    assert "Job over" in text(page.get("/", {"on": "2026-11-24"}))


def test_the_counts_of_a_job_come_alone(page) -> None:
    joint = make_joint()
    found = text(page.get(reverse("joints:job_counts", args=[joint.assembly.job_id])))
    assert found.startswith("1 of 1 joint is not covered: 1 outside.")
    assert "<html" not in found


def test_a_joint_says_why_not_first(page) -> None:
    found = text(page.get(make_joint().get_absolute_url()))
    assert "no procedure to ISO 15614-1:2017 approved on" in found
    assert "a = 5 mm (z = 7.1 mm)" in found


def test_an_assembly_answers_joint_by_joint(page) -> None:
    joint = make_joint()
    make_joint(number="2")
    found = text(page.get(joint.assembly.get_absolute_url()))
    assert "0 of 2 joints are covered" in found
    assert found.count("no procedure to ISO 15614-1:2017 approved on") == 4


def test_a_job_counts_by_assembly_and_reason(page) -> None:
    joint = make_joint()
    make_joint(mark="B2")
    found = text(page.get(joint.assembly.job.get_absolute_url()))
    assert "0 of 2 joints are covered" in found
    assert "No procedure: none approved for the phase (2 joints)" in found
    reasons = text(page.get(reverse("joints:job_coverage", args=[joint.assembly.job_id])))
    assert "2 joints" in reasons
    assert "B1/1" in reasons and "B2/1" in reasons


def test_every_answer_as_a_file(page) -> None:
    joint = make_joint(number="=1+1")
    url = reverse("joints:job_coverage", args=[joint.assembly.job_id])
    rows = list(csv.reader(io.StringIO(b"".join(page.get(url, {"export": "csv"})).decode("utf-8-sig"))))
    assert rows[0][:3] == ["Assembly", "Joint", "Answer"]
    assert rows[1][:3] == ["B1", "'=1+1", "outside"]
    assert page.get(url, {"export": "xlsx"}).content.startswith(b"PK")
    assert page.get(url, {"export": "pdf"}).status_code == 400


def joint_form(**changes: str) -> dict[str, str]:
    return {
        "number": "7",
        "weld_type": "fillet",
        "grade_1": "S355J2",
        "grade_2": "S355J2",
        "t1_mm": "12",
        "t2_mm": "20",
        "throat_mm": "5",
        "final_process": "135",
        "tack_process": "135",
    } | changes


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"t1_mm": "-1"}, "Must be more than 0; leave it empty"),
        ({"t1_mm": "0"}, "Must be more than 0; leave it empty"),
        ({"grade_1": "S335J2"}, "nearest: S355J2"),
        ({"final_process": "999"}, "not a known process"),
        ({"leg_mm": "5"}, "Keep one of the two"),
        ({"number": "1"}, "has a joint 1 already"),
        ({"number": ""}, "Missing; enter it."),
    ],
)
def test_the_form_of_a_joint_says_what_would_be_right(page, changes: dict[str, str], says: str) -> None:
    assembly = make_joint().assembly
    response = page.post(reverse("joints:joint_new", args=[assembly.pk]), joint_form(**changes))
    assert response.status_code == 422
    assert says in text(response)
    assert Joint.objects.count() == 1


def test_a_joint_is_entered_changed_and_removed(page) -> None:
    assembly = make_joint().assembly
    page.post(reverse("joints:joint_new", args=[assembly.pk]), joint_form(final_process="141 / 135"))
    joint = Joint.objects.get(number="7")
    assert joint.final_process == "141+135"
    seen = joint.changed_at.isoformat()
    page.post(reverse("joints:joint_edit", args=[joint.pk]), joint_form(throat_mm="6", seen_version=seen))
    joint.refresh_from_db()
    assert joint.throat_mm == 6
    assert "changed fillet throat a [mm] from “5.000” to “6.000”" in text(page.get(joint.get_absolute_url()))
    assert "leaves assembly B1" in text(page.get(reverse("joints:joint_remove", args=[joint.pk])))
    page.post(reverse("joints:joint_remove", args=[joint.pk]))
    assert not Joint.objects.filter(pk=joint.pk).exists()
    assert Joint.history.filter(id=joint.pk, history_type="-").count() == 1


def test_two_who_change_the_same_joint_both_see_it(page) -> None:
    joint = make_joint()
    seen = joint.changed_at.isoformat()
    url = reverse("joints:joint_edit", args=[joint.pk])
    assert page.post(url, joint_form(number="1", throat_mm="6", seen_version=seen)).status_code == 302
    second = page.post(url, joint_form(number="1", throat_mm="7", seen_version=seen))
    assert second.status_code == 409
    joint.refresh_from_db()
    assert joint.throat_mm == 6


def job_form(**changes: str) -> dict[str, str]:
    return {"number": "N", "title": "Hall", "procedure_code": "ISO 15614-1:2017"} | changes


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"application_standard": "EN 1090-2:2018"}, "cannot be asked without an execution class"),
        ({"impact_required": "on"}, "State the temperature"),
        ({"procedure_code": "ISO 99999:1900"}, "does not hold"),
        ({"starts_on": "2026-02-01", "ends_on": "2026-01-01"}, "ends before it starts; enter 2026-02-01 or later."),
        ({"level": "7"}, "has levels 1 and 2 only"),
    ],
)
def test_the_form_of_a_job_says_what_would_be_right(page, changes: dict[str, str], says: str) -> None:
    response = page.post(reverse("joints:job_new"), job_form(**changes))
    assert response.status_code == 422
    assert says in text(response)


def test_a_job_takes_the_code_by_any_of_its_names(page) -> None:
    page.post(reverse("joints:job_new"), job_form(procedure_code="en iso 15614-1:2017"))
    assert Job.objects.get().procedure_code == "ISO 15614-1:2017"


def test_one_mark_per_job(page) -> None:
    joint = make_joint()
    url = reverse("joints:assembly_new", args=[joint.assembly.job_id])
    assert "has an assembly B1 already" in text(page.post(url, {"mark": "B1"}))
    page.post(url, {"mark": "B2"})
    assert Assembly.objects.get(mark="B2").job == joint.assembly.job


def test_a_robot_welds_automatically(page) -> None:
    data = {"name": "Cell", "kind": "robotic_cell", "processes": ["135"], "mechanisation": "manual"}
    response = page.post(reverse("joints:workstation_new"), data)
    assert "A robot welds automatically" in text(response)
    page.post(reverse("joints:workstation_new"), data | {"mechanisation": "automatic"})
    assert Workstation.objects.get().processes == ["135"]
    half = page.post(reverse("joints:workstation_new"), {"name": "C", "kind": "manual_bay", "rotator_from_deg": "0"})
    assert "both ends of the rotator" in text(half) and list(half.context["form"].errors) == ["rotator_to_deg"]


def test_asking_needs_no_joint_on_file(page) -> None:
    assert "the answer appears here" in text(page.get("/ask/"))
    asked = {"weld_type": "fillet", "t1_mm": "12", "position": "PB"}
    whole = text(page.get("/ask/", asked))
    assert "no procedure to ISO 15614-1:2017 approved on" in whole and "<html" in whole
    part = text(page.get("/ask/", asked, headers={"HX-Request": "true"}))
    assert "no procedure to ISO 15614-1:2017 approved on" in part and "<html" not in part
    bad = text(page.get("/ask/", asked | {"grade_1": "S335J2"}, headers={"HX-Request": "true"}))
    assert "No answer yet" in bad and "nearest: S355J2" in bad
    assert not Joint.objects.exists()


QUERIES = {"joint_list": 6, "job_list": 6, "workstation_list": 5}


@pytest.mark.parametrize("name", QUERIES)
def test_lists_ask_as_often_whatever_their_length(
    page, name: str, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    job = make_job()
    for number in range(30):
        make_joint(job, mark=f"B{number}", number=str(number))
        make_station(name=f"Bay {number + 2}")
        make_job(number=f"N{number}")
    page.get("/")
    with django_assert_max_num_queries(QUERIES[name] + 3):
        page.get(reverse(f"joints:{name}"))


def test_coverage_asks_as_often_for_one_joint_as_for_thirty(page) -> None:
    joint = make_joint()
    counted = []
    for extra in (0, 30):
        for number in range(extra):
            make_joint(joint.assembly.job, mark=f"C{number}")
        with CaptureQueriesContext(connection) as queries:
            page.get(joint.assembly.job.get_absolute_url())
        counted.append(len(queries))
    assert counted[0] == counted[1]


def test_the_day_in_one_sentence() -> None:
    assert home.summary(0, 0, []) == "Nothing needs a decision."
    assert home.summary(1, 2, []) == "1 job is being welded; 2 procedures wait for you."
    assert home.summary(0, 0, [], empty=True) == "The register is empty: begin with what was tested."
    assert home.summary(1, 0, [], empty=True) == "1 job is being welded."
    assert home.summary(0, 0, [], begun=True) == "The register is begun: the next step is below."
    assert home.summary(0, 1, [], begun=True) == "1 procedure waits for you."


def test_the_way_to_the_first_answer_leads_only_whoever_may_go_it(client_of) -> None:
    mine, looks = text(client_of("coordinator").get("/")), text(client_of("auditor").get("/"))
    assert 'href="/procedures/records/new/"' in mine and "a second approver" in mine
    assert "Enter a test record" in looks and "records/new/" not in looks and "a second approver" not in looks


@pytest.mark.parametrize("role", ["qa", "supervisor", "auditor"])
def test_who_may_only_look_sees_no_way_to_change(client_of, role: str) -> None:
    joint = make_joint()
    for url in (joint.get_absolute_url(), joint.assembly.get_absolute_url(), joint.assembly.job.get_absolute_url()):
        found = text(client_of(role).get(url))
        assert "Change</a>" not in found and "Take in a list" not in found and "Add a joint" not in found


def test_a_date_that_is_no_date_is_refused(page) -> None:
    assert page.get("/jobs/", {"on": "2026-02-30"}).status_code == 400
    assert date(2026, 11, 25) == ON


def test_a_joint_is_named_with_its_assembly(page) -> None:
    joint = make_joint()
    assert f"<h1>Joint {joint.number} of {joint.assembly.mark}</h1>" in text(page.get(joint.get_absolute_url()))


def test_own_drafts_stand_apart_from_those_of_others(client_of, people) -> None:
    Procedure.objects.create(number="WPS 901", title="Mine").revisions.create(
        letter="A", code="ISO 15614-1:2017", author=people["coordinator"], author_name="me"
    )
    Procedure.objects.create(number="WPS 902", title="Theirs").revisions.create(
        letter="A", code="ISO 15614-1:2017", author=people["qa"], author_name="Vera"
    )
    found = text(client_of("coordinator").get("/"))
    theirs, own = found.index("WPS 902"), found.index("WPS 901")
    assert found.index("wait for you</h2>") < theirs < found.index("Procedures that you wrote") < own
    assert "1 procedure waits for you" in found


def test_sizes_stand_in_the_units_of_whoever_reads(page) -> None:
    """12 mm is 0.472 in, 9 t are 19,840 lb rounded down (inch 25.4 mm, pound 0.45359237 kg, exact)."""
    joint = make_joint()
    joint.assembly.job.save()
    station = joint.final_workstation
    Workstation.objects.filter(pk=station.pk).update(max_length_mm=12000, max_mass_kg=9000)
    places = [joint.assembly.get_absolute_url(), reverse("joints:joint_list"), station.get_absolute_url()]
    si = [text(page.get(url)) for url in places]
    us = [text(page.get(url, {"units": "us"})) for url in places]
    assert "Parts [mm]" in si[0] and "Parts [mm]" in si[1] and "12 m, 9 t" in si[2]
    assert "Parts [in]" in us[0] and "0.472 / 0.787" in us[1] and "39.3 ft, 19,840 lb" in us[2]
    assert " mm" not in us[0].replace(" mm/", "")


def test_a_form_shows_a_size_without_idle_noughts(page) -> None:
    joint = make_joint()
    assert f'value="{joint.t1_mm:g}"'.encode() in page.get(reverse("joints:joint_edit", args=[joint.pk])).content


def test_no_choice_says_the_same_twice() -> None:
    said = dict(choices("weld_type")) | dict(choices("mechanisation"))
    assert said["fillet"] == "fillet weld"
    assert said["butt_cjp"] == "butt weld, full penetration · CJP"
    assert dict(choices("process"))["135"] == "135 · GMAW (MAG, solid wire)"
    assert "manual · manual" not in " ".join(said.values())


@pytest.mark.django_db
def test_a_full_penetration_weld_needs_no_size() -> None:
    assert _size(make_joint(weld_type="butt_cjp", throat_mm=None)) == "through the thickness"
    assert _size(make_joint(number="2", weld_type="butt_pjp", throat_mm=None)) == ""
