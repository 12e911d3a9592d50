"""Coverage report and weld map on paper: their words, their data, their check code, and what scanning it says."""

import json
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from io import BytesIO
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.urls import reverse
from pypdf import PdfReader

from codes.clauses import Clause, Mark
from codes.units import System
from codes.verdict import Finding, Outcome
from joints.day import Day
from joints.models import Assembly, Job, Joint, JointGeometry
from joints.papers import coverage, weld_map
from joints.papers.coverage import listed
from joints.papers.map_drawing import Mapped, _sides
from joints.turning.placed import Placed
from register.audit import acts_on
from register.papers import printing, witness
from register.papers.codes import check_code, code_as_shown
from register.papers.models import PrintedPaper
from register.trail.verify import verify
from tests.conftest import dropped_triggers
from tests.joints.turning.geometry import beam

ON = date(2026, 3, 2)
pytestmark = pytest.mark.django_db


def words(data: bytes) -> str:
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages))


@pytest.fixture
def mapped() -> Assembly:
    """A beam of 6 m with four long fillets, the first of which starts at a known place."""
    made = beam()
    made.geometry.length_mm = 6000
    made.geometry.save()
    for joint in Joint.objects.filter(assembly=made).exclude(number="4"):
        joint.geometry.along_mm = 3000
        joint.geometry.save()
    return Assembly.objects.select_related("job", "geometry").get(pk=made.pk)


def test_numbers_as_people_write_them() -> None:
    assert (listed(("3",)), listed(("3", "4")), listed(("3", "4", "7"))) == ("3", "3 and 4", "3, 4 and 7")


def test_joints_that_state_the_same_are_one_group(mapped: Assembly) -> None:
    found = coverage.report(mapped, Day(ON))
    assert [group.numbers for group in found.groups] == [("1", "2", "3", "4")]
    assert found.groups[0].heading == "Joints 1, 2, 3 and 4"
    assert [phase.title for phase in found.groups[0].phases] == ["Final weld", "Tacks"]
    assert sum(found.counts.values()) == 4
    assert found.counts["covered"] == 0
    assert found.sentence == "0 of 4 joints are covered; 4 outside."


def test_days_have_one_form_in_the_findings_of_a_report() -> None:
    because = "no confirmation between 2026-04-21 and 2026-10-21"
    clause = Clause("ISO 14732:2013", "5.2", Mark.CONFIRMED)
    finding = Finding("valid", "Validity", Outcome.OUTSIDE, "2026-11-29", "not valid", clause, because)
    line = coverage._line(finding, System.SI)
    assert (line.wanted, line.because) == ("2026-11-29", "no confirmation between 2026-04-21 and 2026-10-21")


@pytest.mark.parametrize(
    ("wanted", "missing", "said"),
    [
        ("", "heat input not stated", ("not stated", "up to 0.742 kJ/mm")),
        ("0.951 kJ/mm", "heat measure not stated", ("0.951 kJ/mm", "up to 0.742 kJ/mm; heat measure not stated")),
        ("", "heat measure and heat input not stated",
         ("not stated", "up to 0.742 kJ/mm; heat measure and heat input not stated")),
        ("0.951 kJ/mm", "up to 0.742 kJ/mm", ("0.951 kJ/mm", "up to 0.742 kJ/mm")),
    ],
)  # fmt: skip
def test_the_range_stands_under_allowed_also_where_something_is_not_stated(
    wanted: str, missing: str, said: tuple[str, str]
) -> None:
    clause = Clause("ISO 15614-1:2017", "8.4.7", Mark.CONFIRMED)
    allowed = "up to 0.742 kJ/mm"
    finding = Finding("heat_input", "Heat input", Outcome.NOT_STATED, wanted, allowed, clause, missing=missing)
    line = coverage._line(finding, System.SI)
    assert (line.wanted, line.allowed) == said


def test_a_sentence_of_the_report_says_the_figures_of_the_table_below_it(mapped: Assembly, monkeypatch: Any) -> None:
    """To readers in US units as on the pages: rounded to the step of the unit, ends of ranges inwards (25.4 mm)."""
    said = "Outside: parent thickness 19 mm, WPS 2 allows 6 to 16 mm."
    monkeypatch.setattr("joints.answers.PhaseAnswer.sentence", property(lambda self: said))
    si, us = (coverage.report(mapped, Day(ON), system).groups[0].phases[0] for system in System)
    assert si.sentence == said
    assert us.sentence == "Outside: parent thickness 0.748 in, WPS 2 allows 0.237 to 0.629 in."


def get(client: Any, name: str, mapped: Assembly, **asked: str) -> Any:
    return client.get(reverse(f"joints:{name}", args=[mapped.pk]), {"on": ON.isoformat(), **asked})


def test_a_report_is_rendered_once_and_served_from_its_hash(mapped: Assembly, client_of: Any) -> None:
    first = get(client_of("coordinator"), "coverage_report", mapped)
    assert first.status_code == 200
    said = words(first.content)
    kept = PrintedPaper.objects.get()
    assert code_as_shown(kept.check_code) in said
    assert "0 of 4 joints are covered; 4 outside." in said
    assert "no procedure to ISO 15614-1:2017 approved on 2026-03-02 serves final welding" in said
    again = get(client_of("qa"), "coverage_report", mapped)
    assert again.content == first.content
    assert PrintedPaper.objects.count() == 1
    same = client_of("qa").get(again.wsgi_request.get_full_path(), headers={"If-None-Match": again.headers["ETag"]})
    assert same.status_code == 304


def test_an_auditor_gets_a_copy_that_nobody_answers_for_unless_it_was_printed(mapped: Assembly, client_of: Any) -> None:
    copy = get(client_of("auditor"), "coverage_report", mapped).content
    assert "Check code" not in words(copy)
    assert not PrintedPaper.objects.exists()
    issued = get(client_of("qa"), "coverage_report", mapped).content
    assert get(client_of("auditor"), "coverage_report", mapped).content == issued


def test_the_data_travels_inside_and_gives_the_check_code(mapped: Assembly, client_of: Any) -> None:
    data = get(client_of("qa"), "coverage_report", mapped, paper="letter", units="us").content
    reader = PdfReader(BytesIO(data))
    ((name, (inside,)),) = reader.attachments.items()
    stated = json.loads(inside)
    assert name.endswith(".json")
    kept = PrintedPaper.objects.get()
    assert stated["facts_sha256"] == kept.facts_sha256
    code = check_code({name: stated[name] for name in ("as_of", "content", "facts_sha256")})
    assert code == stated["check_code"] == kept.check_code
    assert tuple(map(round, reader.pages[0].mediabox[2:])) == (612, 792)
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.trailer["/Root"]["/Lang"] == "en"


def test_scanning_says_current_then_superseded_then_withdrawn(mapped: Assembly, client_of: Any, client: Any) -> None:
    get(client_of("qa"), "coverage_report", mapped)
    url = reverse("wps:sheet_status", args=[PrintedPaper.objects.get().check_code])
    page = client.get(url).content.decode()
    assert "Current" in page
    assert "Assembly B1, coverage" in page
    assert mapped.job.title not in page
    joint = mapped.joints.first()
    joint.throat_mm = (joint.throat_mm or 0) + 1
    joint.save()
    assert "Superseded" in client.get(url).content.decode()
    mapped.delete()
    assert "Withdrawn" in client.get(url).content.decode()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("title = 'x'", "no act in the trail printed it so"),
        ("\"on\" = '2026-03-03'", "no act in the trail printed it so"),
        ("subject_id = '999'", "no act in the trail printed it so"),
        ("made_at = '2020-01-01 00:00:00'", "another moment than it was printed"),
        ("pdf = CAST('x' AS {bytes})", "is not what was printed"),
        ("sha256 = '0'", "was printed, and is not on file so"),
        (None, "was printed, and is not on file so"),
    ],
)
def test_a_paper_changed_past_the_register_is_named(
    mapped: Assembly, client_of: Any, change: str | None, says: str
) -> None:
    get(client_of("qa"), "coverage_report", mapped)
    assert verify().whole
    bytes_as = "bytea" if connection.vendor == "postgresql" else "blob"
    statement = f"UPDATE register_printedpaper SET {change}" if change else "DELETE FROM register_printedpaper"
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute(statement.replace("{bytes}", bytes_as))
    assert says in " ".join(witness.unlike())
    assert not verify().whole


def test_the_same_paper_of_two_things_is_one_file_and_two_acts(mapped: Assembly, client_of: Any) -> None:
    """Two plants may number alike: whoever asks what was printed of a thing finds it in the trail."""
    twin = Assembly.objects.create(job=Job.objects.create(number="Twin"), mark="B1")
    client_of("qa")
    qa = User.objects.get(username="qa")
    drafts = [replace(coverage.draft(mapped, ON, System.SI), subject=one) for one in (mapped, twin)]
    for draft in (*drafts, *drafts):
        printing.printed(draft, printing.PaperChoice(), qa, "")
    assert PrintedPaper.objects.count() == 1
    for one in (mapped, twin):
        assert acts_on(one).filter(act__startswith=witness.PRINTED).count() == 1
    assert verify().whole


def test_a_map_shows_every_weld_whose_place_is_stated(mapped: Assembly, client_of: Any) -> None:
    found = weld_map.weld_map(mapped, ON, coverage.System.SI)
    assert found.sentence == "3 welds on the drawing; 1 in the list only: where it lies is not stated."
    assert sorted(re.findall(r">(\d)</text>", found.elevation)) == ["1", "2", "3"]
    assert [row.side for row in found.rows] == ["far", "far", "near", "near"]
    assert found.rows[0].position.startswith("P")
    said = words(get(client_of("auditor"), "weld_map", mapped).content)
    assert "not drawn" in said
    page = PdfReader(BytesIO(get(client_of("auditor"), "weld_map", mapped).content)).pages[0].mediabox
    assert page.width > page.height


def test_a_map_says_of_each_weld_the_way_up_and_what_lacks_a_procedure(mapped: Assembly, client_of: Any) -> None:
    """ISO 6947: PF is welded upwards; the number of AWS A3.0 alone leaves that open. "outside" is no procedure."""
    assert [weld_map._lies(placed_as(iso)) for iso in ("PF", "PG", "PB")] == ["PF · 3F up", "PG · 3F down", "PB · 3F"]
    assert weld_map._lies(placed_as("PF", "")) == "PF"
    said = words(get(client_of("auditor"), "weld_map", mapped, units="us").content)
    assert said.count("none: the weld is outside") == 4
    assert "Converted from SI by exact factors" in said
    assert "Converted" not in words(get(client_of("auditor"), "weld_map", mapped).content)


def placed_as(iso: str, aws: str = "3F") -> Placed:
    return Placed(iso, "V", aws, Decimal(90), None, ())


def test_a_phase_that_may_begin_a_side_names_its_joints(mapped: Assembly, client_of: Any) -> None:
    said = words(get(client_of("auditor"), "coverage_report", mapped).content)
    assert "Joints 1, 2, 3 and 4 " in said
    assert "Tacks, joints 1, 2, 3 and 4. " in said
    assert "Final weld. " in said


def test_balloons_stack_where_fewer_stand_already() -> None:
    """A stiffener: two welds of the web at half height, two of the lower flange; an end with one of each flange."""
    at = {"9": (2160, 0), "11": (2160, 0), "10": (2160, -176), "12": (2160, -176), "1": (0, 195), "2": (0, -195)}
    at |= {"3": (0, 0), "4": (0, 0)}
    above, below = _sides([Mapped(name, along, up, 0, 100, False) for name, (along, up) in at.items()])
    assert [weld.number for weld in above] == ["1", "3", "9", "11"]
    assert [weld.number for weld in below] == ["4", "2", "10", "12"]


def test_a_map_without_geometry_is_a_list_that_says_so(client_of: Any) -> None:
    made = beam()
    made.geometry.delete()
    found = weld_map.weld_map(Assembly.objects.get(pk=made.pk), ON, coverage.System.SI)
    assert (found.elevation, found.section) == ("", "")
    assert found.sentence == "4 welds, none drawn: the axis and the section of the assembly are not stated."
    JointGeometry.objects.filter(joint__assembly=made).delete()
    said = words(get(client_of("auditor"), "weld_map", made).content)
    assert "Along" not in said
    assert "near" not in said


@pytest.mark.parametrize(("asked", "why"), (({"paper": "a5"}, "paper: "), ({"units": "miles"}, "units: ")))
def test_what_is_not_printed_is_refused(mapped: Assembly, client_of: Any, asked: dict[str, str], why: str) -> None:
    answer = get(client_of("auditor"), "coverage_report", mapped, **asked)
    assert answer.status_code == 400
    assert why in answer.content.decode()
